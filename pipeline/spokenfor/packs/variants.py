"""What a label is also called: the other words of each row of same-words.yaml, put in its place."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from spokenfor.packs.schema import SameWords
from spokenfor.packs.wording import match_key, singular, words_of

MOST = 12
"""A label has at most so many variants: three words of it with three spellings each."""


class Variants:
    """The rows of same words, ready to be looked for in labels."""

    def __init__(self, rows: Iterable[SameWords]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], list[str]]]] = defaultdict(list)
        for row in rows:
            for one in row.words:
                stems = tuple(singular(word) for word in words_of(one))
                others = [other for other in row.words if other != one]
                self._by_first[stems[0]].append((stems, others))

    def of(self, label: str) -> list[str]:
        """Other wordings of a label, without those that are matched as it is already matched."""
        words = words_of(label)
        stems = [singular(word) for word in words]
        if not any(stem in self._by_first for stem in stems):
            return []
        found: list[list[str]] = [[]]
        at = 0
        while at < len(words):
            size, others = self._at(stems, at)
            said = " ".join(words[at : at + size])
            found = [[*one, other] for one in found for other in (said, *others)][: MOST + 1]
            at += size
        texts = {match_key(text): text for text in (" ".join(one) for one in found)}
        return [text for key, text in texts.items() if key != match_key(label)]

    def _at(self, stems: Sequence[str], at: int) -> tuple[int, list[str]]:
        """The longest row that stands at a word: how many words, and what else they may be."""
        size, others = 1, list[str]()
        for phrase, instead in self._by_first.get(stems[at], ()):
            if tuple(stems[at : at + len(phrase)]) == phrase and (len(phrase) > size or not others):
                size, others = len(phrase), instead
        return size, others
