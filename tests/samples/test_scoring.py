"""Scoring tells apart the ways in which a result can be wrong."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from audio_samples.script import FOLDER
from tests.samples.answer_key import AnswerKey
from tests.samples.scoring import load_key, score

from spokenfor.models import (
    Coverage,
    Evidence,
    Finding,
    FlaggedReading,
    FlaggedWord,
    Inspection,
    Item,
    ItemStatus,
    PackIdentity,
    Recogniser,
    Result,
    Verdict,
)
from spokenfor.packs.load import load_pack

KEY = load_key(FOLDER / "scripts" / "thorough-walk.yaml")
PROBE = "nose.temperature-probe"
CONE = "nose.nose-cone"
SLAT = "stabiliser.stabiliser-slat.right"
LINE = "left-main-gear.brake-line.left"


def heard(start: float) -> Evidence:
    return Evidence(recording=0, start=start, end=start + 1, heard="", text="")


def result_of(key: AnswerKey) -> Result:
    """The result of a check that got everything right."""
    sheet = {item.id: item for item in load_pack("helicopter-light-twin").items}
    nothing = Recogniser(name="none", sha256="")
    return Result(
        cautions=[],
        inspection=Inspection(
            id="1",
            asset=None,
            pack=PackIdentity(name="helicopter-light-twin", title="", version="1.0.0", sha256=""),
            by=None,
            started="2026-01-01T00:00:00Z",
            software="0",
            model=nothing,
        ),
        recordings=[],
        items=[
            Item(
                id=name,
                zone=sheet[name].zone,
                component=sheet[name].component,
                position=sheet[name].position,
                label=sheet[name].label,
                required=sheet[name].required,
                status=item.status,
                confidence=1,
                by_reference=item.by_reference,
                note=item.note,
                aspects=[],
                evidence=[],
            )
            for name, item in key.items.items()
        ],
        findings=[
            Finding(
                id=str(at),
                verdict=finding.verdict,
                condition=finding.condition,
                component=finding.component,
                position=None,
                item=finding.item,
                note=finding.note,
                quantities=[],
                evidence=heard(at),
                confidence=1,
            )
            for at, finding in enumerate(key.findings)
        ],
        flagged_words=[
            FlaggedWord(
                word=flag.word, condition=flag.condition, reading=flag.reading, evidence=heard(at)
            )
            for at, flag in enumerate(key.flagged)
        ],
        statements=[],
        zones=[],
        repairs=[],
        unheard=[],
        coverage=Coverage(
            by_status={}, by_reference=0, total=0, required_total=0, required_covered=0
        ),
    )


def with_item(name: str, status: ItemStatus, by_reference: bool = False) -> Result:
    result = result_of(KEY)
    item = next(item for item in result.items if item.id == name)
    item.status, item.by_reference = status, by_reference
    return result


def with_finding(at: int, change: Callable[[Finding], None]) -> Result:
    result = result_of(KEY)
    change(result.findings[at])
    return result


def test_a_right_result_has_full_marks() -> None:
    marks = score(result_of(KEY), KEY)
    assert (marks.item_accuracy, marks.spoken_accuracy, marks.reading_accuracy) == (1, 1, 1)
    assert marks.total == 205
    assert [one.item for one in marks.defects.found] == [
        LINE,
        "number-one-engine.cowling-catch.number-one",
        "tail-rotor.tail-rotor-blade",
        "number-two-engine.engine-harness.number-two",
        "right-main-gear.main-tyre.right",
    ]
    assert not (marks.wrong or marks.invented or marks.wrong_notes or marks.flagged_extra)
    assert not (marks.defects.missed or marks.defects.false or marks.remarks.missed)
    assert marks.flagged_listed == len(KEY.flagged)


@pytest.mark.parametrize(
    ("item", "status", "by_reference", "invented", "invented_by_reference"),
    [
        (PROBE, ItemStatus.SATISFACTORY, False, True, False),
        (PROBE, ItemStatus.NOT_FITTED, False, True, False),
        (PROBE, ItemStatus.SATISFACTORY, True, False, True),
        (PROBE, ItemStatus.LOOKED_FOR, False, False, False),
        (SLAT, ItemStatus.SATISFACTORY, False, True, False),
        (CONE, ItemStatus.UNHEARD, False, False, False),
        (CONE, ItemStatus.REMARK, False, False, False),
        (LINE, ItemStatus.SATISFACTORY, False, False, False),
    ],
)
def test_a_wrong_line_is_counted_and_an_invented_one_named(
    item: str, status: ItemStatus, by_reference: bool, invented: bool, invented_by_reference: bool
) -> None:
    marks = score(with_item(item, status, by_reference), KEY)
    assert [one.item for one in marks.wrong] == [item]
    assert [one.item for one in marks.invented] == [item] * invented
    assert [one.item for one in marks.invented_by_reference] == [item] * invented_by_reference
    assert marks.item_accuracy == pytest.approx(204 / 205)


def test_a_defect_on_no_line_is_found_but_unplaced() -> None:
    defects = score(with_finding(1, lambda one: setattr(one, "item", None)), KEY).defects
    assert [one.item for one in defects.unplaced] == [LINE]
    assert not (defects.missed or defects.false)


def test_a_defect_on_another_line_is_both_missed_and_false() -> None:
    defects = score(with_finding(1, lambda one: setattr(one, "item", CONE)), KEY).defects
    assert [one.item for one in defects.missed] == [LINE]
    assert [one.item for one in defects.false] == [CONE]


def test_a_defect_called_a_remark_is_missed() -> None:
    marks = score(with_finding(1, lambda one: setattr(one, "verdict", Verdict.REMARK)), KEY)
    assert [one.item for one in marks.defects.missed] == [LINE]
    assert [one.item for one in marks.remarks.false] == [LINE]


def test_a_defect_under_another_condition_is_found_and_noted() -> None:
    defects = score(with_finding(1, lambda one: setattr(one, "condition", "crack")), KEY).defects
    assert [one.item for one in defects.wrong_condition] == [LINE]
    assert not defects.missed


def test_a_flagged_word_left_out_or_misread_does_not_shift_the_others() -> None:
    result = result_of(KEY)
    del result.flagged_words[10]
    result.flagged_words[20].reading = FlaggedReading.UNCLEAR
    marks = score(result, KEY)
    assert marks.flagged_missed == [KEY.flagged[10]]
    assert [flag for flag, _ in marks.flagged_misread] == [KEY.flagged[21]]
    assert marks.reading_accuracy == pytest.approx(1 - 1 / (len(KEY.flagged) - 1))


def test_a_flagged_word_that_nobody_said_is_extra() -> None:
    result = result_of(KEY)
    added = FlaggedWord(
        word="rust", condition="corrosion", reading=FlaggedReading.PRESENT, evidence=heard(0.5)
    )
    result.flagged_words.append(added)
    marks = score(result, KEY)
    assert marks.flagged_extra == [added]
    assert not marks.flagged_missed
