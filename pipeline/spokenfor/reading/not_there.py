"""Flagged words that are said not to be there ("*leakage* is not there at all", "cracks are not there"), as is
usual in Indian English (*common practice*)."""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc

from spokenfor.models import FlaggedReading
from spokenfor.reading.contractions import spoken, spoken_words
from spokenfor.reading.targets import SentenceReading, Target

_BEING = frozenset("is are was were also anywhere".split())
_HOW = frozenset(
    "loose bent worn torn soft flat low dry stiff wet dirty slack bald split cut".split()
)
_NOT_THERE = (["not", "there"], ["is", "not", "there"], ["are", "not", "there"])


def deny_not_there(doc: Doc, reading: SentenceReading) -> None:
    """Reads a flagged word as absent where what follows says no more than that it is not there; that is then no
    part that is missing."""
    gone: list[Target] = []
    for first, second in pairwise(reading.targets):
        if not (first.is_condition and second.is_condition):
            continue
        between = spoken_words(doc, first.span.end, second.span.start)
        is_denied = spoken(second.span) in _NOT_THERE and _BEING.issuperset(between)
        is_thing = not _is_how_it_is(spoken(first.span)[-1])
        if is_denied and is_thing and first.reading is FlaggedReading.PRESENT:
            first.reading = FlaggedReading.ABSENT
            gone.append(second)
    for one in gone:
        reading.targets.remove(one)


def _is_how_it_is(word: str) -> bool:
    """Whether a flagged word says how a part is that is then missing ("wick broken, is not there")."""
    return word in _HOW or word.endswith(("ed", "en"))
