"""What was found and is then taken back: "cracked, no, my mistake", "left one's loose, I mean the right"."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken
from spokenfor.reading.corrections import NAMES, VERBS, correction_cues
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    QUANTITIES,
    is_word,
    mentioned,
    table_of,
    within,
)
from spokenfor.reading.targets import SentenceReading, Target, states_good

_POINTING = {"it", "that", "they", "this", "those"}
_TO_COME = {"will", "to", "can", "could", "should", "would", "going", "must"}


def take_back(doc: Doc, readings: list[SentenceReading]) -> None:
    """Reads what the last sentence takes back, there or in the sentence before, as not said: a flagged word
    as absent, a result or an absence as no result."""
    reading = readings[-1]
    sentence = reading.sentence
    _give_on(doc, reading)
    for cue in correction_cues(doc, sentence, opening=True):
        if _is_to_be_done(doc, sentence, cue):
            continue
        if cue.start in doc._.taken_back:
            _replace(doc, reading, cue)
            continue
        before = [one for one in reading.targets if one.span.end <= cue.start]
        if not before and len(readings) > 1 and not _words_before(doc, sentence, cue):
            before = readings[-2].targets
        after = [one for one in reading.targets if one.span.start >= cue.end]
        firm = cue.label_ == CueCategory.CORRECTION and _retracts(doc, reading, cue)
        if firm or _says_again(doc, before, after, cue):
            _undo(doc, before, after, cue)
        elif _says_better(doc, before, after, cue):
            before[-1].reading, before[-1].answered = FlaggedReading.ABSENT, after[0].span.end


def _give_on(doc: Doc, reading: SentenceReading) -> None:
    """Reads a flagged word as absent where it is given on to another thing ("the magneto's loose, not the
    magneto, the starter's loose")."""
    names = mentioned(doc, TermKind.COMPONENT, reading.sentence.start, reading.sentence.end)
    for one in names:
        if table_of(doc).key[max(0, one.start - 2) : one.start] != ["not", "the"]:
            continue
        same = [
            name.end
            for name in names
            if name.end < one.start and name._.term.concepts == one._.term.concepts
        ]
        before = [
            target
            for target in reading.targets
            if target.is_condition and same and same[-1] <= target.span.start < one.start
        ]
        again = {
            target.span._.term.concepts[0]
            for target in reading.targets
            if target.is_condition and target.span.start > one.start
        }
        for target in before[-1:]:
            if target.span._.term.concepts[0] in again:
                target.reading, target.answered = FlaggedReading.ABSENT, one.end


def _is_to_be_done(doc: Doc, sentence: Span, cue: Span) -> bool:
    """Whether what looks like a correction is a thing that somebody will do ("I'll *wipe it* off")."""
    before = doc[max(sentence.start, cue.start - 3) : cue.start]
    words = spoken(before)
    return not _TO_COME.isdisjoint(words)


def _says_better(doc: Doc, before: list[Target], after: list[Target], cue: Span) -> bool:
    """Whether a good result of the same thing follows a correction, so that the fault found first is the
    mistake ("oil's low. No, hang on, I stood at an angle, it's between the marks")."""
    if not before or not after or not before[-1].is_condition:
        return False
    if before[-1].reading is not FlaggedReading.PRESENT or not all(
        states_good(one) or one.reading is FlaggedReading.ABSENT for one in after
    ):
        return False
    named = within(doc, MENTIONS, cue.end, after[0].span.end)
    spoken_of = {
        name
        for span in mentioned(doc, TermKind.COMPONENT, table_of(doc).first[cue.start], cue.start)
        for name in span._.term.concepts
    }
    return not any(
        span.label_ in NAMES and spoken_of.isdisjoint(span._.term.concepts) for span in named
    )


def _replace(doc: Doc, reading: SentenceReading, cue: Span) -> None:
    """Reads a flagged word that went with a replaced name, and is said again with the new one, as absent
    ("left plate's loose, as you were, right plate's loose")."""
    again = {
        one.span._.term.concepts[0]
        for one in reading.targets
        if one.is_condition and one.span.start >= cue.end
    }
    for one in reading.targets:
        inside = one.span.start in doc._.taken_back and one.span.end <= cue.start
        if one.is_condition and inside and one.span._.term.concepts[0] in again:
            one.reading, one.void = FlaggedReading.ABSENT, True


def _says_again(doc: Doc, before: list[Target], after: list[Target], cue: Span) -> bool:
    """Whether a correction gives what was found to another thing ("the spinner's loose. I mean the cowl's
    loose")."""
    if not before or not before[-1].is_condition or not after or not after[0].is_condition:
        return False
    named = any(
        span.label_ in NAMES for span in within(doc, MENTIONS, cue.end, after[0].span.start)
    )
    same = before[-1].span._.term.concepts[0] == after[0].span._.term.concepts[0]
    return named and same and after[0].reading is FlaggedReading.PRESENT


def _undo(doc: Doc, before: list[Target], after: list[Target], cue: Span) -> None:
    explains = spoken(doc[cue.start : cue.end])[0] in _POINTING
    if explains and before and states_good(before[-1]):
        return  # "Dry, that's just dust" says what only looked like a fault, and takes nothing good back.
    worse = any(one.is_condition and one.reading is FlaggedReading.PRESENT for one in after)
    named = any(span.label_ in NAMES for span in within(doc, MENTIONS, cue.end, cue.end + 8))
    for target in before[-1:]:
        if target.is_condition and target.asked:
            target.reading, target.answered, target.asked = FlaggedReading.ABSENT, cue.end, False
        elif target.is_condition and target.reading is FlaggedReading.PRESENT:
            if not worse or named:
                target.reading, target.answered = FlaggedReading.ABSENT, cue.end
                concept = target.span._.term.concepts[0]
                target.void |= any(
                    one.is_condition and one.span._.term.concepts[0] == concept for one in after
                )
        elif target.is_condition and target.answered is not None:
            continue
        elif target.reading in (FlaggedReading.PRESENT, FlaggedReading.ABSENT):
            target.reading = FlaggedReading.UNCLEAR


def _retracts(doc: Doc, reading: SentenceReading, cue: Span) -> bool:
    """Whether a correction takes back what was said: a firm one always ("scratch that"), another where it
    goes on with "no" or with what it is instead."""
    sentence = reading.sentence
    if within(doc, QUANTITIES, max(sentence.start, cue.start - 4), cue.end + 6):
        return False
    if cue._.cue.scope is Scope.SENTENCE:
        return True
    words = spoken(
        token for token in doc[cue.end : min(sentence.end, cue.end + 6)] if is_word(token)
    )[:2]
    pronouns = {"it", "that", "they", "this", "those", "there"}
    return bool(words) and (
        words[0] in ("no", "not") or (words[0] in pronouns and bool(set(words[1:]) & VERBS))
    )


def _words_before(doc: Doc, sentence: Span, cue: Span) -> bool:
    """Whether anything but filling words stands before a cue in its sentence."""
    quiet = {
        index
        for other in within(doc, CUES, sentence.start, cue.start)
        for index in range(other.start, other.end)
    }
    return any(is_word(token) and token.i not in quiet for token in doc[sentence.start : cue.start])
