"""Where a new clause begins though no mark and no joining word says so ("fuel pump's dry strainer's dry").

A fast talker's words come with few marks, and a noisy recording's with fewer. *Common practice* of spoken
English: a name after a finished result opens a new clause, so does a denial after one, so does a short answer.
"""

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
    is_word,
    mentioned,
    table_of,
    within,
)
from spokenfor.reading.targets import RESULTS, SAYING

_VERBS = {
    "is",
    "are",
    "was",
    "were",
    "has",
    "looks",
    "look",
    "feels",
    "seems",
    "all",
    "both",
    "not",
}
_LED_BY = {"the", "your", "my", "our", "this", "that", "a", "an", "um", "er", "erm", "uh"}
_HUMS = {"um", "er", "erm", "uh"}
_TRAILING = {
    "in",
    "on",
    "of",
    "it",
    "them",
    "there",
    "here",
    "now",
    "too",
    "well",
    "though",
    "anywhere",
}
_DENYING = {"no", "nothing", "none", "nil", "not"}
_ANSWERING = {"no", "nah", "nope", "yes", "yeah", "yep", "oh"}
_ALONE = {"nah", "nope", "yeah", "yep"}
_SUBJECTS = {"it", "that", "there", "they", "this", "he", "she", "i", "we", "just"}
_ANSWERS = {CueCategory.AFFIRMED.value, CueCategory.DENIED.value}
_NAMES = {TermKind.COMPONENT.value, TermKind.POSITION.value}


def run_ons(doc: Doc, sentence: Span, marked: set[int]) -> set[int]:
    """Token indices where a clause begins unmarked; `marked` are the cuts that marks and joining words make."""
    cuts = _answers(doc, sentence) | _contrasts(doc, sentence)
    start = sentence.start
    for span in _steps(doc, sentence):
        start = max([cut for cut in {*marked, *cuts, start} if cut <= span.start], default=start)
        begin = _with_leading_words(doc, span, start)
        if begin <= start or not table_of(doc).is_word[begin - 1]:
            continue
        before = _before_trailing(doc, start, begin - 1)
        if _hummed(doc, begin, span) and _denies(doc, start, begin):
            cuts.add(begin)
            continue
        tail = before < begin - 1
        if _is_result_end(doc, start, before, tail=tail) and (
            span.label_ not in _NAMES or _named(doc, start, begin)
        ):
            cuts.add(begin)
    return cuts | _denials_joined(doc, sentence)


def _denials_joined(doc: Doc, sentence: Span) -> set[int]:
    """Where "and" joins two denials, each of a thing of its own ("no damage on the guard *and* no damage on the
    curtain")."""
    cuts: set[int] = set()
    start = sentence.start
    for cue in within(doc, CUES, sentence.start + 1, sentence.end):
        joined = cue.label_ == CueCategory.ABSENT and table_of(doc).key[cue.start - 1] == "and"
        if joined and _named(doc, start, cue.start) and _denies(doc, start, cue.start - 1):
            ahead = within(doc, MENTIONS, cue.end, min(sentence.end, cue.end + 6))
            if [one.label_ for one in ahead[:2]] == ["condition", "component"]:
                cuts.add(cue.start - 1)
                start = cue.start
    return cuts


def _steps(doc: Doc, sentence: Span) -> list[Span]:
    """Names of components, and denials, in order of place."""
    names = mentioned(doc, TermKind.COMPONENT, sentence.start, sentence.end)
    denials = [
        cue
        for cue in within(doc, CUES, sentence.start, sentence.end)
        if cue.label_ == CueCategory.ABSENT and table_of(doc).key[cue.start] in _DENYING
    ]
    return sorted([*names, *denials], key=lambda span: span.start)


def _with_leading_words(doc: Doc, span: Span, start: int) -> int:
    """Where the words that lead up to a name begin: positions, "the", a hum."""
    begin = span.start
    if span.label_ != TermKind.COMPONENT:
        return begin
    inside = {
        at
        for one in within(doc, MENTIONS, start, begin)
        if one.label_ == TermKind.POSITION
        for at in range(one.start, one.end)
    }
    while begin > start and (begin - 1 in inside or table_of(doc).key[begin - 1] in _LED_BY):
        begin -= 1
    return begin


def _before_trailing(doc: Doc, start: int, at: int) -> int:
    """The last word at or before a token that is not a mere tail of what was found ("a bulge *in it*")."""
    while at > start and table_of(doc).key[at] in _TRAILING:
        at -= 1
    return at


def _hummed(doc: Doc, begin: int, span: Span) -> bool:
    return any(table_of(doc).key[at] in _HUMS for at in range(begin, span.start))


def _denies(doc: Doc, start: int, end: int) -> bool:
    return any(cue.label_ == CueCategory.ABSENT for cue in within(doc, CUES, start, end))


def _is_result_end(doc: Doc, start: int, at: int, *, tail: bool) -> bool:
    """Whether a finished result ends at a token: one that a verb or the name itself leads to, one with a
    `tail`, or a denied flagged word, never one that only describes what follows ("a cracked lens")."""
    ends = [
        span
        for span in [
            *within(doc, MENTIONS, start, at + 1),
            *within(doc, CUES, start, at + 1),
            *within(doc, STATES, start, at + 1),
            *within(doc, QUANTITIES, start, at + 1),
        ]
        if span.end == at + 1 and (span.label_ in SAYING or span.label_ == "quantity")
    ]
    return any(tail or _is_said_of_what_went_before(doc, start, span) for span in ends)


def _is_said_of_what_went_before(doc: Doc, start: int, span: Span) -> bool:
    if span.start == start or not table_of(doc).is_word[span.start - 1]:
        return span.start == start and span.label_ in RESULTS
    words = spread(table_of(doc).key[span.start - 1])
    named = any(one.end == span.start for one in within(doc, MENTIONS, start, span.start))
    denied = any(
        cue.end == span.start and cue.label_ == CueCategory.ABSENT
        for cue in within(doc, CUES, start, span.start)
    )
    noun = denied and span.label_ == TermKind.CONDITION and not span.text.lower().endswith("ed")
    return words[-1] in _VERBS or named or noun


def _named(doc: Doc, start: int, end: int) -> bool:
    mentions = within(doc, MENTIONS, start, end)
    return any(span.label_ in _NAMES for span in mentions)


def _answers(doc: Doc, sentence: Span) -> set[int]:
    """Where short answers begin and end ("no it's not", "there aren't any", "nah"). One that begins with a
    pronoun ends there only where a new subject follows ("it's not it's slack", but not "it's not slack")."""
    cuts: set[int] = set()
    for cue in within(doc, CUES, sentence.start + 1, sentence.end):
        if cue.label_ not in _ANSWERS or not table_of(doc).is_word[cue.start - 1]:
            continue
        if table_of(doc).key[cue.start] == "1" and is_position(doc, cue.start - 1):
            continue  # "The right one doesn't" is a subject and its verb.
        first = table_of(doc).key[cue.start]
        follows = table_of(doc).key[cue.end] if cue.end < sentence.end else ""
        fresh = spread(follows)[0] in _SUBJECTS or not follows[:1].isalnum()
        if first in _ALONE or (len(cue) > 1 and first in _ANSWERING):
            cuts.add(cue.start)
        elif len(cue) < 2 or not fresh or cue.label_ != CueCategory.DENIED:
            continue
        cuts.add(cue.start)
        if (
            any(is_word(token) for token in doc[cue.end : sentence.end])
            and table_of(doc).is_word[cue.end]
        ):
            cuts.add(cue.end)
    return cuts


def _contrasts(doc: Doc, sentence: Span) -> set[int]:
    """Where "and" sets one side against another that a verb was said of ("number one is flush *and* number two
    has popped")."""
    cuts: set[int] = set()
    spoken = False
    for span in within(doc, MENTIONS, sentence.start, sentence.end):
        if span.label_ != TermKind.POSITION:
            continue
        begin = span.start
        while begin > sentence.start and table_of(doc).key[begin - 1] in ("the", "your", "that"):
            begin -= 1
        verbs = spread(table_of(doc).key[span.end - 1])[1:] or spread(
            table_of(doc).key[span.end] if span.end < sentence.end else ""
        )
        verb = bool(verbs) and verbs[-1] in _VERBS - {"all", "both", "not"}
        if verb and spoken and begin > sentence.start:
            start = max((cut for cut in cuts if cut < begin), default=sentence.start)
            if table_of(doc).key[begin - 1] == "and":
                cuts.add(begin - 1)
            elif table_of(doc).is_word[begin - 1] and _is_result_end(
                doc, start, begin - 1, tail=False
            ):
                cuts.add(begin)
        spoken |= verb
    return cuts
