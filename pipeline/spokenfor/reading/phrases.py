"""Cue phrases as a tree of words, and where they stand in a sentence.

A phrase may have a gap, written `*`, of one to six words; it then stands where its last words do ("leave the
mast *for now*"), and `*ed` or `*ing` for any one word with that ending ("well supported", "wants cleaning").
Contractions are matched as the words they stand for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from spokenfor.packs.schema import Cue
from spokenfor.packs.terms import phrase_choices
from spokenfor.reading.contractions import spread

# A phrase that stands at the tokens start..end (end not included), and by layer the cues it may be.
Match = tuple[int, int, dict[str, list[Cue]]]
# Tokens of a sentence with the words that they stand for.
Said = list[tuple[int, tuple[str, ...]]]

_GAP = "*"
_ENDINGS = ("ed", "ing")
_WIDEST_GAP = 6
# Words that a phrase may have inside it and that say nothing.
_HUMMED = {"er", "erm", "um", "uh", "ah", "mm"}


@dataclass(frozen=True)
class _State:
    """How far one phrase is: its number, the next place, what is left of a contraction, the words so far."""

    cue: int
    place: int = 0
    rest: tuple[str, ...] = ()
    words: tuple[str, ...] = ()


class _Node:
    """What may follow some words, and which cues they are. A node is made when a sentence first gets there:
    the phrases written out are some 300,000, of which a walk says a few hundred."""

    def __init__(self, phrases: Phrases, states: Iterable[_State]) -> None:
        self._phrases = phrases
        self._made: dict[str, _Node] = {}
        self._steps: dict[str, dict[_State, None]] = {}
        done: dict[tuple[str, ...], set[int]] = {}
        for state in states:
            self._expand(state, done)
        # As if every phrase were written out, one cue after the other.
        several = sorted(sorted(one) for one in done.values())
        self.ends = phrases.by_layer(dict.fromkeys(cue for one in several for cue in one))

    def after(self, word: str) -> _Node | None:
        """The node that a word leads to, None where no phrase goes on with it."""
        if word not in self._made and word in self._steps:
            self._made[word] = _Node(self._phrases, self._steps.pop(word))
        return self._made.get(word)

    def _expand(self, state: _State, done: dict[tuple[str, ...], set[int]]) -> None:
        places = self._phrases.places[state.cue]
        if state.rest:
            self._step(state.rest, state.cue, state.place, state.words)
        elif state.place == len(places):
            done.setdefault(state.words, set()).add(state.cue)
        else:
            for word in places[state.place]:
                if word:
                    words = (*state.words, word)
                    self._step(spread(word), state.cue, state.place + 1, words)
                else:
                    self._expand(replace(state, place=state.place + 1), done)

    def _step(self, parts: tuple[str, ...], cue: int, place: int, words: tuple[str, ...]) -> None:
        following = _State(cue, place, parts[1:], words)
        self._steps.setdefault(parts[0], {})[following] = None


class Phrases:
    """All cue phrases of a pack; `layer` names the layer of a cue."""

    def __init__(self, cues: Iterable[Cue], layer: Callable[[Cue], str]) -> None:
        self._cues = list(cues)
        self._layer = layer
        self.places = [phrase_choices(cue.phrase) for cue in self._cues]
        self._start = _Node(self, map(_State, range(len(self._cues))))

    def by_layer(self, numbers: Iterable[int]) -> dict[str, list[Cue]]:
        """The cues of these numbers, by their layer."""
        layers: dict[str, list[Cue]] = {}
        for cue in (self._cues[number] for number in numbers):
            layers.setdefault(self._layer(cue), []).append(cue)
        return layers

    def matches(self, keys: list[str], start: int, end: int) -> list[Match]:
        """Every phrase that stands in the tokens start..end; `keys` are the normal words of the Doc."""
        said = [(at, spread(keys[at])) for at in range(start, end)]
        found: list[Match] = []
        for number, (at, parts) in enumerate(said):
            for part, word in enumerate(parts):
                node = self._start.after(word)
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
        node: _Node,
        start: int,
        found: list[Match],
    ) -> None:
        """Follows a phrase from its first word as far as it goes, noting where it may end."""
        while True:
            at, parts = said[number]
            negated = parts[part + 1 : part + 2] == ("not",)
            if node.ends and at + 1 > start and not negated:
                found.append((start, at + 1, node.ends))
            part += 1
            if part == len(parts):
                part, number = 0, number + 1
                while number < len(said) and said[number][1][0] in _HUMMED:
                    number += 1
                if number < len(said) and said[number][1][0] == "-":
                    number += 1
            if number >= len(said):
                return
            gap = node.after(_GAP) if part == 0 else None
            if gap is not None:
                self._leap(said, number, gap, found)
            word = said[number][1][part]
            after = node.after(word)
            if after is None and word.endswith(_ENDINGS):
                after = node.after("*ed" if word.endswith("ed") else "*ing")
            if after is None:
                return
            node = after

    def _leap(self, said: Said, number: int, node: _Node, found: list[Match]) -> None:
        for after in range(number + 1, min(number + _WIDEST_GAP + 1, len(said))):
            if not said[after - 1][1][0][0].isalnum():
                return
            at, parts = said[after]
            for part, word in enumerate(parts):
                following = node.after(word)
                if following is not None:
                    begin = at + 1 if part and word != "not" else at
                    self._follow(said, after, part, following, begin, found)
