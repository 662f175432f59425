"""Which words of a transcript may have been a term of the pack, and are worth asking the sound about.

Most candidates sound like what was heard. Where the sentence itself says what must stand there (a flagged
word behind "no", a name that opens a clause), and where a word is none that English knows, less likeness
is enough: the sound decides in any case.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from spokenfor.hearing.names_near import NamesNear
from spokenfor.models import Segment
from spokenfor.packs.candidates import Candidate, Candidates, Phrase, as_heard, extends
from spokenfor.packs.load import Pack
from spokenfor.packs.phones import in_dictionary
from spokenfor.packs.terms import Term, TermKind
from spokenfor.packs.turning import TURNING, TurningWords
from spokenfor.packs.wording import words_of

_DENYING = frozenset("no any nil zero without".split())
_NAMES = (TermKind.COMPONENT, TermKind.ZONE)


@dataclass(frozen=True)
class QuestionSettings:
    """Which candidates are worth asking the sound about. Likenesses 0..1; *common practice* until fitted.

    `denied` holds for a flagged word behind a "no", `opening` for a name that opens a clause, `spelling`
    for the spelling of a word that the dictionary does not know; `words_per_question` bounds the time.

    `least_worth` is for all: likeness less `sure_costs` times the probability (0..1) of the least probable
    word. On development narrations a quarter of the questions reach it, and 80 of the 86 repairs that were
    rightly made without a primed hearing's word; what that one raises is asked anyhow."""

    least_alike: float = 0.68
    least_alike_short: float = 0.8
    denied: float = 0.55
    opening: float = 0.6
    spelling: float = 0.8
    short_phones: int = 4
    sure_word: float = 0.97
    sure_alike: float = 0.85
    longest_words: int = 5
    least_worth: float = 0.7
    sure_costs: float = 0.15
    at_least: int = 7
    words_per_question: float = 1.0


@dataclass(frozen=True)
class Question:
    """Words `first` up to `after` of a segment, and what may have been said instead: a `label` of a term
    of `kind` or a turning word. `sounds` and `spelling` say how alike the two are, 0..1; `primed` is that of a
    Proof."""

    first: int
    after: int
    kind: str
    label: str
    plural: bool
    sounds: float
    spelling: float
    primed: float | None = None


@dataclass(frozen=True)
class _Place:
    """A run of words in a segment; `denied` behind a "no", `opens` where it begins a clause, `unknown`
    where a word of it stands in no dictionary."""

    segment: int
    first: int
    after: int
    denied: bool
    opens: bool
    unknown: bool


_Found = tuple[_Place, Candidate]


class Terms:
    """What of a pack may have been misheard."""

    def __init__(self, pack: Pack) -> None:
        self.candidates = Candidates(pack)
        self.turning = TurningWords(pack)
        self.names = NamesNear(pack, self.candidates)


class Questions:
    """Finds the questions that segments raise."""

    def __init__(self, terms: Terms, settings: QuestionSettings | None = None) -> None:
        self._candidates = terms.candidates
        self._turning = terms.turning
        self._settings = settings or QuestionSettings()

    def of(self, segments: Sequence[Segment]) -> list[list[Question]]:
        """The questions of each segment, likeliest first."""
        terms = self._about_terms(segments)
        return [
            [*terms.get(number, ()), *self._about_words(segment)]
            for number, segment in enumerate(segments)
        ]

    def _about_words(self, segment: Segment) -> list[Question]:
        """The turning words that may have been meant; each is asked about alone."""
        if segment.doubtful:
            return []
        words = [words_of(word.text) for word in segment.words]
        place = [at for at, parts in enumerate(words) for _ in parts]
        flat = [word for parts in words for word in parts]
        return [
            Question(
                place[at],
                place[at] + 1,
                TURNING,
                meant.word,
                False,
                *as_heard(flat[at], meant.word),
            )
            for at, meant in self._turning.find(flat)
            if len(words[place[at]]) == 1
        ]

    def _about_terms(self, segments: Sequence[Segment]) -> dict[int, list[Question]]:
        """The terms that may have been meant, by segment."""
        places: list[_Place] = []
        phrases: list[Phrase] = []
        exact: list[list[list[Term]]] = []
        for number, segment in enumerate(segments):
            words = [words_of(word.text) for word in segment.words]
            exact.append(self._heard_exactly(words))
            if not segment.doubtful:
                for place in self._places(number, segment, words):
                    said = tuple(w for parts in words[place.first : place.after] for w in parts)
                    if said:
                        phrases.append(Phrase(len(places), said))
                        places.append(place)
        found: dict[int, list[_Found]] = {}
        for candidate in self._search(phrases, places):
            place = places[candidate.phrase.where]
            heard = [
                term for terms in exact[place.segment][place.first : place.after] for term in terms
            ]
            segment = segments[place.segment]
            if self._worth_asking(candidate, segment, place) and extends(candidate.term, heard):
                found.setdefault(place.segment, []).append((place, candidate))
        return {
            number: [_question(*one) for one in self._best(pairs, len(segments[number].words))]
            for number, pairs in found.items()
        }

    def _heard_exactly(self, words: Sequence[Sequence[str]]) -> list[list[Term]]:
        """For each word of a segment, the terms heard letter for letter in it."""
        flat = [word for parts in words for word in parts]
        heard = self._candidates.heard_exactly(flat)
        begins = np.cumsum([0, *map(len, words)])
        return [
            [heard[at] for at in range(begins[n], begins[n + 1]) if at in heard]
            for n in range(len(words))
        ]

    def _places(
        self, number: int, segment: Segment, words: Sequence[Sequence[str]]
    ) -> Iterator[_Place]:
        marked = [word.text[-1:] in ",.;:?!" for word in segment.words]
        for first in range(len(words)):
            before = words[first - 1][-1] if first and words[first - 1] else ""
            opens = first == 0 or marked[first - 1]
            denied = before in _DENYING and not marked[first - 1]
            last = min(first + self._settings.longest_words, len(words))
            for after in range(first + 1, last + 1):
                unknown = not all(
                    in_dictionary(word) for parts in words[first:after] for word in parts
                )
                yield _Place(number, first, after, denied, opens, unknown)

    def _search(self, phrases: Sequence[Phrase], places: Sequence[_Place]) -> Iterator[Candidate]:
        """What sounds like it, and what is spelled like it where a word is unknown."""
        low = min(self._settings.denied, self._settings.opening)
        yield from self._candidates.search(phrases, low)
        unknown = [phrase for phrase in phrases if places[phrase.where].unknown]
        yield from self._candidates.search_spelling(unknown, self._settings.spelling)

    def _worth_asking(self, candidate: Candidate, segment: Segment, place: _Place) -> bool:
        settings = self._settings
        kind, sounds = candidate.term.kind, candidate.sounds
        surest = min(word.probability for word in segment.words[place.first : place.after])
        if sounds - settings.sure_costs * surest < settings.least_worth:
            return False
        if place.unknown and candidate.spelling >= settings.spelling:
            return True
        if place.denied and kind is TermKind.CONDITION:
            least = settings.denied
        elif len(candidate.term.phones) <= settings.short_phones:
            least = settings.least_alike_short
        elif place.opens and kind in _NAMES:
            least = settings.opening
        else:
            least = settings.least_alike
        if sounds < least:
            return False
        return surest < settings.sure_word or sounds >= settings.sure_alike

    def _best(self, asked: list[_Found], words: int) -> list[_Found]:
        """Each concept once in each place, as it sounds most alike; then what says most, up to the most
        that may be asked of so many words."""
        ranked = sorted(
            asked,
            key=lambda pair: (
                -pair[1].sounds,
                len(pair[1].phrase.words),
                pair[0].first,
                pair[1].term.key,
            ),
        )
        kept: list[_Found] = []
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
        most = max(self._settings.at_least, round(words / self._settings.words_per_question))
        return kept[:most]


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
