"""What is report.json, and which JSON Schema describes it?"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

from spokenfor.models import Result

SCHEMA_FILE = "report.schema.json"
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def report_json(result: Result) -> str:
    """Serialise a result: sorted keys, two-space indent, one newline at the end, same in, same out.

    Raises ValueError for a number that JSON cannot hold (RFC 8259: no NaN, no infinity).
    """
    return _text(result.model_dump(mode="json", by_alias=True))


def report_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of report.json that ships in the package."""
    schema: dict[str, Any] = json.loads(
        files("spokenfor.reporting").joinpath(SCHEMA_FILE).read_text(encoding="utf-8")
    )
    return schema


def schema_from_models() -> str:
    """The text that the shipped schema file must hold, made from the models."""
    schema = Result.model_json_schema(mode="serialization", by_alias=True)
    schema |= {"$schema": DIALECT, "$id": "urn:spokenfor:report:1", "title": "spokenfor report"}
    return _text(schema)


def _text(tree: dict[str, Any]) -> str:
    text = json.dumps(tree, sort_keys=True, indent=2, ensure_ascii=False, allow_nan=False)
    return text + "\n"
