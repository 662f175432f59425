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
from spokenfor.reading.clauses import clauses
from spokenfor.reading.contractions import spread
from spokenfor.reading.corrections import take_back
from spokenfor.reading.document import CUES, MENTIONS, STATES, is_position, is_word, within
from spokenfor.reading.reach import denied, reaching
from spokenfor.reading.targets import DENIALS, RESULTS, SentenceReading, Target
from spokenfor.reading.voiding import void

# State words that are also prepositions count only where nothing follows that they could govern.
_SMALL_WORDS = {"in", "out", "on", "off", "up", "down", "both", "all"}
_MAY_FOLLOW = set(
    "and but so then now no too still okay ok good as also on both um er i we".split()
)
_HABITS = {
    "always",
    "usually",
    "often",
    "only",
    "all",
    "mostly",
    "sometimes",
    "can",
    "will",
    "do",
    "just",
}
_TURNING = {
    CueCategory.CORRECTION.value,
    CueCategory.DENIED.value,
    CueCategory.NEGATION.value,
}
_POINTING = {"that", "this", "the", "these", "those", "there's"}
_DEEDS = {
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
_TAGS = {"isn't", "aren't", "doesn't", "hasn't", "innit", "wasn't", "don't", "haven't", "eh"}
_ASKING = set("did do does have has had are is was were will would could can any what".split())
_ARTICLES = set("the this that these those a an my your its either each".split())
_STATING = set("is are was were has have got can see there here this these".split())


def read_targets(doc: Doc) -> list[SentenceReading]:
    """The targets of every sentence, read."""
    readings: list[SentenceReading] = []
    for sentence in doc.sents:
        reading = SentenceReading(sentence, clauses(doc, sentence), [])
        find_asides(doc, reading, readings[-1] if readings else None)
        spans = [
            *(
                span
                for span in within(doc, MENTIONS, sentence.start, sentence.end)
                if span.label_ == TermKind.CONDITION.value
            ),
            *(
                span
                for span in within(doc, CUES, sentence.start, sentence.end)
                if span.label_ in RESULTS
                and _has_subject(doc, span)
                and not _is_deed(doc, span)
                and not _governs_place(reading, span)
            ),
            *(
                span
                for span in within(doc, STATES, sentence.start, sentence.end)
                if _stands_as_result(reading, span)
                and not _in_unable(doc, span)
                and not _is_deed(doc, span)
            ),
        ]
        for span in sorted(spans, key=lambda span: (span.start, span.end)):
            reading.targets.append(_read(doc, reading, span))
        reading.targets = [one for one in reading.targets if not _says_how_bad(reading, one)]
        _coordinate(doc, reading)
        _go_on_supposing(doc, reading)
        void(doc, reading)
        readings.append(reading)
        said = {cue.label_ for cue in within(doc, CUES, sentence.start, sentence.end)}
        if said & _TURNING:
            take_back(doc, readings)
        answer(doc, readings)
        if CueCategory.IRONY.value in said:
            find_irony(doc, readings)
    return readings


def _has_subject(doc: Doc, cue: Span) -> bool:
    """Whether a result that only reaches back has a word before it ("oil level okay", not "Okay, ...")."""
    first = doc._.table.first[cue.start]
    said_before = any(is_word(token) for token in doc[first : cue.start])
    return cue._.cue.direction is not Direction.BACKWARD or said_before


def _is_deed(doc: Doc, span: Span) -> bool:
    """Whether a result word is what somebody does ("flickers when I *shut* the door")."""
    before = doc[span.start - 1]._.key if span.start > doc._.table.first[span.start] else ""
    return before in ("i", "we", "you", "to") and span[0]._.key in _DEEDS


def _stands_as_result(reading: SentenceReading, span: Span) -> bool:
    """Whether a small word is a result ("the indicator is in") and not a preposition ("in the filter")."""
    if span[-1]._.key not in _SMALL_WORDS:
        return True
    after = reading.clauses[reading.clause_of(span.end - 1)][1]
    return span.end >= after or _may_follow(span.doc, span.end)


def _may_follow(doc: Doc, at: int) -> bool:
    """Whether what stands at a token cannot be what a small word governs: a mark, "and" and the like, or a
    name with a verb on it ("red line's *on* yellow line's on")."""
    if not is_word(doc[at]) or doc[at]._.key in _MAY_FOLLOW:
        return True
    named = [
        span
        for span in within(doc, MENTIONS, at, at + 3)
        if span.label_ == TermKind.COMPONENT.value and (span.start == at or is_position(doc, at))
    ]
    return bool(named) and len(spread(doc[named[0].end - 1]._.key)) > 1


def _governs_place(reading: SentenceReading, span: Span) -> bool:
    """Whether the last word of a result is the preposition of what follows ("bolts *on the plate*")."""
    after = reading.clauses[reading.clause_of(span.end - 1)][1]
    follows = span.doc[span.end]._.key if span.end < after else ""
    if span[-1]._.key not in ("on", "in") or not follows[:1].isalnum():
        return False
    if span[0]._.key in ("not", "no", "nothing"):
        return False
    # "The cap's on" states something only where nothing follows; "bolts on the plate" says where.
    bare = len(spread(span[0]._.key)) + len(span) <= 3 and spread(span[0]._.key)[-1] in (
        "is",
        "are",
    )
    return (
        follows in _ARTICLES if len(span) > 1 and not bare else not _may_follow(span.doc, span.end)
    )


def _in_unable(doc: Doc, span: Span) -> bool:
    """Whether a state word is part of what could not be done ("couldn't open the door"), and not all that is
    said ("the kit *is sealed*")."""
    cues = within(doc, CUES, max(0, span.start - 4), span.start)
    return any(
        cue.label_ == CueCategory.NOT_INSPECTED.value
        and cue.end >= span.end
        and not (
            cue.end == span.end
            and {token._.key for token in doc[cue.start : span.start]} <= {"is", "are", "still"}
        )
        for cue in cues
    )


def _read(doc: Doc, reading: SentenceReading, span: Span) -> Target:
    if reading.sentence[0]._.doubtful:
        return Target(span, FlaggedReading.UNCLEAR)
    cues = reaching(doc, reading, span)
    kinds = {cue.label_ for cue in cues}
    if any(_is_whether(doc, cue) for cue in cues):
        kinds = kinds - {CueCategory.SUPPOSED.value} | {CueCategory.PURPOSE.value}
    question = reading.is_question and not _is_tagged(doc, reading, span)
    looked = question or CueCategory.PURPOSE.value in kinds
    absent = denied(doc, cues, span)
    if absent and _is_thing(doc, span):
        return Target(span, FlaggedReading.UNCLEAR)
    looked |= CueCategory.ANY.value in kinds and not absent
    if reading.is_aside(span.start):
        opening = {doc[start]._.key for start, _ in reading.clauses}
        asked = not question or not _ASKING.isdisjoint(opening)
        looked |= doc[reading.sentence.start]._.key in _ASKING
        taught = _is_told_to_look(doc, reading, span)
        looked = taught or (
            looked and asked and not kinds & {CueCategory.SUPPOSED.value, CueCategory.HISTORY.value}
        )
        meant = FlaggedReading.LOOKED_FOR if looked else FlaggedReading.SUPPOSED
        return Target(span, meant, asked=taught, taught=taught)
    if _is_habit(doc, span) or is_somebodys(doc, span):
        return Target(span, FlaggedReading.SUPPOSED)
    if CueCategory.EXPECTED.value in kinds and cues[0].label_ != CueCategory.SUPPOSED.value:
        kinds.discard(CueCategory.SUPPOSED.value)
    later = {cue.label_ for cue in cues if cue.start >= span.end}
    before = {cue.label_ for cue in cues} - later
    if absent and CueCategory.HISTORY.value in later - before and before & DENIALS:
        # "No sign of the leak they had on Friday."
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
    return verb and at > doc._.table.first[at] and doc[at - 1]._.key == "no"


def _is_habit(doc: Doc, span: Span) -> bool:
    """Whether a flagged word is what such things do ("they crack along the weld"): a verb in its plain form
    behind "they" or "you" (*common practice*; what one thing does now is "it leaks" or "it's leaking")."""
    if span.label_ != TermKind.CONDITION.value or len(span) > 1:
        return False
    key = span[0]._.key
    at = span.start - 1
    while at > doc._.table.first[span.start] and doc[at]._.key in _HABITS:
        at -= 1
    plain = not key.endswith(("ed", "ing", "s", "y"))
    return plain and at >= 0 and doc[at]._.key in ("they", "you")


def _is_whether(doc: Doc, cue: Span) -> bool:
    """Whether an "if" is what a look is for ("let's see if it's loose")."""
    if cue.label_ != CueCategory.SUPPOSED.value or cue.start == doc._.table.first[cue.start]:
        return False
    before = within(doc, CUES, max(doc._.table.first[cue.start], cue.start - 6), cue.start)
    return any(one.label_ == CueCategory.PURPOSE.value and one.end == cue.start for one in before)


def _is_told_to_look(doc: Doc, reading: SentenceReading, span: Span) -> bool:
    """Whether an aside teaches what to look for ("what you want to look for is cracks")."""
    cues = within(doc, CUES, reading.sentence.start, span.start)
    return any(
        cue.label_ == CueCategory.ELSEWHERE.value and cue._.cue.direction is Direction.FORWARD
        for cue in cues
    )


def _is_tagged(doc: Doc, reading: SentenceReading, span: Span) -> bool:
    """Whether a question is only hung on behind a flagged word that is stated ("that's a crack, isn't
    it?")."""
    start, end = reading.clauses[-1]
    words = [token._.key for token in doc[start:end] if is_word(token)]
    hung = len(words) <= 2 and bool(words) and words[0] in _TAGS
    if span.end > start or span.label_ != TermKind.CONDITION.value:
        return False
    # "That tyre's soft, hear the difference?": what went before is stated.
    own = reading.clauses[reading.clause_of(span.start)][0]
    before = [part for token in doc[own : span.start] for part in spread(token._.key)]
    first = doc[reading.sentence.start]._.key
    stated = bool({"is", "are", "has"} & set(before[1:])) and first in _POINTING
    return hung or stated


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
        between = [token._.key for token in doc[first.span.end : second.span.start]]
        joined = between in (["and"], ["or"])
        word_denied = doc[first.span.start]._.key == "not" or "n't" in first.span.text.lower()
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
            words = {part for token in doc[start:end] for part in spread(token._.key)}
            if not words & _STATING:
                target.reading = FlaggedReading.SUPPOSED
