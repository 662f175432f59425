"""Cue phrases as a tree of words, and where they stand in a sentence.

A phrase may have a gap, written `*`, of one to six words; it then stands where its last words do ("leave the
mast *for now*"), and `*ed` for any one word with that ending ("well supported"). Contractions are matched as
the words they stand for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from spokenfor.packs.schema import Cue
from spokenfor.packs.terms import compile_cues
from spokenfor.reading.contractions import spread

# A phrase that stands at the tokens start..end (end not included), and by layer the cues it may be.
Match = tuple[int, int, dict[str, list[Cue]]]
# Tokens of a sentence with the words that they stand for.
Said = list[tuple[int, tuple[str, ...]]]

_END = ""
_GAP = "*"
_PARTICIPLE = "*ed"
_WIDEST_GAP = 6
# Words that a phrase may have inside it and that say nothing.
_HUMMED = {"er", "erm", "um", "uh", "ah", "mm"}


class Phrases:
    """All cue phrases of a pack; `layer` names the layer of a cue."""

    def __init__(self, cues: Iterable[Cue], layer: Callable[[Cue], str]) -> None:
        self.tree: dict[str, Any] = {}
        for words, meanings in compile_cues(cues).items():
            node = self.tree
            for word in (part for one in words for part in spread(one)):
                node = node.setdefault(word, {})
            layers: dict[str, list[Cue]] = node.setdefault(_END, {})
            for cue in meanings:
                layers.setdefault(layer(cue), []).append(cue)

    def matches(self, keys: list[str], start: int, end: int) -> list[Match]:
        """Every phrase that stands in the tokens start..end; `keys` are the normal words of the Doc."""
        said = [(at, spread(keys[at])) for at in range(start, end)]
        found: list[Match] = []
        for number, (at, parts) in enumerate(said):
            for part, word in enumerate(parts):
                node = self.tree.get(word)
                if node is not None:
                    # A verb that hangs on a noun ("tyre's") leaves the noun out of the phrase.
                    begin = at + 1 if part and word != "not" else at
                    self._follow(said, number, part, node, begin, found)
        return found

    def _follow(
        self,
        said: Said,
        number: int,
        part: int,
        node: dict[str, Any],
        start: int,
        found: list[Match],
    ) -> None:
        """Follows a phrase from its first word as far as it goes, noting where it may end."""
        while True:
            at, parts = said[number]
            negated = parts[part + 1 : part + 2] == ("not",)
            if _END in node and at + 1 > start and not negated:
                found.append((start, at + 1, node[_END]))
            part += 1
            if part == len(parts):
                part, number = 0, number + 1
                while number < len(said) and said[number][1][0] in _HUMMED:
                    number += 1
                if number < len(said) and said[number][1][0] == "-":
                    number += 1
            if number >= len(said):
                return
            if _GAP in node and part == 0:
                self._leap(said, number, node[_GAP], found)
            word = said[number][1][part]
            after = node.get(word) or (node.get(_PARTICIPLE) if word.endswith("ed") else None)
            if after is None:
                return
            node = after

    def _leap(self, said: Said, number: int, node: dict[str, Any], found: list[Match]) -> None:
        for after in range(number + 1, min(number + _WIDEST_GAP + 1, len(said))):
            if not said[after - 1][1][0][0].isalnum():
                return
            at, parts = said[after]
            for part, word in enumerate(parts):
                if word in node:
                    begin = at + 1 if part and word != "not" else at
                    self._follow(said, after, part, node[word], begin, found)
