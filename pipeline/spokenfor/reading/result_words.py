"""Which result words are results where they stand: not a preposition, not what somebody does, not part of
another."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory, Direction
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spread
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    is_position,
    is_word,
    key_of,
    table_of,
    within,
)
from spokenfor.reading.targets import SentenceReading, says_something

# State words that are also prepositions count only where nothing follows that they could govern.
_SMALL_WORDS = {"in", "out", "on", "off", "up", "down", "both", "all"}
_MAY_FOLLOW = set(
    "and but so then now no too still okay ok good as also on both i we today tonight again already properly "
    "fully nicely firmly though anyway yeah yes yep mate".split()
)
_ARTICLES = set("the this that these those a an my your its either each".split())
_ASKED = (["is", "there"], ["are", "there"])
_JOINING = {"and", "so", "but", "then", "or"}
_DEEDS = {
    "wipe",
    "squirt",
    "spray",
    "dip",
    "flash",
    "shut",
    "close",
    "lock",
    "latch",
    "open",
    "clear",
    "clean",
    "dry",
    "secure",
    "seal",
    "set",
}


def has_subject(doc: Doc, cue: Span) -> bool:
    """Whether a result that only reaches back has a word before it ("oil level okay", not "Okay, ...")."""
    first = table_of(doc).first[cue.start]
    said_before = any(is_word(token) for token in doc[first : cue.start])
    if table_of(doc).key[cue.start : cue.end] in _ASKED and cue.start > first:
        # "..., and *is there* any play?"
        before = cue.start - 1
        said_before = table_of(doc).is_word[before] and table_of(doc).key[before] not in _JOINING
    return cue._.cue.direction is not Direction.BACKWARD or said_before


def is_deed(doc: Doc, span: Span) -> bool:
    """Whether a result word is what somebody does ("when I *shut* the door", "we don't *clean* it"), or has yet
    to bring about ("you lift it to get it *shut*")."""
    if key_of(span[0]) not in _DEEDS:
        return False
    first = table_of(doc).first[span.start]
    before = spoken(doc[max(first, span.start - 3) : span.start])
    if before[-2:] in (["do", "not"], ["did", "not"]):
        before = before[:-2]
    to_come = before[-3:] in (["to", "get", "it"], ["to", "get", "them"])
    return to_come or before[-1:] in (["i"], ["we"], ["you"], ["to"])


def stands_as_result(reading: SentenceReading, span: Span) -> bool:
    """Whether a small word is a result ("the indicator is in") and not a preposition ("in the filter")."""
    if key_of(span[-1]) not in _SMALL_WORDS or (len(span) > 1 and key_of(span[-2]) == "coming"):
        return True
    after = reading.clauses[reading.clause_of(span.end - 1)][1]
    return span.end >= after or _may_follow(span.doc, span.end)


def _may_follow(doc: Doc, at: int) -> bool:
    """Whether what stands at a token cannot be what a small word governs: a mark, "and" and the like, or a
    name with a verb on it ("red line's *on* yellow line's on")."""
    if not table_of(doc).is_word[at] or table_of(doc).key[at] in _MAY_FOLLOW:
        return True
    named = [
        span
        for span in within(doc, MENTIONS, at, at + 3)
        if span.label_ == TermKind.COMPONENT and (span.start == at or is_position(doc, at))
    ]
    if not named or len(spread(key_of(doc[named[0].end - 1]))) > 1:
        return bool(named)
    # "Tie down *off* beacon works": a bare name with a result of its own.
    end = named[0].end
    return named[0].start == at and says_something(doc, end, end + 1)


def governs_place(reading: SentenceReading, span: Span) -> bool:
    """Whether the last word of a result is the preposition of what follows ("bolts *on the plate*")."""
    after = reading.clauses[reading.clause_of(span.end - 1)][1]
    follows = key_of(span.doc[span.end]) if span.end < after else ""
    if key_of(span[-1]) not in ("on", "in") or not follows[:1].isalnum():
        return False
    if key_of(span[0]) in ("not", "no", "nothing"):
        return False
    # "The cap's on" states something only where nothing follows; "bolts on the plate" says where.
    bare = len(spread(key_of(span[0]))) + len(span) <= 3 and spread(key_of(span[0]))[-1] in (
        "is",
        "are",
    )
    return (
        follows in _ARTICLES if len(span) > 1 and not bare else not _may_follow(span.doc, span.end)
    )


def in_unable(doc: Doc, span: Span) -> bool:
    """Whether a state word is part of what could not be done ("couldn't open the door"), and not all that is
    said ("the kit *is sealed*")."""
    cues = within(doc, CUES, max(0, span.start - 4), span.start)
    return any(
        cue.label_ == CueCategory.NOT_INSPECTED
        and cue.end >= span.end
        and not (
            cue.end == span.end
            and {key_of(token) for token in doc[cue.start : span.start]} <= {"is", "are", "still"}
        )
        for cue in cues
    )
