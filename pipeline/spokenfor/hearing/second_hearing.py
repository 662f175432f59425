"""Second hearing: what may have been a term of the pack, and what the sound says of it.

Candidates come from phone strings (packs/candidates.py); each is scored by writing the utterance both ways
and asking the acoustic model how probable each is. Nothing is changed here: reading decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from spokenfor.hearing.sound_score import SoundScorer, WindowSound
from spokenfor.models import Proof, Segment
from spokenfor.packs.candidates import Candidate, Candidates, Phrase, as_heard, extends
from spokenfor.packs.load import Pack
from spokenfor.packs.terms import Term
from spokenfor.packs.turning import TURNING, TurningWords
from spokenfor.packs.wording import normal, split_tokens


@dataclass(frozen=True)
class SecondHearingSettings:
    """Which candidates are worth asking the sound about. Likenesses 0..1; *common practice* until fitted."""

    least_alike: float = 0.68
    least_alike_short: float = 0.8
    short_phones: int = 4
    sure_word: float = 0.97
    sure_alike: float = 0.85
    longest_words: int = 5
    most_per_segment: int = 7


@dataclass(frozen=True)
class Question:
    """Words `first` up to `after` of a segment, and what may have been said instead: a `label` of a term
    of `kind` or a turning word. `sounds` and `spelling` say how alike the two are, 0..1."""

    first: int
    after: int
    kind: str
    label: str
    plural: bool
    sounds: float
    spelling: float


@dataclass(frozen=True)
class Asked:
    """A question of a segment, and the sound's answer in nats (see Proof)."""

    segment: Segment
    question: Question
    sound_score: float


class Terms:
    """What of a pack may have been misheard."""

    def __init__(self, pack: Pack) -> None:
        self.candidates = Candidates(pack)
        self.turning = TurningWords(pack)


class SecondHearing:
    """Asks the sound of a window about the terms of a pack."""

    def __init__(
        self,
        scorer: SoundScorer,
        terms: Terms,
        settings: SecondHearingSettings | None = None,
    ) -> None:
        self._scorer = scorer
        self._candidates = terms.candidates
        self._turning = terms.turning
        self._settings = settings or SecondHearingSettings()

    def ask(self, segments: Sequence[Segment], sound: WindowSound) -> list[Asked]:
        """The answers of the sound to the questions that the segments of one window raise."""
        asked: list[Asked] = []
        terms = self._term_questions(segments)
        for number, segment in enumerate(segments):
            questions = [*terms.get(number, ()), *self._word_questions(segment)]
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

    def _word_questions(self, segment: Segment) -> list[Question]:
        """The turning words that may have been meant; each is asked about alone."""
        if segment.doubtful:
            return []
        words = [_normal_words(word.text) for word in segment.words]
        place = [at for at, parts in enumerate(words) for _ in parts]
        flat = [word for parts in words for word in parts]
        found = self._turning.find(flat)
        return [
            Question(
                place[at],
                place[at] + 1,
                TURNING,
                meant.word,
                False,
                *as_heard(flat[at], meant.word),
            )
            for at, meant in found
            if len(words[place[at]]) == 1
        ]

    def _term_questions(self, segments: Sequence[Segment]) -> dict[int, list[Question]]:
        """The terms that may have been meant, by segment, likeliest first."""
        places: list[_Place] = []
        phrases: list[Phrase] = []
        exact: list[dict[int, set[int]]] = []
        terms: list[dict[int, Term]] = []
        for number, segment in enumerate(segments):
            words = [_normal_words(word.text) for word in segment.words]
            flat = [word for parts in words for word in parts]
            terms.append(self._candidates.heard_exactly(flat))
            begins = np.cumsum([0, *map(len, words)])
            exact.append({at: set(range(begins[at], begins[at + 1])) for at in range(len(words))})
            if segment.doubtful:
                continue
            for first in range(len(words)):
                last = min(first + self._settings.longest_words, len(words))
                for after in range(first + 1, last + 1):
                    said = tuple(word for parts in words[first:after] for word in parts)
                    if said:
                        phrases.append(Phrase(len(places), said))
                        places.append(_Place(number, first, after))
        found: dict[int, list[tuple[_Place, Candidate]]] = {}
        for candidate in self._candidates.search(phrases, self._settings.least_alike):
            place = places[candidate.phrase.where]
            inside = {
                at for word in range(place.first, place.after) for at in exact[place.segment][word]
            }
            heard = [
                terms[place.segment][at] for at in sorted(inside) if at in terms[place.segment]
            ]
            worth = _worth_asking(candidate, segments[place.segment], place, self._settings)
            if worth and extends(candidate.term, heard):
                found.setdefault(place.segment, []).append((place, candidate))
        return {
            number: [_question(*one) for one in _best(asked, self._settings)]
            for number, asked in found.items()
        }


@dataclass(frozen=True)
class _Place:
    """A run of words in a segment."""

    segment: int
    first: int
    after: int


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
        )
        for one in kept
    ]


def _worth_asking(
    candidate: Candidate, segment: Segment, place: _Place, settings: SecondHearingSettings
) -> bool:
    short = len(candidate.term.phones) <= settings.short_phones
    if short and candidate.sounds < settings.least_alike_short:
        return False
    surest = min(word.probability for word in segment.words[place.first : place.after])
    return surest < settings.sure_word or candidate.sounds >= settings.sure_alike


def _best(
    asked: list[tuple[_Place, Candidate]], settings: SecondHearingSettings
) -> list[tuple[_Place, Candidate]]:
    """Each concept once in each place, as it sounds most alike; then what says most, up to the most that
    may be asked."""
    ranked = sorted(
        asked,
        key=lambda pair: (
            -pair[1].sounds,
            len(pair[1].phrase.words),
            pair[0].first,
            pair[1].term.key,
        ),
    )
    kept: list[tuple[_Place, Candidate]] = []
    for place, candidate in ranked:
        again = any(
            other.term.concepts == candidate.term.concepts
            and there.first < place.after
            and place.first < there.after
            for there, other in kept
        )
        if not again:
            kept.append((place, candidate))
    kept.sort(key=lambda pair: -pair[1].sounds * len(pair[1].term.phones) ** 0.5)
    return kept[: settings.most_per_segment]


def _normal_words(text: str) -> list[str]:
    return [normal(token) for token in split_tokens(text) if token[0].isalnum()]


def _question(place: _Place, candidate: Candidate) -> Question:
    return Question(
        place.first,
        place.after,
        candidate.term.kind.value,
        candidate.term.label,
        candidate.plural,
        candidate.sounds,
        candidate.spelling,
    )


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
