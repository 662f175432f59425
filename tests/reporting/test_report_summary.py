"""The terminal's ten lines and the bottom line."""

import pytest

from spokenfor.models import ItemStatus, Result, Unheard, UnheardReason
from spokenfor.reporting.gaps import bottom_line, is_covered, not_covered, unheard_seconds
from spokenfor.reporting.summary import summary_lines


def test_the_bottom_line_in_one_sentence(result: Result):
    assert str(bottom_line(result)) == (
        "22 of 40 required items covered · 18 not covered · 4 defects · 2 remarks · 0:23 unheard"
    )


def test_what_is_not_covered_adds_up_with_what_is(result: Result):
    coverage = result.coverage
    assert len(not_covered(result)) == coverage.required_total - coverage.required_covered
    assert sum(map(is_covered, result.items)) + len(not_covered(result)) + len(
        not_covered(result, required=False)
    ) == len(result.items)


@pytest.mark.parametrize("status", list(ItemStatus))
def test_by_reference_is_no_coverage(result: Result, status: ItemStatus):
    item = result.items[0]
    item.status, item.by_reference = status, True
    assert not is_covered(item)


def test_the_summary_says_what_was_skipped_found_and_unheard(result: Result):
    assert summary_lines(result) == [
        "22 of 40 required items covered, 18 not covered",
        "Not covered: 10 not mentioned, 4 unheard, 1 by reference, 1 looked for, no result stated, "
        "1 named, no result stated, 1 not inspected (said so)",
        "  Nose: Right landing light, Left windscreen",
        "  and 16 more in Left side, Engine deck, Tail boom and fin and Right side",
        "Found: 4 defects, 2 remarks",
        "  defect at rec 1, 0:25: Nose tyre: cut",
        "  defect at rec 1, 0:47: Left brake line: leak (found and put right)",
        "  defect at rec 1, 1:52: No. 2 fuel filter bypass indicator: popped",
        "  and 3 more, see the report",
        "Unheard: 0:23, longest stretch 0:09, in Engine deck, Cabin and baggage bay and Right side",
    ]


def test_with_few_findings_more_zones_are_named(result: Result):
    result.findings = result.findings[4:5]
    lines = summary_lines(result)
    assert len(lines) == 10
    assert "  Tail boom and fin: none of its 6 required items covered" in lines
    assert "  defect at rec 1, 2:16: Loom: chafe (unplaced)" in lines


def test_a_clean_walk_is_short(result: Result):
    for item in result.items:
        item.status, item.by_reference = ItemStatus.SATISFACTORY, False
    result.findings, result.unheard = [], []
    assert summary_lines(result)[1:] == [
        "Not covered: nothing",
        "Found: 0 defects, 0 remarks",
        "Unheard: nothing",
    ]


def test_an_overlap_of_unheard_stretches_counts_once(result: Result):
    def stretch(recording: int, start: float, end: float) -> Unheard:
        return Unheard(recording=recording, start=start, end=end, reason=UnheardReason.CLIPPED)

    result.unheard = [stretch(0, 5, 9), stretch(0, 0, 6), stretch(0, 7, 8), stretch(1, 0, 2)]
    assert unheard_seconds(result) == pytest.approx(11)


def test_a_side_that_nobody_named_is_said_to_be_unheard(result: Result):
    result.unheard = []
    result.zones[0].side_sure = result.zones[1].side_sure = False
    names = f"{result.zones[0].name} and {result.zones[1].name}"
    assert f"Unheard: on which side of the machine, in {names}" in summary_lines(result)
