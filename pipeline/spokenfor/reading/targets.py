"""What reading decides about: flagged words and result words, sentence by sentence."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field, replace
from functools import cached_property

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import CUES, MENTIONS, STATES, is_word, key_of, mentioned, within

RESULTS = {CueCategory.SATISFACTORY.value, CueCategory.UNSATISFACTORY.value}
DENIALS = {CueCategory.ABSENT.value, CueCategory.NEGATION.value}
SAYING = RESULTS | {TermKind.STATE.value, TermKind.CONDITION.value}
"""Labels of spans that say how a thing is."""

_INVERTED = frozenset("is are was were does do did has have can could will would should".split())
_ASKED_OF = frozenset(
    "that this it there they these those the you he she your any anyone anybody".split()
)


@dataclass
class Target:
    """A flagged word or a result word, and how it is meant. For a result word `reading` is PRESENT (it
    holds), ABSENT (it is denied: "not secure"), or no result (LOOKED_FOR, SUPPOSED, UNCLEAR). `asked` and
    `expected` wait for an answer (`taught`: in words that tell somebody what to look for);
    `answered` is the end of a later answer ("any leaks? None"), where there
    was one; `void` says that it was taken back together with its subject; `unlisted`
    is how probable (0..1) a result is that no listed phrase states (see unlisted.py)."""

    span: Span
    reading: FlaggedReading
    asked: bool = False
    expected: bool = False
    taught: bool = False
    answered: int | None = None
    void: bool = False
    unlisted: float | None = None

    def turned(self) -> Target:
        """The same word with the contrary reading, where it was stated or denied."""
        contrary = {
            FlaggedReading.PRESENT: FlaggedReading.ABSENT,
            FlaggedReading.ABSENT: FlaggedReading.PRESENT,
        }
        return replace(self, reading=contrary.get(self.reading, self.reading))

    @property
    def is_condition(self) -> bool:
        return bool(self.span.label_ == TermKind.CONDITION)

    @property
    def is_bad_word(self) -> bool:
        """Whether its words by themselves tell of a fault: a flagged word or a bad result, however meant."""
        return self.is_condition or self.span.label_ == CueCategory.UNSATISFACTORY

    @property
    def is_good(self) -> bool:
        """Whether it is a general good result that holds."""
        good = self.span.label_ == CueCategory.SATISFACTORY
        return good and self.reading is FlaggedReading.PRESENT


@dataclass
class SentenceReading:
    """A sentence, its clauses as token ranges, its targets in order of place, the token ranges that are
    `asides` (of another machine, chat), whether it is `ironic`, the indices of the first tokens of cues
    and quantities that are `void` (only supposed, expected, asked or denied), and in `reaching` the cues
    that may reach a word at all."""

    sentence: Span
    clauses: list[tuple[int, int]]
    targets: list[Target]
    asides: list[tuple[int, int]] = field(default_factory=list)
    ironic: bool = False
    void: set[int] = field(default_factory=set)
    reaching: list[Span] | None = None

    def clause_of(self, index: int) -> int:
        """Which clause a token of the sentence lies in; they leave no gaps."""
        return bisect_right(self._starts, index) - 1

    @cached_property
    def _starts(self) -> list[int]:
        return [start for start, _ in self.clauses]

    def is_aside(self, index: int) -> bool:
        return any(start <= index < end for start, end in self.asides)

    @cached_property
    def is_question(self) -> bool:
        if key_of(self.sentence[-1]) == "?":
            return True
        # A recogniser seldom hears a question mark ("is that yours leaking over there").
        words = [key_of(token) for token in self.sentence[:3] if is_word(token)]
        asks = len(words) > 1 and words[0] in _INVERTED and words[1] in _ASKED_OF
        return asks and not any(key_of(token) == "," for token in self.sentence)


def states_good(target: Target) -> bool:
    """Whether a target is a result that holds and is good: a general one, or a state that is expected of every
    component that has it."""
    if target.span.label_ == TermKind.STATE:
        good = all(one.endswith(":expected") for one in target.span._.state.concepts)
        return good and target.reading is FlaggedReading.PRESENT
    return target.is_good


def says_something(doc: Doc, start: int, end: int) -> bool:
    """Whether a result or a flagged word stands between two tokens."""
    return any(
        span.label_ in SAYING
        for group in (CUES, STATES, MENTIONS)
        for span in within(doc, group, start, end)
    )


def targets_between(doc: Doc, start: int, end: int) -> bool:
    """Whether a flagged word or a result lies between two tokens, and not over the second ("*is lit*")."""
    return bool(mentioned(doc, TermKind.CONDITION, start, end)) or any(
        cue.label_ in RESULTS and cue.end <= end for cue in within(doc, CUES, start, end)
    )
