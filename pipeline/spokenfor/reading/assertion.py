"""How each flagged word and each result word is meant: present, absent, looked for, supposed...

Method: ConText (Harkema et al. 2009): a cue has a category, a direction and a scope, and its scope ends at
a termination cue. What is carried further for spoken inspection (purpose, expectation, late answers, words
taken back, irony) is marked in speech.yaml as common practice.
"""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory, Direction
from spokenfor.packs.terms import TermKind
from spokenfor.reading.answers import answer
from spokenfor.reading.asides import find_asides, find_irony, is_somebodys
from spokenfor.reading.asked import is_asked_later, is_tagged
from spokenfor.reading.clauses import clauses
from spokenfor.reading.concluding import conclude
from spokenfor.reading.contractions import spoken
from spokenfor.reading.counts import add_counts
from spokenfor.reading.document import (
    CUES,
    QUANTITIES,
    STATES,
    key_of,
    mentioned,
    table_of,
    within,
)
from spokenfor.reading.doings import is_doing
from spokenfor.reading.due import add_due
from spokenfor.reading.nods import add_nods
from spokenfor.reading.not_there import deny_not_there
from spokenfor.reading.reach import denied, reaching
from spokenfor.reading.result_words import (
    governs_place,
    has_subject,
    in_unable,
    is_deed,
    stands_as_result,
)
from spokenfor.reading.spoilers import falls_short, holds_until, is_spoiled
from spokenfor.reading.taking_back import take_back
from spokenfor.reading.targets import DENIALS, RESULTS, SentenceReading, Target
from spokenfor.reading.teaching import confirms_name, unstate_taught
from spokenfor.reading.unlisted import add_unlisted
from spokenfor.reading.voiding import retract_measures, void

_TURNING = {
    CueCategory.CORRECTION.value,
    CueCategory.DENIED.value,
    CueCategory.NEGATION.value,
}
_ASKING = set("did do does have has had are is was were will would could can any what".split())
_INTENT = frozenset("i we".split())
_STATING = set("is are was were has have got can see there here this these".split())

# What denies a state that stands in it, where it has one of these words.
_DENYING = {CueCategory.UNSATISFACTORY.value, CueCategory.NOT_FITTED.value}
_NOT = frozenset("not no never".split())
_KEEPING = frozenset("stay hold keep remain stop go".split())
_GOES_ON = frozenset(", . ; : but it it's they they're that that's which so then".split())


def read_targets(doc: Doc) -> list[SentenceReading]:
    """The targets of every sentence, read."""
    readings: list[SentenceReading] = []
    for sentence in doc.sents:
        reading = SentenceReading(sentence, clauses(doc, sentence), [])
        find_asides(doc, reading, readings[-1] if readings else None)
        spans = [
            *mentioned(doc, TermKind.CONDITION, sentence.start, sentence.end),
            *(
                span
                for span in within(doc, CUES, sentence.start, sentence.end)
                if span.label_ in RESULTS
                and has_subject(doc, span)
                and not is_deed(doc, span)
                and not governs_place(reading, span)
                and not confirms_name(doc, readings[-1] if readings else None, span)
                and not _in_denial(doc, span)
            ),
            *(
                span
                for span in within(doc, STATES, sentence.start, sentence.end)
                if stands_as_result(reading, span)
                and not within(doc, QUANTITIES, span.start, span.end)
                and not in_unable(doc, span)
                and not is_deed(doc, span)
                and not _in_denial(doc, span)
            ),
        ]
        for span in sorted(spans, key=lambda span: (span.start, span.end)):
            reading.targets.append(_read(doc, reading, span))
        reading.targets = [one for one in reading.targets if not _says_how_bad(reading, one)]
        deny_not_there(doc, reading)
        conclude(doc, reading)
        _coordinate(doc, reading)
        _go_on_supposing(doc, reading)
        unstate_taught(doc, reading, readings[-1] if readings else None)
        void(doc, reading)
        add_counts(doc, reading)
        add_due(doc, reading)
        add_unlisted(doc, reading, readings[-1] if readings else None)
        add_nods(doc, reading)
        readings.append(reading)
        retract_measures(doc, readings)
        said = {cue.label_ for cue in within(doc, CUES, sentence.start, sentence.end)}
        if said & _TURNING:
            take_back(doc, readings)
        answer(doc, readings)
        if CueCategory.IRONY.value in said:
            find_irony(doc, readings)
    return readings


def _in_denial(doc: Doc, result: Span) -> bool:
    """Whether a result stands in a phrase that says the contrary of it, or is what a thing does not keep to
    ("won't *shut*", "isn't *fitted*", "won't stay *locked*")."""
    for cue in within(doc, CUES, max(0, result.start - 6), result.start):
        words = spoken(doc[cue.start : cue.end])
        if cue.label_ in _DENYING and not _NOT.isdisjoint(words):
            between = {key_of(token) for token in doc[cue.end : result.start]}
            kept = not _KEEPING.isdisjoint(words) and between.isdisjoint(_GOES_ON)
            if kept or result.start < cue.end:
                return True
    return False


def _read(doc: Doc, reading: SentenceReading, span: Span) -> Target:
    if table_of(doc).doubtful[reading.sentence.start]:
        return Target(span, FlaggedReading.UNCLEAR)
    cues = reaching(doc, reading, span)
    kinds = {cue.label_ for cue in cues}
    if any(_is_whether(doc, cue) for cue in cues):
        kinds = kinds - {CueCategory.SUPPOSED.value} | {CueCategory.PURPOSE.value}
    if CueCategory.PURPOSE.value in kinds:
        # "I'll *just get* the torch and look for cracks": what one is about to do is no supposing.
        about = [cue for cue in cues if cue.label_ == CueCategory.SUPPOSED]
        if about and all(_is_intent(doc, cue) for cue in about):
            kinds.discard(CueCategory.SUPPOSED.value)
    question = reading.is_question and not is_tagged(doc, reading, span)
    question = question and not is_asked_later(doc, reading, span)
    looked = question or CueCategory.PURPOSE.value in kinds
    absent = denied(doc, cues, span) or falls_short(doc, span)
    if absent and span.label_ == TermKind.CONDITION and holds_until(doc, span):
        absent = False
    if (absent and _is_thing(doc, span)) or is_spoiled(doc, span):
        return Target(span, FlaggedReading.UNCLEAR)
    looked |= CueCategory.ANY.value in kinds and not absent
    if reading.is_aside(span.start):
        opening = {table_of(doc).key[start] for start, _ in reading.clauses}
        asked = not question or not _ASKING.isdisjoint(opening)
        looked |= table_of(doc).key[reading.sentence.start] in _ASKING
        taught = _is_told_to_look(doc, reading, span)
        looked = taught or (
            looked and asked and not kinds & {CueCategory.SUPPOSED.value, CueCategory.HISTORY.value}
        )
        meant = FlaggedReading.LOOKED_FOR if looked else FlaggedReading.SUPPOSED
        return Target(span, meant, asked=taught, taught=taught)
    if is_doing(doc, span) or is_somebodys(doc, span):
        return Target(span, FlaggedReading.SUPPOSED)
    if CueCategory.EXPECTED.value in kinds and cues[0].label_ != CueCategory.SUPPOSED:
        kinds.discard(CueCategory.SUPPOSED.value)
    later = {cue.label_ for cue in cues if cue.start >= span.end}
    before = {cue.label_ for cue in cues} - later
    if absent and CueCategory.HISTORY.value in later - before and before & DENIALS:
        # "No sign of the leak they had on Friday."
        kinds.discard(CueCategory.HISTORY.value)
    if (
        span.start
        and table_of(doc).key[span.start - 1] == "went"
        and CueCategory.HISTORY.value not in before
    ):
        # What "went out of date in February" is so still.
        kinds.discard(CueCategory.HISTORY.value)
    if kinds & {
        CueCategory.SUPPOSED.value,
        CueCategory.HISTORY.value,
        CueCategory.RULE.value,
    }:
        return Target(span, FlaggedReading.SUPPOSED, expected=CueCategory.EXPECTED.value in kinds)
    if CueCategory.EXPECTED.value in kinds:
        return Target(span, FlaggedReading.SUPPOSED, expected=True)
    if looked:
        return Target(span, FlaggedReading.LOOKED_FOR, asked=True)
    return Target(span, FlaggedReading.ABSENT if absent else FlaggedReading.PRESENT)


def _is_thing(doc: Doc, span: Span) -> bool:
    """Whether a result word is a thing where it stands ("no *lights* on the dash"): then "no" denies no
    result."""
    at = span.start
    verb = len(span) == 1 and span.text.endswith("s") and span.label_ in RESULTS
    return verb and at > table_of(doc).first[at] and table_of(doc).key[at - 1] == "no"


def _is_intent(doc: Doc, cue: Span) -> bool:
    """Whether a supposing cue only tells what the speaker is about to do, or always does."""
    first = table_of(doc).first[cue.start]
    before = spoken(doc[max(first, cue.start - 3) : cue.end])
    return not _INTENT.isdisjoint(before) and "if" not in before


def _is_whether(doc: Doc, cue: Span) -> bool:
    """Whether an "if" is what a look is for ("let's see if it's loose")."""
    if cue.label_ != CueCategory.SUPPOSED or cue.start == table_of(doc).first[cue.start]:
        return False
    before = within(doc, CUES, max(table_of(doc).first[cue.start], cue.start - 6), cue.start)
    return any(one.label_ == CueCategory.PURPOSE and one.end == cue.start for one in before)


def _is_told_to_look(doc: Doc, reading: SentenceReading, span: Span) -> bool:
    """Whether an aside teaches what to look for ("what you want to look for is cracks")."""
    cues = within(doc, CUES, reading.sentence.start, span.start)
    return any(
        cue.label_ == CueCategory.ELSEWHERE and cue._.cue.direction is Direction.FORWARD
        for cue in cues
    )


def _says_how_bad(reading: SentenceReading, result: Target) -> bool:
    """Whether a good word only says how bad it is, right behind a flagged word ("blocked *solid*")."""
    return not result.is_condition and any(
        one.is_condition
        and one.reading is FlaggedReading.PRESENT
        and one.span.end == result.span.start
        for one in reading.targets
    )


def _coordinate(doc: Doc, reading: SentenceReading) -> None:
    """Carries a denial over to a result that "and" or "or" joins to what was denied ("not closed and
    locked", "isn't tight or secure")."""
    for first, second in pairwise(reading.targets):
        if second.is_condition or second.reading is not FlaggedReading.PRESENT:
            continue
        overlap = second.span.start < first.span.end
        between = table_of(doc).key[first.span.end : second.span.start]
        joined = between in (["and"], ["or"])
        word_denied = (
            table_of(doc).key[first.span.start] == "not" or "n't" in first.span.text.lower()
        )
        condition_denied = first.is_condition and word_denied
        denied_result = not first.is_condition and first.reading is FlaggedReading.ABSENT
        if condition_denied and overlap:
            second.reading = FlaggedReading.UNCLEAR
        elif joined and (condition_denied or denied_result):
            second.reading = FlaggedReading.ABSENT


def _go_on_supposing(doc: Doc, reading: SentenceReading) -> None:
    """Reads a flagged word that is named again, with no verb, as supposed where it was before ("you get a bit
    of play, then a bit more play")."""
    supposed: set[str] = set()
    for target in reading.targets:
        if not target.is_condition:
            continue
        concept = target.span._.term.concepts[0]
        if target.reading is FlaggedReading.SUPPOSED and not target.expected:
            supposed.add(concept)
        elif target.reading is FlaggedReading.PRESENT and concept in supposed:
            start, end = reading.clauses[reading.clause_of(target.span.start)]
            words = set(spoken(doc[start:end]))
            if not words & _STATING:
                target.reading = FlaggedReading.SUPPOSED
