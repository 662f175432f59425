"""What a scope spans: a clause, or a sentence up to what stops it (ConText, Harkema et al. 2009)."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory, Scope
from spokenfor.reading.contractions import spoken, spread
from spokenfor.reading.document import CUES, table_of, within
from spokenfor.reading.targets import SentenceReading


def in_reach(doc: Doc, reading: SentenceReading, scope: Scope, start: int, end: int) -> bool:
    """Whether a scope spans the tokens start..end, which lie between a cue and its target."""
    if scope is not Scope.SENTENCE:
        last = max(end, start)
        return reading.clause_of(start - 1) == reading.clause_of(
            min(last, reading.sentence.end - 1)
        )
    return not any(_stops(doc, cue) for cue in within(doc, CUES, start, end))


def _stops(doc: Doc, cue: Span) -> bool:
    """Whether not even a cue that reaches over its sentence reaches past this one."""
    answers = (CueCategory.DENIED.value, CueCategory.AFFIRMED.value)
    if cue.label_ == CueCategory.EXCEPTION or (cue.label_ in answers and _is_whole(doc, cue)):
        return True
    before = cue.start
    while before > 0 and table_of(doc).is_word[before - 1] and _is_filler(doc, before - 1):
        before -= 1
    hard = cue._.cue.scope is Scope.SENTENCE or not table_of(doc).is_word[before - 1]
    return cue.label_ == CueCategory.TERMINATION and hard


def _is_whole(doc: Doc, cue: Span) -> bool:
    """Whether a short answer with a verb is whole, and a new subject follows ("it's not *it's* really
    slack")."""
    words = spoken(cue)
    follows = (
        spread(table_of(doc).key[cue.end]) if cue.end < table_of(doc).after[cue.start] else ("",)
    )
    return len(words) > 2 and words[-1] == "not" and len(follows) > 1


def _is_filler(doc: Doc, index: int) -> bool:
    return any(
        cue.label_ in (CueCategory.FILLER.value, CueCategory.PSEUDO.value) and cue.end > index
        for cue in within(doc, CUES, max(0, index - 4), index + 1)
    )
