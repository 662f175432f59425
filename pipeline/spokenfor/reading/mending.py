"""Trouble, a deed, and then a good result ("moths in the fins, brushed, clear"; "it had mud all over it, I've
wiped it, it's clean now"): the thing was put right, and its line must not look as if nothing had been found.

The trouble may be told in words that no phrase lists; the deed in few words that say no result. All words:
*common practice* of spoken English.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import takewhile

from spacy.tokens import Doc

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spoken_words
from spokenfor.reading.document import (
    CUES,
    QUANTITIES,
    key_of,
    mentioned,
    table_of,
    tokens_of,
    within,
)
from spokenfor.reading.joining import only_names
from spokenfor.reading.past_trouble import lies_in_it, was_found
from spokenfor.reading.targets import SentenceReading, Target, states_good
from spokenfor.reading.unit import Unit
from spokenfor.reading.unlisted import clause_lean

TROUBLE = 0.35
"""How probably (0..1) the words of a clause must tell of a fault, where a deed and a good result follow."""

_BACK = 5
_NEAR = 3
_BY_NOW = frozenset("now again".split())
_DONE = frozenset(
    "out off away gone in back up new turn wiped got done undone binned moved taken gave given".split()
)
_LONGEST_DEED = 4
_LONGEST_FIND = 5
_LIES = frozenset("in on across over inside under behind round all".split())
_TOOLS = frozenset(
    "torch lamp light mirror hand hands head finger fingers eyes eye gauge key foot knuckles thumb nail nails "
    "ear nose glove boot palm shoulder".split()
)
_ONLY_WHERE = frozenset("1 2 3 4 one ones next and the then other now so right on to at in".split())
# "Gave it a shake" tries a thing and mends nothing.
_TRIALS = frozenset(
    "shake tug rock push pull wiggle waggle wobble rattle squeeze twist spin try look press prod poke".split()
)
_DOERS = frozenset("i we have".split())
# "Out we go", "up on the ladder": the speaker moves, and no part.
_ONESELF = frozenset("my go get gets climb ladder steps step stand knees".split())
_ALL_GONE = frozenset("gone it they that is are have has all now both so".split())
_AWAY = frozenset("out off away gone".split())
_TRIED = frozenset(
    "tried checked tested pulled pushed pressed rocked turned moved opened closed worked looked watched "
    "squeezed lifted tapped noticed marked counted".split()
)
_POINTED_AT = frozenset("it them that those both".split())
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
        deed, removed = by_now, set[str]()
        positions = frozenset[str]().union(*(one.positions for one in here))
        for at in range(len(before) - 1, max(-1, len(before) - 1 - _BACK), -1):
            one = before[at]
            others = one.names and component not in one.names
            if number - one.sentence > _NEAR or others or one.excused:
                return False
            if positions and one.positions and positions.isdisjoint(one.positions):
                return False
            positions |= one.positions
            if deed and (self._tells_trouble(one) or not removed.isdisjoint(one.words)):
                named = self._named_last(before[: at + 1])
                return not named or component in named
            if one.good and not one.deed:
                return False
            deed |= one.deed
            removed |= _removed(one.words) if one.deed else set()
        return False

    def _tells_trouble(self, one: _Clause) -> bool:
        if one.good or one.excused or one.words[-1:] == ["none"]:
            return False
        zones = tokens_of(mentioned(self._doc, TermKind.ZONE, one.start, one.end))
        words = {
            word
            for at in range(one.start, one.end)
            if at not in zones
            for word in spoken_words(self._doc, at, at + 1)
        }
        if _ONLY_WHERE.union(one.positions).issuperset(words):
            return False
        named = mentioned(self._doc, TermKind.COMPONENT, one.start, one.end)
        if named and only_names(self._doc, one.start, one.end, named):
            return False
        if (
            was_found(one.words)
            or (not one.names and lies_in_it(one.words))
            or _lies_there(self._doc, one.start, one.end)
        ):
            return True
        return clause_lean(self._doc, one.start, one.end).bad >= TROUBLE

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
        telling = [one for one in targets if one.unlisted is None and not _is_small(one)]
        short = not (names or telling) and len(words) <= _LONGEST_DEED and _tells_deed(words)
        excused = aside or absent or bool(labels & _EXCUSED) or reading.is_aside(start)
        poured = words[-1:] == ["in"] and bool(within(doc, QUANTITIES, start, end))
        deed = listed or short or poured or _tells_own_deed(words)
        return _Clause(start, end, number, names, positions, words, deed, good, excused)


def _concepts(doc: Doc, kind: TermKind, start: int, end: int) -> frozenset[str]:
    spans = mentioned(doc, kind, start, end)
    return frozenset(concept for span in spans for concept in span._.term.concepts)


def _is_small(target: Target) -> bool:
    """Whether a result is a state word that says as well where something went ("tape *off*")."""
    state = target.span.label_ == TermKind.STATE
    return state and len(target.span) == 1 and key_of(target.span[0]) in _DONE


def _lies_there(doc: Doc, start: int, end: int) -> bool:
    """Whether a clause only says what lies in or on a component that it names last ("*leaves* in the intake",
    "*mud* all over the number plate"), and that is none of the speaker's tools."""
    named = mentioned(doc, TermKind.COMPONENT, start, end)
    if len(named) != 1 or any(table_of(doc).is_word[at] for at in range(named[0].end, end)):
        return False
    words = [
        table_of(doc).key[at] for at in range(start, named[0].start) if table_of(doc).is_word[at]
    ]
    things = list(takewhile(lambda word: word not in _LIES, words))
    where = words[len(things) :]
    known = within(doc, CUES, start, start + 1) or things[:1] == ["no"]
    return (
        bool(things and where)
        and not known
        and _TOOLS.isdisjoint(things)
        and len(words) <= _LONGEST_FIND
    )


def _removed(words: Sequence[str]) -> set[str]:
    """What a deed of few words takes away ("*leaf* out", "*tape* off")."""
    away = len(words) > 1 and words[-1] in _AWAY
    return set(words[-2:-1]) - _POINTED_AT if away and len(words) <= _LONGEST_DEED else set()


def _tells_own_deed(words: Sequence[str]) -> bool:
    """Whether words say what somebody has done to something pointed at ("so I've *scraped it off* with my
    boot")."""
    return any(
        first in _DOERS
        and done not in _TRIED
        and what in _POINTED_AT
        and (done.endswith("ed") or done in _DONE)
        for first, done, what in zip(words, words[1:], words[2:], strict=False)
    )


def _tells_deed(words: Sequence[str]) -> bool:
    # "Rubber's gone" is a fault, "all gone now" a deed.
    moved = not _ONESELF.isdisjoint(words)
    moved = moved or ("gone" in words and not _ALL_GONE.issuperset(words))
    moved = moved or ("gave" in words and not _TRIALS.isdisjoint(words))
    done = any(
        word in _DONE or (word.endswith("ed") and len(word) > 4 and word != "counted")
        for word in words
    )
    return done and not moved
