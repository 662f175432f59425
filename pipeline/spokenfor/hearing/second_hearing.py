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
from spokenfor.packs.candidates import Candidate, Candidates, Phrase, extends
from spokenfor.packs.terms import Term
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
class Asked:
    """A run of words of a segment, `first` up to `after`, a term it may have been, and the sound score."""

    segment: Segment
    first: int
    after: int
    candidate: Candidate
    sound_score: float


class SecondHearing:
    """Asks the sound of a window about the terms of a pack."""

    def __init__(
        self,
        scorer: SoundScorer,
        candidates: Candidates,
        settings: SecondHearingSettings | None = None,
    ) -> None:
        self._scorer = scorer
        self._candidates = candidates
        self._settings = settings or SecondHearingSettings()

    def ask(self, segments: Sequence[Segment], sound: WindowSound) -> list[Asked]:
        """Sound scores of the possible repairs of the segments of one window."""
        asked: list[Asked] = []
        for number, wanted in sorted(self._wanted(segments).items()):
            segment = segments[number]
            part = sound.part(segment.start, segment.end)
            texts = [segment.text, *(_rewritten(segment, *one) for one in wanted)]
            scores = [float(one.sum()) for one in self._scorer.scores(part, texts)]
            asked += [
                Asked(segment, place.first, place.after, candidate, score - scores[0])
                for (place, candidate), score in zip(wanted, scores[1:], strict=True)
            ]
        return asked

    def _wanted(self, segments: Sequence[Segment]) -> dict[int, list[tuple[_Place, Candidate]]]:
        """The candidates of each segment that the sound is asked about, likeliest first."""
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
        return {number: _best(asked, self._settings) for number, asked in found.items()}


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
            first=one.first,
            after=one.after,
            kind=one.candidate.term.kind.value,
            label=one.candidate.term.label,
            plural=one.candidate.plural,
            phonetic_score=one.candidate.sounds,
            spelling_score=one.candidate.spelling,
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


def _said(segment: Segment, place: _Place, candidate: Candidate) -> str:
    """The label as it would stand in the phrase's place: plural and capital as heard."""
    label = candidate.term.label
    if candidate.plural:
        label += "es" if label.endswith(("ch", "sh", "x", "z", "s")) else "s"
    if segment.words[place.first].text[:1].isupper():
        label = label[0].upper() + label[1:]
    return label


def _rewritten(segment: Segment, place: _Place, candidate: Candidate) -> str:
    """The text of a segment with the label in place of the phrase; the last mark is kept."""
    words = [word.text for word in segment.words]
    label = _said(segment, place, candidate)
    last = words[place.after - 1]
    marks = last[len(last.rstrip(".,?!;:")) :]
    return " ".join([*words[: place.first], label + marks, *words[place.after :]])
