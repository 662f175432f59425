"""Which words of a sentence that asks something are no question: those before a tag, and those stated before
the question. All words: *common practice*.
"""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken
from spokenfor.reading.document import is_word, key_of, mentioned, table_of
from spokenfor.reading.targets import SentenceReading

_TAGS = {"isn't", "aren't", "doesn't", "hasn't", "innit", "wasn't", "don't", "haven't", "eh"}
_POINTING = {"that", "this", "the", "these", "those", "there's"}
_STATED = frozenset("it they".split())
_ASKED = frozenset("is are what does do has have".split())
_VERBS = frozenset("is are looks feels".split())
_JOINING = frozenset("and but so , then".split())


def is_tagged(doc: Doc, reading: SentenceReading, span: Span) -> bool:
    """Whether a question is only hung on behind a flagged word that is stated ("that's a crack, isn't
    it?")."""
    start, end = reading.clauses[-1]
    words = [key_of(token) for token in doc[start:end] if is_word(token)]
    hung = len(words) <= 2 and bool(words) and words[0] in _TAGS
    if span.end > start or span.label_ != TermKind.CONDITION:
        return False
    # "That tyre's soft, hear the difference?": what went before is stated.
    own = reading.clauses[reading.clause_of(span.start)][0]
    before = spoken(doc[own : span.start])
    first = table_of(doc).key[reading.sentence.start]
    stated = bool({"is", "are", "has"} & set(before[1:])) and first in _POINTING
    return hung or stated


def is_asked_later(doc: Doc, reading: SentenceReading, span: Span) -> bool:
    """Whether a word is stated, and a question only follows in the same sentence ("it's *clean*, and what's
    that, is that a dent?")."""
    if span.label_ == TermKind.CONDITION:
        return False
    own = reading.clause_of(span.start)
    opens = [_opening(doc, *clause) for clause in reading.clauses]
    if not any(one in _ASKED for one in opens[own + 1 :]):
        return False
    # "My glove's *dry*, and the button, is it out?"
    before = set(spoken(doc[reading.clauses[own][0] : span.end]))
    of_another = mentioned(doc, TermKind.COMPONENT, span.end, reading.sentence.end)
    stated = opens[own] not in _ASKED and not before.isdisjoint(_VERBS)
    return opens[own] in _STATED or (stated and bool(of_another))


def _opening(doc: Doc, start: int, end: int) -> str:
    words = [word for word in spoken(doc[start : min(end, start + 4)]) if word not in _JOINING]
    return words[0] if words else ""
