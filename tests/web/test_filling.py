"""The sheet as it fills while the sound is being heard."""

from __future__ import annotations

from tests.reporting.spoken_walk import make_result

from spokenfor.web.filling import sheet_so_far


def test_the_sheet_so_far_counts_by_zone_and_names_what_was_found():
    result = make_result()
    sheet = sheet_so_far(result)
    assert sheet["covered"] == result.coverage.required_covered
    assert sum(covered for _, covered, _ in sheet["zones"]) == sheet["covered"]
    assert sum(required for _, _, required in sheet["zones"]) == sheet["required"]
    assert [one["verdict"] for one in sheet["found"]] == [
        one.verdict.value for one in result.findings
    ]
    assert sheet["last"] in {one.evidence.text for one in result.statements}


def test_nothing_heard_fills_nothing():
    result = make_result()
    result.statements, result.findings = [], []
    sheet = sheet_so_far(result)
    assert (sheet["found"], sheet["last"]) == ([], "")
