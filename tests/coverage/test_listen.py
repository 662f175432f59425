"""Which lines a person is told to listen to: those that are unsure, and those that rest on something doubtful."""

from __future__ import annotations

import pytest
from tests.spoken import PACK, spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.coverage.confidence import doubted
from spokenfor.models import (
    Evidence,
    Item,
    Reading,
    Repair,
    SoundKind,
    SoundStretch,
    Transcript,
    UnheardReason,
)
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import build, read

GEAR = "nose-gear.nose-tyre"


def line(transcript: Transcript, item: str) -> Item:
    """One line of the sheet."""
    reading = read(transcript, PACK, build(PACK))
    result = assemble(transcript, reading, load_pack(PACK))
    return next(one for one in result.items if one.id == item)


def as_sure(transcript: Transcript, probability: float) -> Transcript:
    """The same words, each this probable."""
    return transcript.model_copy(
        update={
            "segments": [
                segment.model_copy(
                    update={
                        "words": [
                            word.model_copy(update={"probability": probability})
                            for word in segment.words
                        ]
                    }
                )
                for segment in transcript.segments
            ]
        }
    )


def test_words_well_heard_need_no_listening() -> None:
    found = line(spoken("Now the nose gear.\nNose tyre is in good condition."), GEAR)
    assert (found.status.value, found.listen) == ("satisfactory", False)


@pytest.mark.parametrize("probability", [0.3, 0.55])
def test_doubtful_words_are_marked(probability: float) -> None:
    text = "Now the nose gear.\nNose tyre is in good condition."
    assert line(as_sure(spoken(text), probability), GEAR).listen


def test_what_was_put_right_is_marked() -> None:
    settled = "Now the nose gear.\nNose tyre is flat. Pumped it up, and it is fine now."
    found = line(spoken(settled), GEAR)
    assert (found.status.value, found.note) == ("satisfactory", "found and put right")
    assert found.listen


@pytest.mark.parametrize(("pause", "marked"), [(1.0, True), (30.0, False)])
def test_a_fault_that_nobody_can_place_casts_doubt_on_what_stands_beside_it(
    pause: float, marked: bool
) -> None:
    text = "Now the nose gear.\nNose tyre is in good condition.\nThe wobbler is cracked."
    transcript = spoken(text, pause=pause)
    reading = read(transcript, PACK, build(PACK))
    assert any(one.item is None and one.verdict.value == "defect" for one in reading.statements)
    assert line(transcript, GEAR).listen is marked


@pytest.mark.parametrize(
    ("phonetic", "probability", "doubt"),
    [(0.95, 0.99, False), (0.7, 0.99, True), (0.95, 0.9, True), (0.95, None, False)],
)
def test_a_repair_is_in_doubt_if_improbable_or_unlike(
    phonetic: float, probability: float | None, doubt: bool
) -> None:
    repair = Repair(
        heard="bitch links",
        became="pitch link",
        evidence=Evidence(recording=0, start=1.0, end=2.0, heard="bitch links", text="pitch link"),
        phonetic_score=phonetic,
        spelling_score=0.9,
        sound_score=1.0,
        probability=probability,
        why="the sound allows it",
    )
    assert doubted(repair) is doubt


def reading_with(repair: Repair, transcript: Transcript) -> Reading:
    """What was read, with one repair more."""
    reading = read(transcript, PACK, build(PACK))
    return reading.model_copy(update={"repairs": [*reading.repairs, repair]})


@pytest.mark.parametrize(("probability", "marked"), [(0.9, True), (0.99, False)])
def test_a_line_rests_on_the_words_that_told_its_zone(probability: float, marked: bool) -> None:
    transcript = spoken("Now the nose gear.\nNose tyre is in good condition.")
    first = transcript.segments[0]
    proof = Evidence(
        recording=0, start=first.start, end=first.end, heard="nose deer", text="nose gear"
    )
    repair = Repair(
        heard="nose deer",
        became="nose gear",
        evidence=proof,
        phonetic_score=0.9,
        spelling_score=0.9,
        sound_score=1.0,
        probability=probability,
        why="the sound allows it",
    )
    result = assemble(transcript, reading_with(repair, transcript), load_pack(PACK))
    found = next(one for one in result.items if one.id == GEAR)
    assert (found.status.value, found.listen) == ("satisfactory", marked)


@pytest.mark.parametrize(("seconds", "marked"), [(2.0, False), (8.0, True)])
def test_behind_much_unheard_sound_the_zone_may_have_been_left(
    seconds: float, marked: bool
) -> None:
    text = "Now the nose gear.\nNose wheel is good.\nNose tyre is in good condition."
    transcript = spoken(text, pause=10.0)
    after = transcript.segments[1].end
    unheard = SoundStretch(
        recording=0,
        start=after + 0.5,
        end=after + 0.5 + seconds,
        kind=SoundKind.UNHEARD,
        reason=UnheardReason.SPEECH_WITHOUT_WORDS,
    )
    found = line(transcript.model_copy(update={"ledger": [unheard]}), GEAR)
    assert (found.status.value, found.listen) == ("satisfactory", marked)
