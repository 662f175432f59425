"""What a comparison writes: pages, tables that no spreadsheet runs, or nothing at all."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest
from tests.comparing.made_walks import walk

from spokenfor.comparing.comparison import Comparison, compare_walks
from spokenfor.comparing.feedback import feedback
from spokenfor.comparing.reading_walks import read_walk
from spokenfor.comparing.tables import comparison_csv
from spokenfor.comparing.write import feedback_names, write_comparison
from spokenfor.errors import InputError

TABLES = {"walks", "zones", "items", "findings", "wording"}


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_all_files_or_none(compared: Comparison, tmp_path: Path) -> None:
    pages = write_comparison(compared, tmp_path / "out", with_sound=False)
    assert [one.name for one in pages] == ["comparison.html", "feedback.html"]
    tables = {f"compared-{one}.csv" for one in TABLES}
    assert {one.name for one in (tmp_path / "out").iterdir()} == tables | {
        one.name for one in pages
    }


def test_an_inspection_is_not_written_over(compared: Comparison, walks: dict[str, Path]) -> None:
    before = sorted(walks["first"].iterdir())
    with pytest.raises(InputError, match="holds an inspection"):
        write_comparison(compared, walks["first"], with_sound=False)
    assert sorted(walks["first"].iterdir()) == before


def test_tables_say_what_the_pages_say(compared: Comparison) -> None:
    tables = {name: rows(text) for name, text in comparison_csv(compared).items()}
    walks = tables["compared-walks.csv"]
    assert [one["walk"] for one in walks] == ["A", "B", "ref"]
    assert [int(one["required_covered"]) for one in walks] == list(compared.covered.values())
    assert [one["kendall_tau"] for one in walks] == ["0.8", "0.6", "0.8"]
    items = tables["compared-items.csv"]
    assert len(items) == 3 * len(compared.sheet.items)
    assert len({one["item"] for one in items if one["differs"] == "yes"}) == sum(
        len(zone.rows) for zone in compared.differing
    )
    cracks = [one for one in tables["compared-findings.csv"] if one["condition"] == "crack"]
    assert {one["found_by"] for one in cracks if one["finding"] == "Nose cone"} == {"ref"}
    assert len(tables["compared-wording.csv"]) == sum(map(len, compared.remarks.values()))


def test_no_cell_is_run_as_a_formula() -> None:
    lines = [f"nose | {mark}cone | named | {mark}1+1" for mark in "=+-@"]
    made = [walk("=cmd|'/c calc'!A0", *lines), walk("@SUM(A1)", *lines)]
    for text in comparison_csv(compare_walks(made)).values():
        for line in csv.reader(io.StringIO(text)):
            assert not any(cell.startswith(tuple("=+-@\t\r\n")) for cell in line)


@pytest.mark.parametrize(
    ("names", "files"),
    [
        (["A. Learner", "a. learner"], ["feedback.html"]),
        (["A. Learner", "B / C"], ["feedback-a-learner.html", "feedback-b-c.html"]),
        (["Zoë", "../../etc"], ["feedback-zoë.html", "feedback-etc.html"]),
        (["A.", "A,"], ["feedback-a.html", "feedback-a-2.html"]),
        (["…", "!"], ["feedback.html", "feedback-2.html"]),
        ([None, None], ["feedback-name-not-stated.html", "feedback-name-not-stated-2.html"]),
    ],
)
def test_names_of_feedback_pages(names: list[str], files: list[str]) -> None:
    made = [walk(str(n), "nose | cone | named | The cone.") for n, _ in enumerate(names)]
    for one, name in zip(made, names, strict=True):
        one.result.inspection.by = name
    assert list(feedback_names(compare_walks(made))) == files


def test_feedback_is_on_the_last_walk_and_counts_from_the_one_before(compared: Comparison) -> None:
    told = feedback(compared, compared.people[0])
    assert told.walk.mark == "B"
    more = compared.covered["B"] - compared.covered["A"]
    assert more > 0
    assert told.well[-1] == (
        f"That is {more} more than in the walk before, of 3 May 2025, 07:41 UTC."
    )
    assert [row.thing for row in told.missed] == ["Nose cone"]
    assert {one.habit.value for one in told.habits} <= {"by_reference", "vague_praise"}


def test_what_was_not_heard_does_not_count_against_anybody(compared: Comparison) -> None:
    told = feedback(compared, replace(compared.people[0]))
    unheard = {item.id for _, items in told.unheard for item in items}
    gaps = {item.id for _, items in told.gaps for item in items}
    walk = told.walk
    assert unheard and unheard.isdisjoint(gaps)
    assert unheard == {
        one.id
        for zone in compared.sheet.zones
        for one in zone.required
        if walk.items[one.id].status.value == "unheard"
    }


def test_reports_are_linked_where_they_are(walks: dict[str, Path], tmp_path: Path) -> None:
    (walks["first"] / "report.html").write_text("report")
    compared = compare_walks([read_walk(walks["first"]), read_walk(walks["second"])])
    write_comparison(compared, tmp_path / "out", with_sound=False)
    page = (tmp_path / "out/comparison.html").read_text(encoding="utf-8")
    (walks["first"] / "report.html").unlink()
    assert page.count(">report</a>") == 1 and "first/report.html" in page
