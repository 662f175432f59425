"""What people decided is seen: the reviewed page, the forms for the maintenance office, the summary."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from tests.record.walked import BY, Walked, contents, with_more, write_sound

from spokenfor.models import Verdict
from spokenfor.record.derived import write_derived
from spokenfor.record.entries import Action
from spokenfor.record.folder import DERIVED, extended
from spokenfor.record.keep import keep
from spokenfor.record.review import Decision, decide
from spokenfor.record.seal import Seal, seal
from spokenfor.record.summary_page import plain

PROPOSED = (
    "report.json",
    "report.html",
    "items.csv",
    "findings.csv",
    "transcript.vtt",
    "transcript.json",
)
EVIL = "=HYPERLINK(1) <script>x</script> | *b*"


def do(folder: Path, action: Action, subject: str, **fields: object) -> None:
    decide(folder, Decision(action, subject, BY, **fields))  # type: ignore[arg-type]


@pytest.fixture
def decided(folder: Path) -> Path:
    do(folder, Action.CHANGE_STATUS, "nose-cone", status="defect", why="crack, seen with the torch")
    do(folder, Action.ADD_NOTE, "inspection", words=EVIL)
    do(folder, Action.CORRECT_WORDS, "f1", words="@sum really said")
    do(folder, Action.ACCEPT, "tail-skid")
    do(folder, Action.REOPEN, "tail-skid", why="wrong line")
    write_derived(folder)
    return folder


def rows(folder: Path) -> dict[str, dict[str, str]]:
    with (folder / "hand-over.csv").open(newline="", encoding="utf-8") as file:
        return {row["id"]: row for row in csv.DictReader(file)}


def test_the_proposals_stay_byte_for_byte(kept_once: Path, decided: Path) -> None:
    before, after = contents(kept_once), contents(decided)
    assert {name: after[name] for name in PROPOSED} == {name: before[name] for name in PROPOSED}
    assert set(after) - set(before) == set(DERIVED)


def test_the_page_shows_who_when_why_before_and_after(decided: Path) -> None:
    page = (decided / "reviewed.html").read_text()
    review = page.split('<section id="review"')[1].split("</section>")[0]
    for words in (
        BY,
        "crack, seen with the torch",
        "status changed",
        "satisfactory",
        "<b>defect</b>",
    ):
        assert words in review
    assert "taken back later" in review
    assert "by A. Engineer, was: satisfactory" in page
    assert "Decided by a person, no finding in the words" in page
    assert "<script>x" not in page and "&lt;script&gt;x" in page
    assert '<section id="review"' not in (decided / "report.html").read_text()


def test_a_defect_that_only_a_person_made_is_counted(decided: Path, kept_once: Path) -> None:
    def defects(page: str) -> int:
        return int(page.split('<a href="#findings">')[1].split(" defect")[0])

    before = defects((kept_once / "report.html").read_text())
    assert defects((decided / "reviewed.html").read_text()) == before + 1
    assert "nose cone: decided by a person" in (decided / "summary.md").read_text().lower()


def test_the_rows_of_the_maintenance_office(decided: Path) -> None:
    row = rows(decided)["nose-cone"]
    assert (row["kind"], row["status"], row["proposed"]) == ("item", "defect", "satisfactory")
    assert row["decision"] == "status changed: satisfactory -> defect"
    assert (row["decided_by"], row["why"]) == (BY, "crack, seen with the torch")
    assert row["quote"] and float(row["end"]) > float(row["start"])
    assert rows(decided)["tail-skid"]["decision"] == "reopened"
    tree = json.loads((decided / "hand-over.json").read_text())
    assert tree["schema"] == "spokenfor/hand-over/1"
    assert [one["id"] for one in tree["items"] + tree["findings"]] == list(rows(decided))
    assert any(one["ata"] for one in tree["items"])


def test_a_spreadsheet_runs_nothing(decided: Path) -> None:
    """OWASP, CSV injection: a cell must not start with = + - @ tab or return."""
    text = (decided / "hand-over.csv").read_text(encoding="utf-8")
    cells = [cell for row in csv.reader(io.StringIO(text)) for cell in row]
    assert [one for one in cells if one.startswith(("=", "+", "-", "@", "\t", "\r"))] == []
    assert "'@sum really said" in cells


def test_ids_of_findings_last_when_more_is_heard(
    check: Walked, decided: Path, tmp_path: Path
) -> None:
    before = {name for name, row in rows(decided).items() if row["kind"] == "finding"}
    later = write_sound(tmp_path / "phone/later.wav", 9)
    asked = extended(decided, [later])
    more = with_more(check, later, "Tail skid good.", "tail-skid", Verdict.SATISFACTORY)
    more.result.findings.reverse()
    for number, finding in enumerate(more.result.findings):
        finding.id = f"f{number + 1}"
    keep(decided, asked, more.result, more.transcript, embed=False)
    after = rows(decided)
    assert {name for name, row in after.items() if row["kind"] == "finding"} == before
    assert after["tail-skid"]["recording"] == "later.wav", "made anew with the new report"


def test_the_same_log_gives_the_same_bytes(decided: Path) -> None:
    before = contents(decided)
    write_derived(decided)
    assert contents(decided) == before


def test_the_bag_holds_what_the_log_says_even_if_the_folder_is_behind(folder: Path) -> None:
    write_derived(folder)
    do(folder, Action.CHANGE_STATUS, "nose-cone", status="remark", why="scratch")
    bag = seal(folder, Seal(BY))
    assert rows(bag / "data")["nose-cone"]["status"] == "remark"
    assert "sealed by A. Engineer" in (bag / "data/reviewed.html").read_text()
    assert "sealed by A. Engineer" in (bag / "data/summary.md").read_text()


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("R-07", "R-07"),
        ("- x", "\\- x"),
        ("1. x", "1\\. x"),
        ("# x", "\\# x"),
        ("a *b* <i> | `c`", "a \\*b\\* \\<i\\> \\| \\`c\\`"),
        ("two\nlines", "two lines"),
    ],
)
def test_words_stay_words_in_markdown(said: str, written: str) -> None:
    assert plain(said) == written


def test_what_was_accepted_no_longer_says_listen(check: Walked, tmp_path: Path) -> None:
    check.result.items[0].listen = True
    check.keep(tmp_path / "r07")
    write_derived(tmp_path / "r07")
    assert rows(tmp_path / "r07")["nose-cone"]["listen"] == "yes"
    do(tmp_path / "r07", Action.ACCEPT, "nose-cone")
    write_derived(tmp_path / "r07")
    page = (tmp_path / "r07/reviewed.html").read_text()
    assert rows(tmp_path / "r07")["nose-cone"]["listen"] == "no"
    assert "accepted by A. Engineer" in page and 'id="listen"' not in page
    assert 'id="listen"' in (tmp_path / "r07/report.html").read_text()
