"""Flagged words that tell what somebody does, or such things do ("they *crack* along the weld", "I've *scraped*
it off", "I'm *lifting* it by the end"). All words: *common practice* of spoken English."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import key_of, table_of

_HABITS = set("always usually often only all mostly sometimes can will do just".split())
_TAKEN = frozenset("it them that".split())
_LOOSE = frozenset("off away open out".split())
_MINE = frozenset("i'm we're i've we've i we i'll we'll".split())
_MANNER = frozenset("just gently now been then also only slowly going to gonna".split())


def is_doing(doc: Doc, span: Span) -> bool:
    """Whether a flagged word is no fault, but what such things do or somebody did."""
    return _is_habit(doc, span) or _takes_off(doc, span) or _is_mine(doc, span)


def _is_mine(doc: Doc, span: Span) -> bool:
    """Whether a flagged word is what the speaker is doing ("I'm *pulling* it", "I'm just *lifting* it")."""
    if span.label_ != TermKind.CONDITION or len(span) > 1 or not key_of(span[0]).endswith("ing"):
        return False
    table, at = table_of(doc), span.start - 1
    while at > table.first[span.start] and table.key[at] in _MANNER:
        at -= 1
    return at >= table.first[span.start] and table.key[at] in _MINE


def _is_habit(doc: Doc, span: Span) -> bool:
    """Whether a flagged word is what such things do ("they crack along the weld"): a verb in its plain form
    behind "they" or "you" (*common practice*; what one thing does now is "it leaks" or "it's leaking")."""
    if span.label_ != TermKind.CONDITION or len(span) > 1:
        return False
    key = key_of(span[0])
    at = span.start - 1
    while at > table_of(doc).first[span.start] and table_of(doc).key[at] in _HABITS:
        at -= 1
    if "both" in table_of(doc).key[span.end : table_of(doc).after[span.start]]:
        return False  # "They leak, both of them."
    plain = not key.endswith(("ed", "ing", "s", "y"))
    asked = at > 0 and table_of(doc).key[at - 1] in ("are", "were", "aren't", "weren't")
    return plain and at >= 0 and table_of(doc).key[at] in ("they", "you") and not asked


def _takes_off(doc: Doc, span: Span) -> bool:
    """Whether a flagged word is what somebody did to get something off or open ("I've *scraped* it off")."""
    after = table_of(doc).key[span.end : span.end + 2]
    return len(span) == 1 and len(after) == 2 and after[0] in _TAKEN and after[1] in _LOOSE
