"""The transcript on the page: no word lost, no repair hidden (promise 4)."""

import re

import pytest

from spokenfor.models import Evidence, Repair, Result, Transcript, Word
from spokenfor.reporting.heard_lines import heard_lines
from spokenfor.reporting.timeline import Timeline


def lines(transcript: Transcript, result: Result):
    pages = heard_lines(transcript, result, Timeline(transcript.recordings, ()))
    return [line for page in pages for line in page]


def test_every_word_stands_as_first_heard(transcript: Transcript, result: Result):
    shown = [" ".join(run.heard for run in one.runs) for one in lines(transcript, result)]
    assert [one for one in shown if one] == [segment.text for segment in transcript.segments]


def test_every_repair_is_marked_in_its_line(transcript: Transcript, result: Result):
    marked = [
        (run.heard, run.became)
        for one in lines(transcript, result)
        for run in one.runs
        if run.became is not None
    ]
    assert marked == [(repair.heard, repair.became) for repair in result.repairs]


def test_unheard_stretches_stand_between_the_words(transcript: Transcript, result: Result):
    shown = [one.unheard or one.runs[0].heard for one in lines(transcript, result)]
    place = shown.index("too noisy")
    assert shown[place - 1] == "Number two same as number one."
    assert shown[place + 1].startswith("Fuel filter bypass")


def _repair(heard: str, became: str, start: float, end: float) -> Repair:
    return Repair(
        heard=heard,
        became=became,
        evidence=Evidence(recording=0, start=start, end=end, heard=heard, text=became),
        phonetic_score=1,
        spelling_score=1,
        why="sounds the same",
    )


SPOKEN = "the break and the other break are fine"


# repairs as (heard, became, start, end), one word a second | the line, [became] after the words
@pytest.mark.parametrize(
    ("repairs", "shown"),
    [
        ([("break", "brake", 5, 6)], "the break and the other break[brake] are fine"),
        (
            [("break", "brake", 0, 8), ("break", "brake", 0, 8)],
            "the break[brake] and the other break[brake] are fine",
        ),
        ([("Break,", "brake", 0, 8)], "the break[brake] and the other break are fine"),
        ([("brook", "brake", 0, 8)], "the break and the other break are fine brook[brake]"),
        ([("the break", "the brake", 0, 2)], "the break[the brake] and the other break are fine"),
    ],
    ids=["by its seconds", "two of one kind", "whatever its case", "not found again", "two words"],
)
def test_a_repair_is_found_by_its_words_and_seconds(
    transcript: Transcript, result: Result, repairs: list, shown: str
):
    segment = transcript.segments[0]
    segment.words = [
        Word(text=word, start=second, end=second + 1, probability=1)
        for second, word in enumerate(SPOKEN.split())
    ]
    segment.start, segment.end = 0, 8
    transcript.segments, result.unheard = [segment], []
    result.repairs = [_repair(*one) for one in repairs]
    (line,) = lines(transcript, result)
    text = " ".join(f"{run.heard}[{run.became}]" if run.became else run.heard for run in line.runs)
    assert text == shown
    assert SPOKEN in re.sub(r"\[.*?\]", "", text)
