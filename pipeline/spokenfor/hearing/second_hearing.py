"""Second hearing: what the sound says of words that may have been something else.

Questions (questions.py) are scored by writing the utterance both ways and asking the acoustic model how
probable each is. Nothing is changed here: reading decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spokenfor.hearing.primed import Names
from spokenfor.hearing.primed_questions import PrimedQuestions
from spokenfor.hearing.questions import Question, Questions, QuestionSettings, Terms
from spokenfor.hearing.sound_score import SoundScorer, WindowSound
from spokenfor.models import Proof, Segment, Word


@dataclass(frozen=True)
class Asked:
    """A question of a segment, and the sound's answer in nats (see Proof)."""

    segment: Segment
    question: Question
    sound_score: float


class SecondHearing:
    """Asks the sound of a window about the terms of a pack."""

    def __init__(
        self,
        scorer: SoundScorer,
        terms: Terms,
        settings: QuestionSettings | None = None,
    ) -> None:
        self._scorer = scorer
        self._questions = Questions(terms, settings)
        self._primed = PrimedQuestions(terms)
        self.names: Names = terms.names

    def ask(
        self, segments: Sequence[Segment], sound: WindowSound, primed: Sequence[Word] | None = None
    ) -> list[Asked]:
        """The answers of the sound to the questions that the segments of one window raise, by themselves
        and beside the words of the same window heard `primed`."""
        asked: list[Asked] = []
        raised = self._primed.joined(segments, self._questions.of(segments), primed)
        for segment, questions in zip(segments, raised, strict=True):
            if not questions:
                continue
            part = sound.part(segment.start, segment.end)
            texts = [segment.text, *(_rewritten(segment, one) for one in questions)]
            scores = [float(one.sum()) for one in self._scorer.scores(part, texts)]
            asked += [
                Asked(segment, question, score - scores[0])
                for question, score in zip(questions, scores[1:], strict=True)
            ]
        return asked


def as_proofs(asked: Sequence[Asked], segments: Sequence[Segment]) -> list[Proof]:
    """What was asked of those of `segments` that were kept, by their number there."""
    number = {id(segment): at for at, segment in enumerate(segments)}
    kept = [one for one in asked if id(one.segment) in number]
    kept.sort(key=lambda one: number[id(one.segment)])
    return [
        Proof(
            segment=number[id(one.segment)],
            first=one.question.first,
            after=one.question.after,
            kind=one.question.kind,
            label=one.question.label,
            plural=one.question.plural,
            phonetic_score=one.question.sounds,
            spelling_score=one.question.spelling,
            sound_score=one.sound_score,
            primed=one.question.primed,
        )
        for one in kept
    ]


def _said(segment: Segment, question: Question) -> str:
    """The label as it would stand in the phrase's place: plural and capital as heard."""
    label = question.label
    if question.plural:
        label += "es" if label.endswith(("ch", "sh", "x", "z", "s")) else "s"
    if segment.words[question.first].text[:1].isupper():
        label = label[0].upper() + label[1:]
    return label


def _rewritten(segment: Segment, question: Question) -> str:
    """The text of a segment with the label in place of the phrase; the last mark is kept."""
    words = [word.text for word in segment.words]
    label = _said(segment, question)
    last = words[question.after - 1]
    marks = last[len(last.rstrip(".,?!;:")) :]
    return " ".join([*words[: question.first], label + marks, *words[question.after :]])
