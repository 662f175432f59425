"""How each flagged word and each result word is meant: present, absent, looked for, supposed...

Method: ConText (Harkema et al. 2009): a cue has a category, a direction and a scope, and its scope ends at
a termination cue. What is carried further for spoken inspection (purpose, late answers) is marked in
speech.yaml as common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory, Direction, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.clauses import clauses
from spokenfor.reading.document import CUES, MENTIONS, STATES, is_word, within

_HARD_STOPS = {"but", "however", "although", "though", "except", "yet", "apart", "aside", "other"}
_AIMS = {"for", "if", "whether", "that", "any", "is", "are", "it's", "they're", "that's"}
_RESULTS = {CueCategory.SATISFACTORY.value, CueCategory.UNSATISFACTORY.value}


# State words that are also prepositions count only where nothing follows that they could govern.
_SMALL_WORDS = {"in", "out", "on", "off", "up", "down"}
_MAY_FOLLOW = {
    "and",
    "but",
    "so",
    "then",
    "now",
    "no",
    "too",
    "still",
    "okay",
    "ok",
    "good",
    "as",
    "also",
}


@dataclass
class Target:
    """A flagged word or a result word, and how it is meant. For a result word `reading` is PRESENT (it
    holds), ABSENT (it is denied: "not secure"), or no result (LOOKED_FOR, SUPPOSED). `answered` is the end
    of a later answer ("any leaks? None"), where there was one."""

    span: Span
    reading: FlaggedReading
    answered: int | None = None

    @property
    def is_condition(self) -> bool:
        return bool(self.span.label_ == TermKind.CONDITION.value)


@dataclass
class SentenceReading:
    """A sentence, its clauses as token ranges, and its targets in order of place."""

    sentence: Span
    clauses: list[tuple[int, int]]
    targets: list[Target]

    def clause_of(self, index: int) -> int:
        return next(at for at, (start, end) in enumerate(self.clauses) if start <= index < end)


def read_targets(doc: Doc) -> list[SentenceReading]:
    """The targets of every sentence, read."""
    readings: list[SentenceReading] = []
    for sentence in doc.sents:
        reading = SentenceReading(sentence, clauses(doc, sentence), [])
        spans = [
            *(
                span
                for span in within(doc, MENTIONS, sentence.start, sentence.end)
                if span.label_ == TermKind.CONDITION.value
            ),
            *(
                span
                for span in within(doc, CUES, sentence.start, sentence.end)
                if span.label_ in _RESULTS and _has_subject(doc, span)
            ),
            *(
                span
                for span in within(doc, STATES, sentence.start, sentence.end)
                if _stands_as_result(span)
            ),
        ]
        for span in sorted(spans, key=lambda span: (span.start, span.end)):
            reading.targets.append(Target(span, _reading(doc, reading, span)))
        _answer(doc, reading, readings[-1] if readings else None)
        readings.append(reading)
    return readings


def _has_subject(doc: Doc, cue: Span) -> bool:
    """Whether a result that only reaches back has a word before it ("oil level okay", not "Okay, ...")."""
    first = doc._.table.first[cue.start]
    said_before = any(is_word(token) for token in doc[first : cue.start])
    return cue._.cue.direction is not Direction.BACKWARD or said_before


def _stands_as_result(span: Span) -> bool:
    """Whether a small word is a result ("the indicator is in") and not a preposition ("in the filter")."""
    if span[-1]._.key not in _SMALL_WORDS:
        return True
    follows = span.doc[span.end] if span.end < span.doc._.table.after[span.start] else None
    return follows is None or not is_word(follows) or follows._.key in _MAY_FOLLOW


def _reading(doc: Doc, reading: SentenceReading, target: Span) -> FlaggedReading:
    sentence = reading.sentence
    if sentence[0]._.doubtful:
        return FlaggedReading.UNCLEAR
    cues = [
        cue
        for cue in within(doc, CUES, sentence.start, sentence.end)
        if not (cue.start < target.end and target.start < cue.end)
        and _reaches(doc, reading, cue, target)
    ]
    categories = {cue.label_ for cue in cues}
    if sentence[-1].text == "?" or CueCategory.SUPPOSED.value in categories:
        asked = sentence[-1].text == "?" and CueCategory.SUPPOSED.value not in categories
        return FlaggedReading.LOOKED_FOR if asked else FlaggedReading.SUPPOSED
    if CueCategory.HISTORY.value in categories:
        return FlaggedReading.SUPPOSED
    if CueCategory.PURPOSE.value in categories:
        return FlaggedReading.LOOKED_FOR
    denials = [
        cue for cue in cues if cue.label_ in (CueCategory.ABSENT.value, CueCategory.NEGATION.value)
    ]
    return FlaggedReading.ABSENT if denials else FlaggedReading.PRESENT


def _reaches(doc: Doc, reading: SentenceReading, cue: Span, target: Span) -> bool:
    rule = cue._.cue
    if cue.label_ == CueCategory.CORRECTION.value or rule.direction is Direction.ALONE:
        return False
    forward = cue.end <= target.start
    if not forward:
        return rule.direction is Direction.BOTH and _in_reach(
            doc, reading, rule.scope, target.end, cue.start
        )
    if rule.direction is Direction.BACKWARD or not _in_reach(
        doc, reading, rule.scope, cue.end, target.start
    ):
        return False
    if cue.label_ == CueCategory.PURPOSE.value and rule.scope is Scope.NEXT:
        is_condition = target.label_ == TermKind.CONDITION.value
        return is_condition and not _targets_between(doc, cue.end, target.start)
    if cue.label_ == CueCategory.PURPOSE.value:
        return _purpose_reaches(doc, cue, target)
    if cue.label_ == CueCategory.ABSENT.value:
        return _absence_reaches(doc, cue, target)
    if rule.scope is Scope.NEXT:
        return not _targets_between(doc, cue.end, target.start)
    return True


def _in_reach(doc: Doc, reading: SentenceReading, scope: Scope, start: int, end: int) -> bool:
    """Whether a scope spans the tokens start..end, which lie between a cue and its target."""
    if scope is not Scope.SENTENCE:
        last = max(end, start)
        return reading.clause_of(start - 1) == reading.clause_of(
            min(last, reading.sentence.end - 1)
        )
    for cue in within(doc, CUES, start, end):
        if cue.label_ == CueCategory.TERMINATION.value:
            after_mark = not is_word(doc[cue.start - 1])
            if doc[cue.start]._.key in _HARD_STOPS or after_mark:
                return False
    return True


def _targets_between(doc: Doc, start: int, end: int) -> bool:
    return any(
        span.label_ == TermKind.CONDITION.value for span in within(doc, MENTIONS, start, end)
    ) or any(cue.label_ in _RESULTS for cue in within(doc, CUES, start, end))


def _components_between(doc: Doc, start: int, end: int) -> list[Span]:
    return [
        span
        for span in within(doc, MENTIONS, start, end)
        if span.label_ == TermKind.COMPONENT.value
    ]


def _purpose_reaches(doc: Doc, cue: Span, target: Span) -> bool:
    """Purpose covers what it aims at. Past a component it needs an aiming word ("checking the pump *for*
    leaks"); it ends at a denial that follows the component or an earlier target ("checking the pump, no
    leaks")."""
    components = _components_between(doc, cue.end, target.start)
    denials = [
        other
        for other in within(doc, CUES, cue.end, target.start)
        if other.label_ in (CueCategory.ABSENT.value, CueCategory.NEGATION.value)
    ]
    for denial in denials:
        if _components_between(doc, cue.end, denial.start) or _targets_between(
            doc, cue.end, denial.start
        ):
            return False
    if cue._.cue.scope is Scope.SENTENCE or not components:
        return True
    return any(token._.key in _AIMS for token in doc[components[0].end : target.start])


def _absence_reaches(doc: Doc, cue: Span, target: Span) -> bool:
    """Absence covers a list of conditions and ends at a result or at a component that follows one."""
    if target.label_ != TermKind.CONDITION.value:
        return target.start == cue.end
    between = within(doc, CUES, cue.end, target.start)
    if any(
        other.label_ in _RESULTS or other.label_ == CueCategory.PURPOSE.value for other in between
    ):
        return False
    covered = [
        span
        for span in within(doc, MENTIONS, cue.end, target.start)
        if span.label_ == TermKind.CONDITION.value
    ]
    if cue._.cue.scope is Scope.NEXT and covered:
        return False
    return not (covered and _components_between(doc, covered[0].end, target.start))


def _answer(doc: Doc, reading: SentenceReading, before: SentenceReading | None) -> None:
    """Carries a late "none" back to what was asked or looked for, here or in the sentence before."""
    sentence = reading.sentence
    for cue in within(doc, CUES, sentence.start, sentence.end):
        alone = cue._.cue.direction is Direction.ALONE
        if cue.label_ != CueCategory.ABSENT.value or not (
            cue._.cue.direction is Direction.BACKWARD or alone
        ):
            continue
        earlier = [target for target in reading.targets if target.span.end <= cue.start]
        asked = [
            target for target in earlier if target.is_condition and _open(doc, reading, target)
        ]
        if not earlier and before is not None:
            asked = [
                target
                for target in before.targets
                if target.is_condition and _open(doc, before, target)
            ]
        for target in asked:
            target.reading, target.answered = FlaggedReading.ABSENT, cue.end


def _open(doc: Doc, reading: SentenceReading, target: Target) -> bool:
    """Whether a condition still waits for an answer: looked for, or named by itself ("leaks, none")."""
    if target.reading is FlaggedReading.LOOKED_FOR:
        return True
    start, end = reading.clauses[reading.clause_of(target.span.start)]
    others = [
        token
        for token in doc[start:end]
        if is_word(token) and not target.span.start <= token.i < target.span.end
    ]
    named = {
        index for span in within(doc, MENTIONS, start, end) for index in range(span.start, span.end)
    } | {
        index
        for cue in within(doc, CUES, start, end)
        if cue.label_ == CueCategory.ABSENT.value
        for index in range(cue.start, cue.end)
    }
    return target.reading is FlaggedReading.PRESENT and all(
        token.i in named or token._.key in ("or", "and", "the", "any") for token in others
    )
