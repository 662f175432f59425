"""What words around a good result make of it: "*far too* tight", "clean *gone*", "works *intermittently*". All
words: *common practice* of spoken English."""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc, Span

from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken_words
from spokenfor.reading.document import table_of

_NEARLY = frozenset("nearly almost".split())
_FULL = frozenset(
    "full brimmed brim top mark line tabs new perfect spotless midway halfway half".split()
)
# "Clean gone", "three quarters empty": what follows at once is what is meant.
_GONE = frozenset("gone away empty missing off".split())
_BEFORE_GONE = frozenset("clean clear quarters half".split())
_HARDLY = frozenset("hardly barely rarely seldom scarcely".split())
_AT_TIMES = (
    ("intermittently",),
    ("sometimes",),
    ("occasionally",),
    ("sporadically",),
    ("off", "and", "on"),
    ("on", "and", "off"),
    ("now", "and", "then"),
    ("at", "times"),
    ("as", "badly"),
    ("as", "bad"),
    ("upside", "down"),
    ("back", "to", "front"),
    ("inside", "out"),
    ("half", "the", "time"),
    ("some", "of", "the", "time"),
    ("with", "no", "effect"),
    ("with", "no", "resistance"),
    ("from", "down", "here"),
    ("from", "the", "ground"),
)
_TO_COME = frozenset("still yet needs need wants want has have".split())
# How far behind a result the word may stand that spoils it.
_BEHIND = 4


def falls_short(doc: Doc, span: Span) -> bool:
    """Whether a good result is only nearly reached ("*almost* home", "*just short of* over centre"), or more or
    less than reached ("*far too* tight", "*less* tight", "clean *gone*"); a level may be nearly full, and what
    is nearly as good as new is good."""
    if span.label_ == TermKind.CONDITION:
        return False
    table, at = table_of(doc), span.start
    first, after = table.first[at], table.after[at]
    before = table.key[max(first, at - 3) : at]
    nearly = before[-1:] and before[-1] in _NEARLY
    if nearly and not _FULL.intersection(table.key[span.start : span.end]):
        return True
    if before[-1:] in (["too"], ["less"]) and before[-2:-1] not in ([","], ["none"], ["no"]):
        return True
    follows = table.key[span.end] if span.end < after else ""
    gone = follows in _GONE and table.key[span.end - 1] in _BEFORE_GONE and _ends(doc, span.end)
    return gone or before[-2:] == ["short", "of"]


def is_spoiled(doc: Doc, span: Span) -> bool:
    """Whether a good result holds only at times or for some, or is yet to come ("*rarely* latches", "works *off
    and on*", "*only three* are in", "*still to be* wire locked"): it says nothing for certain."""
    if span.label_ == TermKind.CONDITION:
        return False
    table, at = table_of(doc), span.start
    first, after = table.first[at], table.after[at]
    before = table.key[max(first, at - 3) : at]
    to_come = before[-2:] == ["to", "be"] and not _TO_COME.isdisjoint(before[:1])
    if to_come or ("never", "been") in pairwise(before):
        return True
    if not _HARDLY.isdisjoint(before[-1:]) or (
        table.key[at] == "tight" and before[-1:] in (["finger"], ["hand"])
    ):
        return True
    behind = spoken_words(doc, span.end, min(after, span.end + _BEHIND))
    if any(_stands_in(one, behind) for one in _AT_TIMES):
        return True
    return any(one == "only" and two.isdigit() for one, two in pairwise([*before, table.key[at]]))


def _ends(doc: Doc, at: int) -> bool:
    """Whether a stretch ends with a token."""
    table = table_of(doc)
    return at + 1 >= table.after[at] or not table.is_word[at + 1]


def _stands_in(some: tuple[str, ...], words: list[str]) -> bool:
    return any(tuple(words[at : at + len(some)]) == some for at in range(len(words)))
