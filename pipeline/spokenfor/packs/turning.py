"""Words that may have been a word that turns a meaning round ("know leaks", "lift servo").

Only a mis-hearing that the vocabulary lists, in the surroundings it names, is raised; whether it is taken is
decided elsewhere, by the sound.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from spokenfor.packs.load import Pack
from spokenfor.packs.schema import Following, TurningWord
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.packs.wording import normal, singular

TURNING = "turning"
"""The kind of a proof or repair that is about such a word."""

_FOLLOWS = {Following.COMPONENT: TermKind.COMPONENT, Following.CONDITION: TermKind.CONDITION}


class TurningWords:
    """The turning words of a pack, ready to be looked for."""

    def __init__(self, pack: Pack) -> None:
        compiled = compile_terms(pack)
        self._keys = {
            follows: frozenset(key for key, term in compiled[kind].items() if not term.hidden)
            for follows, kind in _FOLLOWS.items()
        }
        self._positions = frozenset(compiled[TermKind.POSITION])
        terms = [term for kind in compiled for term in compiled[kind].values()]
        self._longest = max(len(term.label.split()) for term in terms)
        self._meant: dict[str, list[TurningWord]] = defaultdict(list)
        for word in pack.turning:
            for heard in word.heard_as:
                self._meant[normal(heard)].append(word)

    def find(self, words: Sequence[str]) -> list[tuple[int, TurningWord]]:
        """Places in a sentence's normal words where a turning word may have been meant."""
        return [
            (at, meant)
            for at, word in enumerate(words)
            for meant in self._meant.get(word, ())
            if self._fits(words, at, meant)
        ]

    def _fits(self, words: Sequence[str], at: int, meant: TurningWord) -> bool:
        if meant.after and (at == 0 or words[at - 1] not in meant.after):
            return False
        if meant.alone and not (
            at + 1 == len(words) or (meant.after and words[at + 1] in ("and", "no", "with"))
        ):
            return False
        return not meant.before or any(self._follows(words, at, kind) for kind in meant.before)

    def _follows(self, words: Sequence[str], at: int, kind: Following) -> bool:
        start = at + 1
        while start < len(words) and singular(words[start]) in self._positions:
            start += 1
        stems = [singular(word) for word in words[start : start + self._longest]]
        return any("".join(stems[:size]) in self._keys[kind] for size in range(1, len(stems) + 1))
