"""Good results that are none of some things: a reservoir that is dry, a tyre that is smooth, controls that are
locked solid. Told by the aspects that the pack gives a component; all words: *common practice*."""

from __future__ import annotations

from spokenfor.packs.schema import Component
from spokenfor.packs.wording import words_of
from spokenfor.reading.asides import FELT_WITH
from spokenfor.reading.contractions import spoken, spoken_words
from spokenfor.reading.document import table_of
from spokenfor.reading.targets import Target

_DIPPED = frozenset("finger fingers rag cloth tissue towel".split())
_COMING = frozenset("came comes come coming".split())
_STICK = frozenset("dipstick stick".split())
_SCREWED = frozenset("nut bolt screw rivet stud fastener".split())
_GREASED = frozenset(("greased", "lubricated"))
_FILLED = frozenset("pressure charge extension".split())
_HELD = frozenset("locking security play".split())
_AIR = frozenset("air oleo strut bellows float".split())
_SUNK = frozenset("sat sits sitting lying lies".split())
_SOLID = frozenset("solid hard on when".split())
_LIT = frozenset("lit shines shining burning flashing blinking alight glowing winking".split())
_MOVES = frozenset(
    "move moved moves moving budge budged shift shifted give turn turns spin spins".split()
)
# Of these "nothing" is no answer to their trial ("horn, *nothing*").
_TRIED = frozenset("lamp flasher sounder switched-on gauge".split())
_DENIALS = frozenset("not no never nothing none".split())
# Who tries it with force means that it is fast.
_FORCE = frozenset(
    "push pushing pushed pull pulling pulled tug tugging tugged rock rocking rocked shake shaking shook shove "
    "shoving shoved lever levering lean leaning hang hanging squeeze squeezing twist twisting kick kicked "
    "knock prise wobble waggle heave".split()
)


def misfits(target: Target, component: Component) -> bool:
    """Whether a good result in general words says nothing good of a component, or nothing for certain."""
    words, aspects = set(spoken(target.span)), set(component.aspects)
    if "level" in aspects and _tells_empty(target, words, "leaks" in aspects):
        return True
    if "dry" in words and _GREASED.intersection(component.states.expected):
        return True
    if "pressure" in aspects and "smooth" in words:
        return True
    if _TRIED.intersection(component.kinds):
        told = _piece(target) - set(words_of(component.prefLabel))
        if told == {"nothing"}:
            return True
    elif words == {"come", "on"}:
        return True  # "Cowling, *come on*": to somebody or something else.
    denied = bool(words & _DENIALS)
    if aspects & _FILLED or not _AIR.isdisjoint(words_of(component.prefLabel)):
        around = _piece(target)
        if "flat" in around or ("down" in around and around & _SUNK):
            return True
        if denied and words & {"give", "flex"}:
            return True
    if "locking" not in aspects and words & {"locked", "locks", "solid"}:
        around = words | _piece(target)
        if around & {"locked", "locks"} and ("solid" in around or words & _SOLID):
            return True
    if "indication" in aspects and words & _LIT:
        return True
    return _moves_wrongly(target, words, component, denied)


def _tells_empty(target: Target, words: set[str], may_leak: bool) -> bool:
    """Whether a result of what has a level says that there is none: "dry" may mean that it does not leak, where
    it may, and what is felt with a hand always does."""
    if words & {"clean", "dry", "white"} and _is_dipped(words | _piece(target)):
        return True
    if "dry" in words and ("bone" in words or not (may_leak or words & FELT_WITH)):
        return True
    return "in" in words and bool(words & {"drop", "spot"})


def _is_dipped(words: set[str]) -> bool:
    """Whether words tell of what was dipped into a thing to see how full it is."""
    return bool(words & _DIPPED and words & _COMING) or bool(words & _STICK)


def _moves_wrongly(target: Target, words: set[str], component: Component, denied: bool) -> bool:
    """Whether a component that should work is said not to move or to be silent, or one that should be fast to
    turn. Who tries it with force means that it is fast, but for what is there to be moved."""
    if words & _MOVES and not denied and not _SCREWED.isdisjoint(words_of(component.prefLabel)):
        return True
    aspects = set(component.aspects)
    if "operation" not in aspects:
        return aspects == {"security"} and bool(words & _MOVES) and not denied
    if words >= {"dead", "silent"}:
        return True
    if denied and words & {"coming", "came", "comes"} and "leaks" not in aspects:
        return True
    if not (denied and words & _MOVES):
        return False
    if "condition" not in aspects:
        return True
    return not aspects & _HELD and _FORCE.isdisjoint(_around(target))


def _piece(target: Target) -> set[str]:
    """The words around a result, from mark to mark."""
    table, start, end = table_of(target.span.doc), target.span.start, target.span.end
    while start > table.first[target.span.start] and table.is_word[start - 1]:
        start -= 1
    while end < table.after[target.span.start] and table.is_word[end]:
        end += 1
    return set(spoken_words(target.span.doc, start, end))


def _around(target: Target) -> set[str]:
    """The words of the sentence that a result stands in."""
    doc, at = target.span.doc, target.span.start
    table = table_of(doc)
    return set(spoken_words(doc, table.first[at], table.after[at]))
