"""Where clauses begin and end inside a sentence, so that cues know how far they reach."""

from __future__ import annotations

import itertools

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import (
    ASPECTS,
    CUES,
    MENTIONS,
    is_word,
    key_of,
    mentioned,
    table_of,
    within,
)
from spokenfor.reading.lists import is_double, is_listed, names_more
from spokenfor.reading.run_ons import run_ons

_MARKS = {",", ";", ":", "\u2014", "\u2013"}
_ENDS = {CueCategory.TERMINATION.value, CueCategory.EXCEPTION.value}
_POINTING = frozenset("the a this that here there it any either each both all them".split())
_PLACE_WORDS = _POINTING | frozenset("on in at of around from under along near".split())
_LIST_WORDS = frozenset(
    "or and any of a an 1 anything something the sign signs nor obvious undue excessive general".split()
)


def clauses(doc: Doc, sentence: Span) -> list[tuple[int, int]]:
    """Token ranges (start, end) of the clauses of a sentence, in order and without gaps.

    A clause ends at a mark or where a termination cue begins; a piece that only goes on with a list
    ("no leaks, chafing or cracks") stays in the clause before it.
    """
    taken_back = doc._.taken_back or set()
    keys = table_of(doc).key
    cuts = {
        at + 1
        for at in range(sentence.start, sentence.end)
        if keys[at] in _MARKS and at not in taken_back
    }
    cuts |= {
        cue.start
        for cue in within(doc, CUES, sentence.start, sentence.end)
        if cue.label_ in _ENDS
        and cue.start not in taken_back
        and not is_double(doc, sentence, cue)
        and not _is_governed(doc, sentence, cue)
    }
    cuts |= run_ons(doc, sentence, cuts) - taken_back
    cuts -= _inside_answers(doc, sentence)
    if not cuts:
        return [(sentence.start, sentence.end)]
    edges = sorted({sentence.start, sentence.end, *(cut for cut in cuts if cut < sentence.end)})
    found: list[tuple[int, int]] = []
    for start, end in itertools.pairwise(edges):
        listed = found and (
            (_has_list(doc, *found[-1]) and _goes_on(doc, start, end))
            or is_listed(doc, sentence, found[-1], start, end)
            or names_more(doc, sentence, found[-1], start, end)
        )
        if listed:
            found[-1] = (found[-1][0], end)
        else:
            found.append((start, end))
    return found


def _is_governed(doc: Doc, sentence: Span, cue: Span) -> bool:
    """Whether a lone "these" or "which" hangs on a preposition ("on these panels"), or "I can see" on "that",
    and begins no clause."""
    alone = len(cue) == 1 and cue.label_ == CueCategory.TERMINATION
    before = table_of(doc).key[cue.start - 1] if cue.start > sentence.start else ""
    relative = before in ("that", "as", "far") and table_of(doc).key[cue.start] in (
        "i",
        "we",
        "you",
    )
    return relative or (alone and before in _PLACE_WORDS - _POINTING)


def _inside_answers(doc: Doc, sentence: Span) -> set[int]:
    """Tokens inside the short answers that say no: a clause never begins within one ("no it's not")."""
    return {
        at
        for cue in within(doc, CUES, sentence.start, sentence.end)
        if cue.label_ == CueCategory.DENIED
        for at in range(cue.start + 1, cue.end)
    }


def _goes_on(doc: Doc, start: int, end: int) -> bool:
    """Whether a piece holds nothing but conditions, aspects and the words that join a list."""
    listed = [*mentioned(doc, TermKind.CONDITION, start, end), *within(doc, ASPECTS, start, end)]
    if not listed:
        return False
    parts = [cue for cue in within(doc, CUES, start, end) if cue.label_ == CueCategory.PART]
    covered = {index for span in [*listed, *parts] for index in range(span.start, span.end)}
    last = max(covered) + 1
    inside = [token for token in doc[start:last] if is_word(token) and token.i not in covered]
    after = [token for token in doc[last:end] if is_word(token) and token.i not in covered]
    joined = all(key_of(token) in _LIST_WORDS for token in inside)
    # "chafing or corrosion on the pump" ends a list; "chafing on the pump" may be a finding of its own.
    by_or = any(key_of(token) in ("or", "nor") for token in inside)
    return joined and (not after or (by_or and _says_where(doc, last, end)))


def _says_where(doc: Doc, start: int, end: int) -> bool:
    """Whether the words start..end only say where: a preposition and a component."""
    mentions = within(doc, MENTIONS, start, end)
    named = {index for span in mentions for index in range(span.start, span.end)}
    first = next((token for token in doc[start:end] if is_word(token)), None)
    rest = [token for token in doc[start:end] if is_word(token) and token.i not in named]
    return (
        first is not None
        and key_of(first) in _PLACE_WORDS
        and all(key_of(token) in _PLACE_WORDS for token in rest)
    )


def _has_list(doc: Doc, start: int, end: int) -> bool:
    """Whether a clause opens a list: a condition under a cue that says what it is about."""
    opening = {
        CueCategory.ABSENT.value,
        CueCategory.ANY.value,
        CueCategory.NEGATION.value,
        CueCategory.PURPOSE.value,
        CueCategory.SUPPOSED.value,
    }
    cues = [cue for cue in within(doc, CUES, start, end) if cue.label_ in opening]
    return bool(cues) and bool(
        mentioned(doc, TermKind.CONDITION, cues[0].end, end)
        or within(doc, ASPECTS, cues[0].end, end)
    )
