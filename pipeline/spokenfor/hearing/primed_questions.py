"""Which terms did the one hear who knew the names, where the first pass wrote something else?

Both wordings of a window are laid beside each other by least edits; a term that stands only in the primed one
is a question to the sound about the words that stand in its place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rapidfuzz.distance import Levenshtein, Opcodes

from spokenfor.hearing.questions import Question, Terms
from spokenfor.hearing.segments import loops
from spokenfor.models import Segment, Word
from spokenfor.packs.candidates import as_heard, extends
from spokenfor.packs.terms import Term
from spokenfor.packs.wording import words_of

LONGER = 3
"""So many words more than the label has may stand in its place."""

_A_SECOND = 0.1
"""What a second between the two places takes off their likeness."""


@dataclass(frozen=True)
class _Said:
    """A normal word, the segment and word it comes from, and when (seconds) with which probability."""

    text: str
    segment: int
    word: int
    middle: float
    probability: float


class PrimedQuestions:
    """Finds the questions that a primed hearing raises beside the first one."""

    def __init__(self, terms: Terms) -> None:
        self._candidates = terms.candidates

    def joined(
        self,
        segments: Sequence[Segment],
        questions: Sequence[Sequence[Question]],
        primed: Sequence[Word] | None,
    ) -> list[list[Question]]:
        """The questions of each segment: those given, each with whether the primed hearing says the same,
        and what that one alone raises. As given where there is no primed hearing, or where it ran in a loop."""
        if primed is None or loops(primed):
            return [list(ones) for ones in questions]
        raised = self._raised(segments, primed)
        return [
            [] if segment.doubtful else _merged(given, raised.get(number, []))
            for number, (segment, given) in enumerate(zip(segments, questions, strict=True))
        ]

    def _raised(
        self, segments: Sequence[Segment], primed: Sequence[Word]
    ) -> dict[int, list[Question]]:
        first = [
            word for number, segment in enumerate(segments) for word in _flat(number, segment.words)
        ]
        told = list(_flat(0, primed))
        texts = [word.text for word in first]
        blocks = Levenshtein.opcodes(texts, [word.text for word in told])
        exact = self._candidates.heard_exactly(texts)
        raised: dict[int, list[Question]] = {}
        for term, start, end in self._candidates.terms_in([word.text for word in told]):
            if term.hidden:
                continue
            span = _span(blocks, start, end)
            words = told[start:end]
            best = max(
                _within(first, span, term),
                key=lambda at: _fit(first[at[0] : at[1]], words, term),
                default=None,
            )
            if best is None:
                continue
            inside = first[best[0] : best[1]]
            heard = [exact[at] for at in range(*best) if at in exact]
            if not extends(term, heard):
                continue
            question = _question(inside, words, term)
            others = raised.setdefault(inside[0].segment, [])
            if all(_place_of(one) != _place_of(question) for one in others):
                others.append(question)
        return raised


def _flat(number: int, words: Sequence[Word]) -> Iterator[_Said]:
    for at, word in enumerate(words):
        for text in words_of(word.text):
            yield _Said(text, number, at, (word.start + word.end) / 2, word.probability)


def _span(blocks: Opcodes, start: int, end: int) -> range:
    """The first words that may stand in the place of primed words `start` to `end`; none where all of
    them are the same."""
    low, high, differs = None, 0, False
    for block in blocks:
        i1, i2, j1, j2 = block.src_start, block.src_end, block.dest_start, block.dest_end
        if j1 < end and j2 > start:
            same = block.tag == "equal"
            differs |= not same
            here = (i1 + max(start - j1, 0), i1 + min(end, j2) - j1) if same else (i1, i2)
            low = here[0] if low is None else low
            high = here[1]
    return range(low or 0, high) if differs else range(0)


def _within(first: Sequence[_Said], span: range, term: Term) -> Iterator[tuple[int, int]]:
    """The runs of whole words of one segment inside a span that the label may have been."""
    longest = len(words_of(term.label)) + LONGER
    for begin in span:
        for after in range(begin + 1, min(begin + longest, span.stop) + 1):
            one, other = first[begin], first[after - 1]
            whole_begin = begin == 0 or _place(first[begin - 1]) != _place(one)
            whole_end = after == len(first) or _place(first[after]) != _place(other)
            if one.segment == other.segment and whole_begin and whole_end:
                yield begin, after


def _place_of(question: Question) -> tuple[int, int, str]:
    return question.first, question.after, question.label


def _place(word: _Said) -> tuple[int, int]:
    return word.segment, word.word


def _fit(inside: Sequence[_Said], words: Sequence[_Said], term: Term) -> float:
    sounds, _ = as_heard(" ".join(word.text for word in inside), term.label)
    return sounds - _A_SECOND * abs(_middle(inside) - _middle(words))


def _middle(words: Sequence[_Said]) -> float:
    return (words[0].middle + words[-1].middle) / 2


def _question(inside: Sequence[_Said], words: Sequence[_Said], term: Term) -> Question:
    label = term.label
    said = " ".join(word.text for word in words)
    sounds, spelling = as_heard(" ".join(word.text for word in inside), label)
    return Question(
        first=inside[0].word,
        after=inside[-1].word + 1,
        kind=term.kind.value,
        label=label,
        plural=said.endswith("s") and not label.endswith("s"),
        sounds=sounds,
        spelling=spelling,
        primed=min(word.probability for word in words),
    )


def _merged(given: Sequence[Question], raised: Sequence[Question]) -> list[Question]:
    """All questions once, each with whether the primed hearing says the same there."""
    merged = []
    kept = list(raised)
    for one in given:
        same = [
            other
            for other in raised
            if (other.kind, other.label) == (one.kind, one.label)
            and other.first < one.after
            and one.first < other.after
        ]
        heard = max((other.primed or 0.0 for other in same), default=0.0)
        merged.append(replace(one, primed=heard))
        kept = [
            other
            for other in kept
            if not (other in same and (other.first, other.after) == (one.first, one.after))
        ]
    return [*merged, *kept]
