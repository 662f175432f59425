"""Which numbers of a sentence stand: units shared, corrections and changes followed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import zip_longest

from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import CUES, MENTIONS, within
from spokenfor.reading.measures import Measure
from spokenfor.reading.number_names import BREAK
from spokenfor.reading.sentence_words import SentenceWords

_FOLLOWS_SHARED = frozenset(
    [BREAK, "on", "at", "now", "here", "left", "right", "for", "and", "but", "in"]
)
_CHANGED = frozenset(
    "pumped raised brought went gone dropped increased reduced topped taken inflated fell risen up "
    "down".split()
)
_READ = frozenset(
    "it's reading reads read get got gives gave to at showing shows make makes they're i've has".split()
)
_DUE = frozenset("should shouldn't ought supposed meant must wants minimum maximum".split())
_NO = frozenset(
    ["no", "no no", "make that", "no make that", "no it's", "no that's", "actually", "i mean"]
)


def completed(said: SentenceWords, found: list[Measure]) -> list[Measure]:
    """Measures, with numbers that share a unit said elsewhere in the sentence: "left eighty eight, right
    ninety psi", "seventeen psi, sorry, seventy"."""
    complete: list[Measure] = []
    for at, one in enumerate(found):
        if one.unit:
            complete.append(one)
            continue
        before = complete[-1] if complete else None
        if before is not None and _taken_back(said, before, one):
            complete.append(replace(one, unit=before.unit))
            continue
        model = before or next((later for later in found[at:] if later.unit), None)
        if model is not None and _set_beside(said, one, model):
            complete.append(replace(one, unit=model.unit))
    return complete


def _set_beside(said: SentenceWords, one: Measure, model: Measure) -> bool:
    """Whether a bare number is of the kind of a measure and said of another side or time, or is what was read
    where the measure is what should be ("should be above 24 volts, *it's reading 21*")."""
    first, after = said.region(one)
    positions = [
        mention.label_ == TermKind.POSITION
        for mention in within(said.doc, MENTIONS, *said.tokens_of(first, after))
    ]
    follows = said.words[one.after] if one.after < len(said.words) else BREAK
    due = model.limit or not _DUE.isdisjoint(said.words[: one.first])
    read = due and not _READ.isdisjoint(said.words[max(first, one.first - 2) : one.first])
    return (
        (any(positions) or "now" in said.words[first:after] or read)
        and model.value / 3 <= one.value <= model.value * 3
        and follows in _FOLLOWS_SHARED
    )


def corrected(said: SentenceWords, found: list[Measure]) -> list[Measure]:
    """What stands after corrections ("ninety psi, sorry, eighty psi") and changes ("from sixty up to
    seventy psi")."""
    kept: list[Measure] = []
    for one, later in zip_longest(found, found[1:]):
        if later is not None:
            taken_back = _taken_back(said, one, later)
            if taken_back and later.unit == one.unit and not _moved(said, one, later):
                continue
            if _changed(said.words, one, later):
                continue
        kept.append(one)
    return kept


def _changed(words: Sequence[str], one: Measure, later: Measure) -> bool:
    """Whether the first of two numbers was left behind: "sixty psi up to seventy psi", "pumped from sixty to
    seventy"."""
    if one.ranged and one.whole == later.whole:
        before = words[max(0, one.first - 6) : one.first]
        return bool(before) and before[-1] == "from" and not _CHANGED.isdisjoint(before)
    between = list(words[one.after : later.first])
    return len(between) <= 4 and between[-2:] in (["up", "to"], ["down", "to"], ["back", "to"])


def _taken_back(said: SentenceWords, one: Measure, later: Measure) -> bool:
    """Whether a number is corrected by the next."""
    between = said.words[one.after : later.first]
    if not between:
        return False
    cues = within(said.doc, CUES, *said.tokens_of(one.after, later.first))
    corrected = any(cue.label_ == CueCategory.CORRECTION for cue in cues)
    return corrected or " ".join(word for word in between if word != BREAK) in _NO


def _moved(said: SentenceWords, one: Measure, later: Measure) -> bool:
    """Whether it is the place that was corrected: "on the left, sorry, right"."""
    between = within(said.doc, MENTIONS, *said.tokens_of(one.after, later.first))
    return any(mention.label_ != TermKind.CONDITION for mention in between)
