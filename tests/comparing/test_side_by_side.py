"""Findings and lines side by side, on the lines that all sheets have."""

from __future__ import annotations

import pytest
from tests.comparing.made_walks import finding, walk

from spokenfor.comparing.comparison import Comparison, compare_walks
from spokenfor.errors import InputError

SHEET = ("nose | cone | satisfactory | Clean.", "nose | light | not_mentioned |")


def two(*findings: tuple[str, str | None, str | None, str | None]) -> Comparison:
    """Two walks of the same sheet; a finding is (whose, condition, component, item)."""
    walks = {name: walk(name, *SHEET) for name in ("A", "B")}
    for whose, condition, component, item in findings:
        walks[whose].result.findings.append(finding(condition, component, item))
    return compare_walks(list(walks.values()))


@pytest.mark.parametrize(
    ("findings", "rows"),
    [
        ([("A", "crack", "cone", "nose.cone"), ("B", "crack", "cone", "nose.cone")], ["A B"]),
        ([("A", "crack", "cone", "nose.cone"), ("B", "dent", "cone", "nose.cone")], ["A", "B"]),
        # Not placed on a line, yet of the same component at the same position.
        ([("A", "crack", "cone", "nose.cone"), ("B", "crack", "cone", None)], ["A B"]),
        ([("A", "leak", None, None), ("B", "leak", None, None)], ["A", "B"]),
        ([("B", "crack", "cone", "nose.cone")], ["B"]),
        ([], []),
    ],
)
def test_same_finding(findings: list, rows: list[str]) -> None:
    assert [" ".join(row.marks) for row in two(*findings).findings] == rows


def test_who_did_not_find_it_shows_where_the_line_stands() -> None:
    (row,) = two(("B", "crack", "cone", "nose.cone")).findings
    (cell,) = row.cells["A"]
    assert (cell.found, cell.words) == (False, "satisfactory")


def test_only_lines_that_differ_are_listed(compared: Comparison) -> None:
    same = compare_walks([walk("A", *SHEET), walk("B", *SHEET)])
    assert same.differing == []
    listed = {row.item for zone in compared.differing for row in zone.rows}
    stands = {
        line.id: {
            (walk.items[line.id].status, walk.items[line.id].by_reference)
            for walk in compared.walks
        }
        for line in compared.sheet.items
    }
    assert listed == {item for item, found in stands.items() if len(found) > 1}


def test_walks_stand_by_date_with_the_reference_last(compared: Comparison) -> None:
    assert [(one.mark, one.by) for one in compared.walks] == [
        ("A", "A. Learner"),
        ("B", "a. learner"),
        ("ref", "T. Teacher"),
    ]
    assert [[one.mark for one in person.walks] for person in compared.people] == [["A", "B"]]


def test_different_packs_are_compared_on_what_they_share() -> None:
    mine, theirs = walk("A", *SHEET), walk("B", *SHEET, "tail | fin | satisfactory | Clean.")
    theirs.result.inspection.pack.version = "2.0.0"
    theirs.result.findings.append(finding("crack", "fin", "tail.fin"))
    compared = compare_walks([mine, theirs])
    assert [line.id for line in compared.sheet.items] == ["nose.cone", "nose.light"]
    assert compared.sheet.differs == (
        "The walks were checked with different packs (helicopter-light-twin 1.0.0, abababab and "
        "helicopter-light-twin 2.0.0, abababab), so only the 2 lines that all of them have are compared and 1 "
        "left out; names, order and what is required are those of helicopter-light-twin 1.0.0, abababab."
    )
    assert compared.cautions(compared.walks)[0] == compared.sheet.differs
    assert compared.findings == []


def test_nothing_in_common_is_refused() -> None:
    with pytest.raises(InputError, match="no line of a sheet in common"):
        compare_walks([walk("A", *SHEET), walk("B", "tail | fin | named | The fin.")])


def test_different_machines_are_said() -> None:
    mine, theirs = walk("A", *SHEET), walk("B", *SHEET)
    theirs.result.inspection.asset = "R-07"
    compared = compare_walks([mine, theirs])
    assert "different machines (DEMO-1 and R-07)" in compared.cautions(compared.walks)[0]
