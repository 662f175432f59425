"""What people decide is laid over what was proposed; nothing is overwritten, and what was heard anew is decided
anew."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.record.walked import BY, Walked, contents, with_more, write_sound

from spokenfor.errors import InputError
from spokenfor.models import Item, ItemStatus, Result, Verdict
from spokenfor.record.entries import Action, Entry
from spokenfor.record.folder import extended, open_inspection
from spokenfor.record.keep import keep
from spokenfor.record.outcome import Reviewed
from spokenfor.record.review import Decision, decide
from spokenfor.record.reviewed import AGAIN, GONE, LISTEN, UNPLACED, reviewed
from spokenfor.reporting.json_form import report_json

SECOND = "B. Engineer"


def state(folder: Path) -> Reviewed:
    inspection = open_inspection(folder)
    return reviewed(inspection.result, inspection.log.entries)


def item(result: Result, name: str) -> Item:
    return next(one for one in result.items if one.id == name)


def open_points(folder: Path) -> dict[str, str]:
    return {one.subject: one.why for one in state(folder).open}


def do(folder: Path, action: Action, subject: str, by: str = BY, **fields: object) -> Entry:
    return decide(folder, Decision(action, subject, by, **fields))  # type: ignore[arg-type]


@pytest.fixture
def doubtful(check: Walked, tmp_path: Path) -> Path:
    """The walk with one item to listen to, one finding to listen to, one finding unplaced."""
    item(check.result, "oil-level.No. 1").listen = True
    check.result.findings[0].listen = True
    check.result.findings[1].item = None
    check.keep(tmp_path / "r07")
    return tmp_path / "r07"


def test_without_decisions_the_proposal_stands(folder: Path) -> None:
    inspection = open_inspection(folder)
    review = reviewed(inspection.result, [])
    assert report_json(review.result) == report_json(inspection.result)
    assert (review.decided, review.changes, review.notes, review.sealed) == ({}, [], [], None)


def test_what_must_be_listened_to_is_open_until_somebody_decides(doubtful: Path) -> None:
    findings = open_inspection(doubtful).result.findings
    first, second = findings[0].id, findings[1].id
    assert open_points(doubtful) == {"oil-level.No. 1": LISTEN, first: LISTEN, second: UNPLACED}
    do(doubtful, Action.ADD_NOTE, first, words="a note decides nothing")
    do(doubtful, Action.ACCEPT, "oil-level.No. 1")
    do(doubtful, Action.ACCEPT, first)
    do(doubtful, Action.PLACE_FINDING, second, item="tail-skid")
    assert open_points(doubtful) == {}
    do(doubtful, Action.REOPEN, first, SECOND, why="heard a second voice")
    assert open_points(doubtful) == {first: LISTEN}


def test_a_status_that_a_person_changed(folder: Path) -> None:
    before = contents(folder)
    coverage = open_inspection(folder).result.coverage.required_covered
    why = "looked at it again with a mirror"
    entry = do(folder, Action.CHANGE_STATUS, "tail-skid", status="satisfactory", why=why)
    review = state(folder)
    assert item(review.result, "tail-skid").status is ItemStatus.SATISFACTORY
    assert review.result.coverage.required_covered == coverage + 1
    change = review.changes[0]
    assert (change.proposed, change.became, change.by, change.why, change.entry) == (
        "not_mentioned",
        "satisfactory",
        BY,
        why,
        entry.number,
    )
    after = contents(folder)
    changed = {name for name in after if after[name] != before.get(name)}
    assert changed == {"log.jsonl"}, "nothing is overwritten"


def test_two_reviewers_the_later_stands_and_both_are_kept(folder: Path) -> None:
    do(folder, Action.CHANGE_STATUS, "tail-skid", status="satisfactory", why="seen")
    do(folder, Action.CHANGE_STATUS, "tail-skid", SECOND, status="defect", why="worn through")
    do(folder, Action.ACCEPT, "tail-skid", BY)
    review = state(folder)
    assert item(review.result, "tail-skid").status is ItemStatus.DEFECT
    assert [(one.became, one.by) for one in review.changes] == [
        ("satisfactory", BY),
        ("defect", SECOND),
    ]
    assert review.decided["tail-skid"] == [2, 3, 4]
    do(folder, Action.REOPEN, "tail-skid", BY, why="two opinions")
    review = state(folder)
    assert item(review.result, "tail-skid").status is ItemStatus.NOT_MENTIONED
    assert "tail-skid" not in review.decided
    assert review.entries == 5


def test_a_finding_placed_makes_its_item_a_defect(doubtful: Path) -> None:
    result = open_inspection(doubtful).result
    placed = next(one for one in result.findings if one.verdict is Verdict.DEFECT)
    do(doubtful, Action.CHANGE_STATUS, "tail-skid", status="satisfactory", why="seen")
    do(doubtful, Action.PLACE_FINDING, placed.id, item="tail-skid")
    review = state(doubtful)
    assert item(review.result, "tail-skid").status is ItemStatus.DEFECT
    assert placed.evidence in item(review.result, "tail-skid").evidence
    remark = next(one for one in result.findings if one.verdict is Verdict.REMARK)
    do(doubtful, Action.PLACE_FINDING, remark.id, item="tail-skid")
    assert item(state(doubtful).result, "tail-skid").status is ItemStatus.DEFECT, "the worst stands"


def test_a_finding_that_is_none_is_dismissed_and_still_shown(doubtful: Path) -> None:
    first = open_inspection(doubtful).result.findings[0]
    do(
        doubtful,
        Action.CHANGE_STATUS,
        first.id,
        status="satisfactory",
        why="it was said of another",
    )
    review = state(doubtful)
    assert first.id not in {one.id for one in review.result.findings}
    assert [(one.id, one.verdict) for one in review.dismissed] == [(first.id, Verdict.SATISFACTORY)]
    assert len(review.result.flagged_words) == len(open_inspection(doubtful).result.flagged_words)


def test_corrected_words_and_times_stand_beside_what_was_heard(folder: Path) -> None:
    result = open_inspection(folder).result
    said = next(one for one in result.statements if one.id in item(result, "nose-cone").statements)
    do(folder, Action.CORRECT_WORDS, said.id, words="Nose cone, two scratches.")
    do(folder, Action.CORRECT_TIME, "nose-cone", start=1.0, end=6.004)
    review = state(folder)
    evidence = item(review.result, "nose-cone").evidence[0]
    assert (evidence.heard, evidence.text) == (said.evidence.heard, "Nose cone, two scratches.")
    assert (evidence.start, evidence.end) == (1.0, 6.0)
    assert [(one.words, one.new_end) for one in review.corrections] == [
        ("Nose cone, two scratches.", None),
        (None, 6.0),
    ]
    assert {one.heard for one in review.corrections} == {said.evidence.heard}
    assert item(review.result, "nose-cone").status is ItemStatus.SATISFACTORY, "words tick nothing"
    do(folder, Action.REOPEN, said.id, why="wrong passage")
    assert item(state(folder).result, "nose-cone").evidence[0] == said.evidence


def test_words_that_no_line_rests_on_can_be_corrected(folder: Path) -> None:
    transcript = open_inspection(folder).transcript
    heard = transcript.segments[0]
    do(folder, Action.CORRECT_WORDS, f"1@{heard.start + 0.1:.2f}", words="morning")
    assert state(folder).corrections[0].heard == heard.text
    with pytest.raises(InputError, match=r"Nothing was heard at 99999 s of recording 1"):
        do(folder, Action.CORRECT_WORDS, "1@99999", words="morning")


@pytest.mark.parametrize(
    ("action", "subject", "fields", "says"),
    [
        (Action.ACCEPT, "nose-con", {}, "no item, finding or statement 'nose-con'"),
        (
            Action.ACCEPT,
            "inspection",
            {},
            "accept does not fit 'inspection', which is the inspection",
        ),
        (Action.CHANGE_STATUS, "nose-cone", {"status": "defect"}, "change_status needs a reason"),
        (
            Action.CHANGE_STATUS,
            "nose-cone",
            {"status": "fine", "why": "x"},
            "no status 'fine'. Use one of: satisfactory, ",
        ),
        (Action.CHANGE_STATUS, "FIRST", {"status": "unheard", "why": "x"}, "no status 'unheard'"),
        (Action.PLACE_FINDING, "FIRST", {"item": "keel"}, "The sheet has no item 'keel'"),
        (Action.PLACE_FINDING, "nose-cone", {"item": "nose-cone"}, "which is an item"),
        (Action.CORRECT_WORDS, "tail-skid", {"words": "x"}, "rests on 0 passages"),
        (Action.CORRECT_WORDS, "FIRST", {"words": "  "}, "The text is empty"),
        (Action.CORRECT_TIME, "FIRST", {"start": 5.0, "end": 5.0}, "no stretch of the recording"),
        (Action.CORRECT_TIME, "FIRST", {"start": 5.0, "end": 1e9}, "no stretch of the recording"),
        (Action.CORRECT_TIME, "FIRST", {"start": float("nan"), "end": 2.0}, "no stretch of the"),
        (Action.REOPEN, "nose-cone", {"why": "x"}, "Nothing stands decided on 'nose-cone'"),
        (Action.REOPEN, "inspection", {"why": "x"}, "Nothing stands decided on 'inspection'"),
        (Action.REOPEN, "nose-cone", {}, "reopen needs a reason"),
        (Action.SEAL, "inspection", {}, "seal does not fit"),
    ],
)
def test_a_decision_that_does_not_fit_is_refused(
    action: Action, subject: str, fields: dict[str, object], says: str, folder: Path
) -> None:
    before = contents(folder)
    name = open_inspection(folder).result.findings[0].id if subject == "FIRST" else subject
    with pytest.raises(InputError) as error:
        do(folder, action, name, **fields)
    assert says in str(error.value)
    assert "\n" not in str(error.value)
    assert contents(folder) == before


def test_somebody_who_overlooked_a_decision_is_told_so(folder: Path) -> None:
    seen = open_inspection(folder).log.entries[-1].number
    do(folder, Action.ACCEPT, "nose-cone", SECOND)
    decide(folder, Decision(Action.ACCEPT, "tail-skid", BY), seen=seen)
    with pytest.raises(InputError, match=r"B\. Engineer has decided on 'nose-cone' meanwhile"):
        decide(folder, Decision(Action.ACCEPT, "nose-cone", BY), seen=seen)
    assert state(folder).entries == 3


def add(folder: Path, check: Walked, name: str, said: str, line: str, verdict: Verdict) -> None:
    sound = write_sound(folder.parent / "phone" / name, len(name))
    asked = extended(folder, [sound])
    more = with_more(check, sound, said, line, verdict)
    keep(folder, asked, more.result, more.transcript, embed=False)


def test_what_was_heard_anew_is_decided_anew(folder: Path, check: Walked) -> None:
    """The engineer goes back for a skipped item: the decision on it was about less than is known now."""
    do(folder, Action.ACCEPT, "tail-skid")
    do(folder, Action.ACCEPT, "nose-cone")
    add(folder, check, "later.wav", "Tail skid, worn through.", "tail-skid", Verdict.DEFECT)
    review = state(folder)
    assert item(review.result, "tail-skid").status is ItemStatus.DEFECT
    assert (review.overtaken, review.decided) == ([2], {"nose-cone": [3]})
    assert {one.subject: one.why for one in review.open} == {"tail-skid": AGAIN}
    do(folder, Action.ACCEPT, "tail-skid")
    assert open_points(folder) == {}


@pytest.mark.parametrize(
    ("person", "heard", "stands"),
    [
        ("satisfactory", Verdict.DEFECT, ItemStatus.DEFECT),
        ("defect", Verdict.SATISFACTORY, ItemStatus.DEFECT),
        ("not_inspected", Verdict.SATISFACTORY, ItemStatus.NOT_INSPECTED),
    ],
)
def test_of_a_persons_status_and_words_heard_later_the_more_cautious_stands(
    person: str, heard: Verdict, stands: ItemStatus, folder: Path, check: Walked
) -> None:
    do(folder, Action.CHANGE_STATUS, "tail-skid", status=person, why="seen")
    add(folder, check, "later.wav", "Tail skid.", "tail-skid", heard)
    assert item(state(folder).result, "tail-skid").status is stands
    assert open_points(folder) == {"tail-skid": AGAIN}
    do(folder, Action.CHANGE_STATUS, "tail-skid", status="satisfactory", why="both are settled")
    assert item(state(folder).result, "tail-skid").status is ItemStatus.SATISFACTORY
    assert open_points(folder) == {}


def test_findings_are_found_again_when_they_count_anew(folder: Path, check: Walked) -> None:
    first = check.result.findings[0]
    do(folder, Action.CHANGE_STATUS, first.id, status="satisfactory", why="of another machine")
    check.result.findings = [
        one.model_copy(update={"id": f"f{90 + at}"}) for at, one in enumerate(check.result.findings)
    ]
    check.keep(folder)
    assert [one.id for one in state(folder).dismissed] == ["f90"]
    assert open_points(folder) == {}


def test_a_decided_finding_that_is_gone_is_not_forgotten(folder: Path, check: Walked) -> None:
    first = check.result.findings[0]
    do(folder, Action.ACCEPT, first.id)
    check.result.findings.pop(0)
    check.keep(folder)
    assert open_points(folder) == {"entry 2": GONE}
