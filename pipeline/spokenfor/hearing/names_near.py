"""Which names of the sheet belong where something was said? Those of the zones whose names were heard there."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence

from spokenfor.models import Word
from spokenfor.packs.candidates import Candidates
from spokenfor.packs.load import Pack
from spokenfor.packs.wording import words_of

_ZONE_NAMED = 2.0
_BESIDE = 0.5


class NamesNear:
    """The names of a pack in the order in which they are likely to have been said in a stretch of sound."""

    def __init__(self, pack: Pack, candidates: Candidates) -> None:
        self._candidates = candidates
        self._names: dict[str, list[str]] = {}
        self._zones_of: dict[str, list[str]] = {}
        for zone in pack.sheet:
            components = dict.fromkeys(line.component for line in zone.lines)
            self._names[zone.zone] = [pack.components[one].prefLabel for one in components]
            for component in components:
                self._zones_of.setdefault(component, []).append(zone.zone)

    def of(self, windows: Sequence[Sequence[Word]]) -> list[list[str]]:
        """For each of a few neighbouring windows of words, the names of the pack, likeliest first: zone by
        zone, by how often their names were heard in it and, for half as much, beside it."""
        heard = [self._heard(words) for words in windows]
        return [
            self._ranked(
                {
                    zone: sum(
                        one[zone] * (1.0 if at == number else _BESIDE)
                        for at, one in enumerate(heard)
                    )
                    for zone in self._names
                }
            )
            for number in range(len(windows))
        ]

    def new_in(self, told: str, heard: Sequence[Word]) -> bool:
        """Whether a text has a name that the words heard do not have, or has it more often."""
        first = [word for one in heard for word in words_of(one.text)]
        return bool(self._labels(words_of(told)) - self._labels(first))

    def _labels(self, words: Sequence[str]) -> Counter[str]:
        return Counter(term.label for term, _, _ in self._candidates.terms_in(words))

    def _ranked(self, score: dict[str, float]) -> list[str]:
        # A stable sort: zones that were named as often stay in the order of the walk.
        zones = sorted(self._names, key=lambda zone: -score[zone])
        return list(dict.fromkeys(name for zone in zones for name in self._names[zone]))

    def _heard(self, words: Sequence[Word]) -> dict[str, float]:
        """How much speaks for each zone; a name of several zones speaks less for each."""
        found: dict[str, float] = defaultdict(float)
        said = [word for one in words for word in words_of(one.text)]
        for term, _, _ in self._candidates.terms_in(said):
            for concept in term.concepts:
                zones = self._zones_of.get(concept, [])
                for zone in zones:
                    found[zone] += 1 / len(zones)
                if concept in self._names:
                    found[concept] += _ZONE_NAMED
        return found
