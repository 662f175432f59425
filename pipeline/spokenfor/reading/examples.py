"""Whether a flagged word is an example ("a cracked mount would ...") or a finding ("got a crack here")."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import is_word, key_of, mentioned, table_of
from spokenfor.reading.targets import SentenceReading

_STATING = {"is", "are", "has", "have", "looks", "look", "feels"}
_ANYBODY = {"you", "they", "people", "some", "most"}
_FINDING = set("got found there see seen spotted noticed have has".split())
_HERE = {"here", "this", "there's"}
_RELATIVE = {"that", "which"}
_RELATIVE_WITHIN = 3
_NEAR = 5
_GENERIC = {"a", "an", "any", "every", "each"}


def is_stated(doc: Doc, reading: SentenceReading, cue: Span, target: Span) -> bool:
    """Whether a word is stated of something in a clause of its own before a supposition ("the bottle's gone
    flat, it would have been fine last week")."""
    if target.label_ != TermKind.CONDITION:
        return False
    if _is_described(doc, reading, cue, target):
        return True
    own = reading.clause_of(target.start)
    if own == reading.clause_of(cue.start):
        return False
    start, _ = reading.clauses[own]
    before = doc[start : target.start]
    verbs = {part for token in before for part in spread(key_of(token))[-1:]}
    named = mentioned(doc, TermKind.COMPONENT, start, target.start)
    return bool(named) and not verbs.isdisjoint(_STATING)


def _is_described(doc: Doc, reading: SentenceReading, cue: Span, target: Span) -> bool:
    """Whether a supposition only describes what was said to be there ("there is a dent *that would* hold an
    egg")."""
    between = [key_of(token) for token in doc[target.end : cue.start + 1] if is_word(token)]
    if _RELATIVE.isdisjoint(part for word in between[-2:] for part in spread(word)[:1]):
        return False
    start, _ = reading.clauses[reading.clause_of(target.start)]
    verbs = {part for token in doc[start : target.start] for part in spread(key_of(token))}
    near = len(between) <= _RELATIVE_WITHIN
    return near and not verbs.isdisjoint(_STATING) and not reading.is_question


def is_any_such(doc: Doc, reading: SentenceReading, target: Span) -> bool:
    """Whether a sentence speaks of any such thing from its first word on ("a cracked mount could ...")."""
    words = [
        key_of(token) for token in doc[reading.sentence.start : target.start] if is_word(token)
    ]
    return words[:1] in (["a"], ["an"], ["any"], ["every"])


def is_generic(doc: Doc, reading: SentenceReading, target: Span) -> bool:
    """Whether a word is said of any such thing ("a cracked skid", "any corrosion") at the head of its
    sentence."""
    words = [
        key_of(token) for token in doc[reading.sentence.start : target.start] if is_word(token)
    ]
    if "any" in words:
        return True
    # "Got a crack here" and "there's a crack" are found, "a crack" and "if a crack" are any such.
    near = table_of(doc).key[reading.sentence.start : target.end + _NEAR]
    if (words and spread(words[0])[0] in _FINDING) or not _HERE.isdisjoint(near):
        return False
    if words == ["with"]:
        return True  # "With a flat battery ..." has its article; "with cracked glass we don't drive" has none.
    anybody = bool(words) and spread(words[0])[0] in _ANYBODY
    return anybody or bool(_GENERIC & set(words[:2]))
