"""Whether a short word stands as the name of what a clause speaks of ("*doors*, both good", "*level*'s up")."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    QUANTITIES,
    STATES,
    is_position,
    mentions_by_token,
    table_of,
    within,
)
from spokenfor.reading.targets import SAYING, says_something

_LEADS = set(
    "the your my our its their both all these those and then this that so now next but".split()
)
_VERBS = set("is are was were has have looks look feels seems shows reads stands all both".split())
# Cues that may lie over a name.
_OPEN = {
    CueCategory.TERMINATION.value,
    CueCategory.AFFIRMED.value,
    CueCategory.FILLER.value,
    CueCategory.PART.value,
    CueCategory.GROUP.value,
}


def is_part(doc: Doc, at: int) -> bool:
    """Whether a word is a part of anything ("nut")."""
    return any(cue.label_ == CueCategory.PART for cue in within(doc, CUES, at, at + 1))


def is_subject(doc: Doc, sentence: Span, at: int) -> bool:
    """Whether a word stands as what a clause speaks of: nothing but "the" and the like leads up to it, and
    a verb, a mark or a result follows."""
    by_token, key, is_word = mentions_by_token(doc), table_of(doc).key, table_of(doc).is_word
    covering = within(doc, CUES, max(sentence.start, at - 6), at + 1)
    if any(len(cue) > 1 and cue.end > at and cue.label_ not in _OPEN for cue in covering):
        return False
    begin = at
    while begin > sentence.start and (
        key[begin - 1] in _LEADS
        or key[begin - 1].isdigit()
        or (begin - 1 in by_token and by_token[begin - 1].label_ == TermKind.POSITION)
    ):
        begin -= 1
    opens = begin == sentence.start or not is_word[begin - 1] or key[begin] == "and"
    opens |= any(
        cue.end == begin and cue.label_ == CueCategory.PURPOSE
        for cue in within(doc, CUES, max(sentence.start, begin - 8), begin)
    )
    opens |= begin == at and begin - 1 in by_token and by_token[begin - 1].label_ == "component"
    follows = at + 1
    while follows < sentence.end and is_position(doc, follows):
        follows += 1
    follows += 2 * (key[follows : follows + 2] == ["this", "side"])
    level = len(spread(key[at])) > 1 and says_something(doc, follows, follows + 1)
    if not (opens or level or _ends_result(doc, sentence.start, begin)):
        return False
    listed = key[follows : follows + 1] == ["and"] and follows + 1 in by_token
    if listed or len(spread(key[at])) > 1:
        return True
    if follows >= sentence.end or not is_word[follows]:
        return opens
    denied = any(
        cue.label_ == CueCategory.ABSENT for cue in within(doc, CUES, follows, follows + 1)
    )
    return key[follows] in _VERBS or denied or says_something(doc, follows, follows + 1)


def says_level(doc: Doc, sentence: Span, at: int, component: str) -> bool:
    """Whether what is said of a content is where it stands."""
    end = min(sentence.end, at + 8)
    states = any(
        concept.startswith(f"{component}:")
        for span in within(doc, STATES, at + 1, end)
        for concept in span._.state.concepts
    )
    keys = table_of(doc).key
    verb = len(spread(keys[at])) > 1 or keys[min(at + 1, sentence.end - 1)] in _VERBS
    return verb and (states or bool(within(doc, QUANTITIES, at + 1, end)))


def _ends_result(doc: Doc, start: int, at: int) -> bool:
    """Whether a result ends right before a token ("cover's *off* tube's clear")."""
    return table_of(doc).key[at - 1] not in ("on", "in", "at", "of") and any(
        span.end == at and span.label_ in SAYING
        for group in (CUES, STATES, MENTIONS)
        for span in within(doc, group, max(start, at - 6), at)
    )
