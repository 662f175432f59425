"""report.json: its schema ships, it validates, and the same result gives the same bytes."""

import json

from jsonschema import Draft202012Validator

from spokenfor.models import Result
from spokenfor.reporting.json_form import report_json, report_schema, schema_from_models


def test_the_shipped_schema_is_the_one_the_models_make():
    # Mend with: python -c "from spokenfor.reporting.json_form import *; print(schema_from_models(),
    # end='')" > pipeline/spokenfor/reporting/report.schema.json
    assert report_schema() == json.loads(schema_from_models())


def test_a_report_validates_against_the_shipped_schema(result: Result):
    # JSON Schema 2020-12, by the reference implementation in Python.
    schema = report_schema()
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    report = json.loads(report_json(result))
    assert [error.message for error in validator.iter_errors(report)] == []
    del report["items"][0]["status"]
    assert [error.message for error in validator.iter_errors(report)] == [
        "'status' is a required property"
    ]


def test_the_report_holds_the_keys_other_programs_rely_on(result: Result):
    report = json.loads(report_json(result))
    assert report["schema"] == "spokenfor/report/1"
    # docs: the table of report.json's keys.
    assert set(report) >= {
        "inspection",
        "recordings",
        "items",
        "findings",
        "flagged_words",
        "zones",
        "repairs",
        "unheard",
        "coverage",
        "cautions",
    }
    assert list(report) == sorted(report)


def test_the_same_result_gives_the_same_bytes(result: Result):
    text = report_json(result)
    assert text == report_json(result.model_copy(deep=True))
    assert report_json(Result.model_validate_json(text)) == text
    assert text.endswith("}\n") and not text.endswith("\n\n")
