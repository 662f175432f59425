"""Every second is exactly one of words, unheard or no speech."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spokenfor.hearing.ledger import ledger, uncovered
from spokenfor.models import Segment, Word


def segment(*times: tuple[float, float], doubtful: bool = False) -> Segment:
    words = [Word(text="secure", start=start, end=end, probability=0.9) for start, end in times]
    return Segment(recording=0, start=times[0][0], end=times[-1][1], words=words, doubtful=doubtful)


def told(entries) -> list[tuple[float, float, str]]:
    return [(e.start, e.end, e.reason.value if e.reason else e.kind.value) for e in entries]


CASES = {
    "silence": ({"segments": [], "speech": []}, [(0, 10, "no_speech")]),
    "words": (
        {"segments": [segment((1, 2), (2, 3))], "speech": [(1, 3)]},
        [(0, 1, "no_speech"), (1, 3, "words"), (3, 10, "no_speech")],
    ),
    "a stretch nobody understood": (
        {"segments": [segment((1, 2))], "speech": [(1, 2), (5, 8)]},
        [
            (0, 1, "no_speech"),
            (1, 2, "words"),
            (2, 5, "no_speech"),
            (5, 8, "speech_without_words"),
            (8, 10, "no_speech"),
        ],
    ),
    "doubtful words": (
        {"segments": [segment((1, 2), (2, 3), doubtful=True)], "speech": [(0.8, 3.1)]},
        [(0, 0.8, "no_speech"), (0.8, 3.1, "doubtful_words"), (3.1, 10, "no_speech")],
    ),
    "doubtful words where the sound is clipped": (
        {"segments": [segment((1, 3), doubtful=True)], "speech": [(1, 3)], "clipped": [(0, 4)]},
        [(0, 1, "no_speech"), (1, 3, "clipped"), (3, 10, "no_speech")],
    ),
    "understood though clipped": (
        {"segments": [segment((1, 3))], "speech": [(1, 3)], "clipped": [(0, 4)]},
        [(0, 1, "no_speech"), (1, 3, "words"), (3, 10, "no_speech")],
    ),
    "drowned but for a sentence": (
        {"segments": [segment((4, 5))], "speech": [(4, 5)], "drowned": [(0, 10)]},
        [(0, 4, "too_noisy"), (4, 5, "words"), (5, 10, "too_noisy")],
    ),
    "a missing tail": (
        {"segments": [segment((1, 2))], "speech": [(1, 2)], "missing": [(6, 10)]},
        [(0, 1, "no_speech"), (1, 2, "words"), (2, 6, "no_speech"), (6, 10, "missing_sound")],
    ),
}


@pytest.mark.parametrize("given_, expected", CASES.values(), ids=CASES.keys())
def test_what_each_second_was(given_, expected):
    assert told(ledger(0, 10.0, **given_)) == expected


def test_a_word_stretched_over_a_dropped_sentence_explains_only_itself():
    word = Word(text="secure", start=1, end=9, probability=0.9)
    ((start, end),) = uncovered([(1, 9)], [word])
    assert start == 1 and end == pytest.approx(7.7)


spans = st.lists(
    st.tuples(st.integers(0, 2000), st.integers(1, 400)).map(
        lambda pair: (pair[0] / 100, min((pair[0] + pair[1]) / 100, 20.37))
    ),
    max_size=6,
)


@settings(max_examples=300, deadline=None)
@given(spoken=spans, said=spans, unsure=spans, noisy=spans, flat=spans, gone=spans)
def test_no_gap_and_no_overlap(spoken, said, unsure, noisy, flat, gone):
    segments = [segment(span) for span in said] + [segment(s, doubtful=True) for s in unsure]
    entries = ledger(0, 20.37, segments, spoken, noisy, flat, gone)
    assert entries[0].start == 0 and entries[-1].end == 20.37
    assert all(one.end == two.start for one, two in itertools.pairwise(entries))
    assert all(entry.end > entry.start for entry in entries)
    assert all((entry.reason is None) == (entry.kind != "unheard") for entry in entries)
    for start, end in gone:
        middle = (start + end) / 2
        (there,) = [e for e in entries if e.start <= middle < e.end or e.end == middle == 20.37]
        assert there.reason == "missing_sound"
