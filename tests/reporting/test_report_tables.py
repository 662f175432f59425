"""items.csv and findings.csv, read back by the csv module as RFC 4180 says they are written."""

import csv
import io

import pytest

from spokenfor.models import Result
from spokenfor.reporting.tables import findings_csv, items_csv


def read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_every_item_has_its_row_in_order(result: Result):
    rows = read(items_csv(result))
    assert [row["id"] for row in rows] == [item.id for item in result.items]
    assert [row["status"] for row in rows] == [item.status.value for item in result.items]


# id | column | value
CELLS = [
    ("nose-cone", "heard", "Starting at the nose. No stone, condition good and secure."),
    ("nose-cone", "text", "Starting at the nose. Nose cone, condition good and secure."),
    ("nose-cone", "zone", "Nose"),
    ("nose-cone", "aspects_stated", "condition; security"),
    ("nose-tyre", "aspects_not_stated", "pressure"),
    ("nose-tyre", "start", "25.4"),
    ("nose-tyre", "recording", "walk left side.wav"),
    ("brake-line.right", "recording", "walk right side.wav"),
    # The status is defect: its words stand in the row, not those that cleared it later.
    ("brake-line.left", "start", "47.5"),
    ("brake-line.left", "note", "found and put right"),
    ("brake-line.left", "statements", "2"),
    # Satisfactory came later than not inspected.
    ("engine-cowling.left", "start", "71.0"),
    ("hydraulic-reservoir.No. 2", "by_reference", "yes"),
    ("tail-skid", "heard", ""),
    ("tail-skid", "start", ""),
    ("wire-strike-protection", "required", "no"),
    ("oil-level.No. 2", "status", "unheard"),
]


@pytest.mark.parametrize(("item", "column", "value"), CELLS)
def test_what_stands_in_a_cell(result: Result, item: str, column: str, value: str):
    (row,) = [row for row in read(items_csv(result)) if row["id"] == item]
    assert row[column] == value


def test_every_finding_has_its_row_placed_or_not(result: Result):
    rows = read(findings_csv(result))
    assert [row["id"] for row in rows] == [finding.id for finding in result.findings]
    loom = rows[4]
    assert (loom["component"], loom["item"], loom["zone"], loom["label"]) == ("loom", "", "", "")
    assert rows[1]["quantities"] == '6 mm ("six millimetres"), against at most 2 mm: beyond it'


def test_lines_end_as_rfc_4180_says(result: Result):
    for text in (items_csv(result), findings_csv(result)):
        assert text.endswith("\r\n")
        assert text.count("\n") == text.count("\r\n")


@pytest.mark.parametrize("start", ["=1+1", "+44 20", "-1", "@SUM(A1)", "\tx", "\rx"])
def test_a_spreadsheet_does_not_run_what_was_said(result: Result, start: str):
    # Common practice: OWASP, "CSV Injection" (from memory): a leading quote mark disarms the cell.
    result.items[0].label = start
    result.findings[0].evidence.heard = start
    assert read(items_csv(result))[0]["label"] == "'" + start
    assert read(findings_csv(result))[0]["heard"] == "'" + start


def test_commas_quotes_and_new_lines_come_back_as_they_were(result: Result):
    result.items[0].label = 'a "quoted", label\nover two lines'
    assert read(items_csv(result))[0]["label"] == 'a "quoted", label\nover two lines'
