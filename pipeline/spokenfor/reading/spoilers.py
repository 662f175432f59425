"""What words around a good result make of it: "*far too* tight", "clean *gone*", "works *intermittently*". All
words: *common practice* of spoken English."""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spoken_words
from spokenfor.reading.document import table_of

_NEARLY = frozenset("nearly almost".split())
_FULL = frozenset(
    "full brimmed brim top mark line tabs new perfect spotless midway halfway half".split()
)
# "Clean gone", "three quarters empty": what follows at once is what is meant.
_GONE = frozenset("gone away empty missing off".split())
_BEFORE_GONE = frozenset("clean clear quarters half".split())
_HARDLY = frozenset("hardly barely rarely seldom scarcely".split())
_AT_TIMES = {
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
    ("inside", "out"),
    ("half", "the", "time"),
    ("some", "of", "the", "time"),
    ("with", "no", "effect"),
    ("with", "no", "resistance"),
    ("from", "down", "here"),
    ("from", "the", "ground"),
    ("most", "of", "the", "time"),
    ("every", "now", "and"),
    ("long", "as"),
    ("barely",),
    ("eventually",),
    ("when", "it", "feels"),
    ("when", "i", "left"),
    ("1", "side", "only"),
    ("backwards",),
    ("instead", "of"),
    ("at", "first"),
    ("for", "a", "second"),
    ("for", "a", "bit"),
    ("for", "a", "while"),
    ("when", "it", "should"),
}
_LONGEST = max(map(len, _AT_TIMES))
_TO_COME = frozenset("still yet needs need wants want has have".split())
# How far behind a result the word may stand that spoils it.
_BEHIND = 4
_HELPING = frozenset("thump hit tap bang kick wiggle waggle shake thumped tapped lean".split())
_WHO = frozenset("you it they i we".split())
_WORKS = frozenset(
    "comes come works work flashes flash lights lit shuts shut closes latches runs sounds".split()
)
_UNTIL = frozenset("until till unless".split())
_STAYS = frozenset("stays stay holds hold stayed held up down open shut closed".split())


def falls_short(doc: Doc, span: Span) -> bool:
    """Whether a good result is only nearly reached ("*almost* home", "*just short of* over centre"), or more or
    less than reached ("*far too* tight", "*less* tight", "clean *gone*"); a level may be nearly full, and what
    is nearly as good as new is good."""
    if not _is_good(span):
        return False
    table, at = table_of(doc), span.start
    first, after = table.first[at], table.after[at]
    before = table.key[max(first, at - 3) : at]
    nearly = before[-1:] and before[-1] in _NEARLY
    if nearly and not _FULL.intersection(table.key[span.start : span.end]):
        return True
    if before[-1:] in (["too"], ["less"]) and before[-2:-1] not in ([","], ["none"], ["no"]):
        return True
    if spoken(doc[span.end : min(after, span.end + 3)]) == ["it", "is", "not"]:
        return True  # "Quiet *it is not*."
    follows = table.key[span.end] if span.end < after else ""
    gone = follows in _GONE and table.key[span.end - 1] in _BEFORE_GONE and _ends(doc, span.end)
    return gone or before[-2:] == ["short", "of"]


def is_spoiled(doc: Doc, span: Span) -> bool:
    """Whether a good result holds only at times or for some, or is yet to come ("*rarely* latches", "works *off
    and on*", "*only three* are in", "*still to be* wire locked"): it says nothing for certain."""
    if not _is_good(span):
        return False
    table, at = table_of(doc), span.start
    first, after = table.first[at], table.after[at]
    before = table.key[max(first, at - 3) : at]
    if ("yet", "to") in pairwise(table.key[max(first, at - 5) : at]):
        return True
    to_come = before[-2:] == ["to", "be"] and not _TO_COME.isdisjoint(before[:1])
    if to_come or ("never", "been") in pairwise(before):
        return True
    if before[-1:] == ["only"] and table.key[span.end : span.end + 1] in (["when"], ["if"], ["in"]):
        return True
    if not _HARDLY.isdisjoint(before[-1:]) or (
        table.key[at] == "tight" and before[-1:] in (["finger"], ["hand"])
    ):
        return True
    behind = spoken_words(doc, span.end, min(after, span.end + _BEHIND))
    if not _AT_TIMES.isdisjoint(_runs(behind)) or _on_terms(span, behind):
        return True
    return any(one == "only" and two.isdigit() for one, two in pairwise([*before, table.key[at]]))


def _is_good(span: Span) -> bool:
    """Whether a result is a good one: what is bad at times, or almost, is no better for that; nor is a state
    that is good of some things only ("nearly *empty*")."""
    if span.label_ == TermKind.STATE:
        return all(name.endswith(":expected") for name in span._.state.concepts)
    return bool(span.label_ == CueCategory.SATISFACTORY)


def _on_terms(span: Span, behind: list[str]) -> bool:
    """Whether a result holds only when somebody helps it, or up to a point ("comes on *if you thump* it",
    "turns freely, *until you get*..."), or for some of several ("works *on two of* the four")."""
    words = set(spoken(span))
    some = behind[:1] in (["on"], ["in"], ["for"]) and behind[2:3] == ["of"] and behind[1].isdigit()
    helped = not {"if", "when"}.isdisjoint(behind) and not _HELPING.isdisjoint(behind)
    until = not _UNTIL.isdisjoint(behind[:1]) and not _WHO.isdisjoint(behind[1:2])
    until = until and (behind[0] == "unless" or not words & _STAYS)
    return some or (helped and bool(words & _WORKS)) or until


def holds_until(doc: Doc, span: Span) -> bool:
    """Whether a flagged word that is denied is so only up to a point ("no leaks *until* you pressurise it")."""
    end = span.end
    return end < table_of(doc).after[span.start] and table_of(doc).key[end] in _UNTIL


def _ends(doc: Doc, at: int) -> bool:
    """Whether a stretch ends with a token."""
    table = table_of(doc)
    return at + 1 >= table.after[at] or not table.is_word[at + 1]


def _runs(words: list[str]) -> set[tuple[str, ...]]:
    """All runs of one to _LONGEST words."""
    return {
        tuple(words[at : at + long]) for at in range(len(words)) for long in range(1, _LONGEST + 1)
    }
