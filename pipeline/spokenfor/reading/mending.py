"""Trouble, a deed, and then a good result ("moths in the fins, brushed, clear"; "it had mud all over it, I've
wiped it, it's clean now"): the thing was put right, and its line must not look as if nothing had been found.

The trouble may be told in words that no phrase lists; the deed in few words that say no result. All words:
*common practice* of spoken English.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spacy.tokens import Doc

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spoken_words
from spokenfor.reading.document import CUES, mentioned, within
from spokenfor.reading.past_trouble import was_found
from spokenfor.reading.targets import SentenceReading, states_good
from spokenfor.reading.unit import Unit
from spokenfor.reading.unlisted import clause_lean

TROUBLE = 0.4
"""How probably (0..1) the words of a clause must tell of a fault, where a deed and a good result follow."""

_BACK = 5
_NEAR = 2
_BY_NOW = frozenset("now again".split())
_DONE = frozenset(
    "out off away gone in back up new turn wiped got done undone binned moved taken gave given".split()
)
_LONGEST_DEED = 4
_EXCUSED = {
    CueCategory.WITHIN_LIMITS.value,
    CueCategory.HARMLESS.value,
    CueCategory.HISTORY.value,
    CueCategory.SUPPOSED.value,
    CueCategory.EXPECTED.value,
    CueCategory.PURPOSE.value,
    CueCategory.ELSEWHERE.value,
    CueCategory.IRONY.value,
    CueCategory.NOT_INSPECTED.value,
    CueCategory.NOT_FITTED.value,
    CueCategory.RULE.value,
    CueCategory.CORRECTION.value,
    CueCategory.ANY.value,
}


@dataclass(frozen=True)
class _Clause:
    """What a clause is to those after it: its tokens, words and sentence, the components and positions it
    names, and whether it tells of a deed, or of a result that holds good; `excused` where no trouble counts in
    it or before it."""

    start: int
    end: int
    sentence: int
    names: frozenset[str]
    positions: frozenset[str]
    words: list[str]
    deed: bool
    good: bool
    excused: bool


class Mending:
    """Follows what is told, clause by clause, of trouble and of deeds."""

    def __init__(self, doc: Doc) -> None:
        self._doc = doc
        self._clauses: list[_Clause] = []

    def enter(self, reading: SentenceReading, number: int) -> None:
        """Takes in a sentence whose results are known, in the order of speech."""
        aside = reading.is_question or reading.ironic
        self._clauses += [
            self._clause(reading, start, end, number, aside) for start, end in reading.clauses
        ]
        del self._clauses[: -4 * _BACK]

    def mended(self, unit: Unit, component: str, number: int) -> bool:
        """Whether the good result of a unit is what was done about trouble told before."""
        goods = [target.span.start for target in unit.targets if states_good(target)]
        if not goods:
            return False
        before = [one for one in self._clauses if one.end <= goods[0]]
        here = [one for one in self._clauses if one.start <= goods[0] < one.end]
        by_now = bool(here) and not _BY_NOW.isdisjoint(
            spoken(self._doc[here[0].start : here[0].end])
        )
        deed = by_now
        positions = frozenset[str]().union(*(one.positions for one in here))
        for at in range(len(before) - 1, max(-1, len(before) - 1 - _BACK), -1):
            one = before[at]
            others = one.names and component not in one.names
            if number - one.sentence > _NEAR or others or one.excused:
                return False
            if positions and one.positions and positions.isdisjoint(one.positions):
                return False
            positions |= one.positions
            if deed and self._tells_trouble(one):
                named = self._named_last(before[: at + 1])
                return not named or component in named
            if one.good and not one.deed:
                return False
            deed |= one.deed
        return False

    def _tells_trouble(self, one: _Clause) -> bool:
        if one.good or one.excused:
            return False
        return was_found(one.words) or clause_lean(self._doc, one.start, one.end).bad >= TROUBLE

    @staticmethod
    def _named_last(clauses: Sequence[_Clause]) -> frozenset[str]:
        """What the last of some clauses is of: what it names, or what was named last before it, here or shortly
        before."""
        near = clauses[-1].sentence - _NEAR
        names = (one.names for one in reversed(clauses) if one.sentence >= near)
        return next(filter(None, names), frozenset())

    def _clause(
        self, reading: SentenceReading, start: int, end: int, number: int, aside: bool
    ) -> _Clause:
        doc = self._doc
        names = _concepts(doc, TermKind.COMPONENT, start, end)
        positions = _concepts(doc, TermKind.POSITION, start, end)
        labels = {cue.label_ for cue in within(doc, CUES, start, end)}
        targets = [one for one in reading.targets if start <= one.span.start < end]
        good = any(map(states_good, targets))
        absent = any(one.is_condition and one.reading is FlaggedReading.ABSENT for one in targets)
        words = spoken_words(doc, start, end)
        listed = CueCategory.PUT_RIGHT.value in labels
        short = not (names or targets) and len(words) <= _LONGEST_DEED and _tells_deed(words)
        excused = aside or absent or bool(labels & _EXCUSED) or reading.is_aside(start)
        deed = listed or short
        return _Clause(start, end, number, names, positions, words, deed, good, excused)


def _concepts(doc: Doc, kind: TermKind, start: int, end: int) -> frozenset[str]:
    spans = mentioned(doc, kind, start, end)
    return frozenset(concept for span in spans for concept in span._.term.concepts)


def _tells_deed(words: Sequence[str]) -> bool:
    return any(word in _DONE or (word.endswith("ed") and len(word) > 4) for word in words)
