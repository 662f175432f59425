"""How probably the words of a clause say that a thing is all right, or that it is not: a linear model over
words and pairs of words.

The weights lie in clause_weights.json, fitted by tests/bench/clauses/fit.py (multinomial logistic regression);
nothing in them is set by hand.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from itertools import pairwise

from spokenfor.reading.contractions import written_words

NAME = "ITEM"
"""Stands for the name of a component, in clauses and in what the model weighs."""

DENIALS = frozenset("no not nothing none never without nor neither nobody nowhere".split())
_APART = 4
_ENDINGS = ("ingly", "edly", "ing", "ied", "ies", "ed", "ly", "es", "s", "y", "e")


@dataclass(frozen=True)
class Lean:
    """How probable it is (0..1) that a clause says its component is all right (`good`), or is not (`bad`)."""

    good: float
    bad: float


@dataclass(frozen=True)
class Weights:
    """Log odds of good and of bad against no result: at the outset, and by feature; and how probable a result
    must be to be taken."""

    bias: tuple[float, float]
    of: dict[str, tuple[float, float]]
    needed_good: float
    needed_bad: float

    def lean(self, words: Sequence[str]) -> Lean:
        """Which way the words of a clause lean, names written as NAME."""
        good, bad = self.bias
        for feature in features(words):
            weight = self.of.get(feature)
            if weight is not None:
                good, bad = good + weight[0], bad + weight[1]
        top = max(good, bad, 0.0)
        shares = [math.exp(odds - top) for odds in (good, bad, 0.0)]
        return Lean(shares[0] / sum(shares), shares[1] / sum(shares))


@lru_cache(maxsize=1)
def weights() -> Weights:
    """The model that ships."""
    held = json.loads((files("spokenfor.reading") / "clause_weights.json").read_text("utf-8"))
    good, bad = held["bias"]
    of = {feature: (first, second) for feature, (first, second) in held["of"].items()}
    return Weights((good, bad), of, held["needed_good"], held["needed_bad"])


def clause_words(text: str) -> list[str]:
    """The words of a written clause as the model weighs them; NAME stands in it where the component does."""
    return [NAME if word == NAME.lower() else word for word in written_words(text)]


def features(words: Sequence[str]) -> set[str]:
    """The words of a clause, each two that follow each other (its ends counted as words), the stem of each word
    ("~", and "!" behind a denial), each two stems that stand within four words ("%", in their order), and how
    many words there are ("#", 8 for more)."""
    edged = ["<", *words, ">"]
    stems = ["<", *map(stem, words), ">"]
    found = {
        *words,
        *(f"{one} {other}" for one, other in pairwise(edged)),
        f"#{min(len(words), 8)}",
        *(
            f"%{one} {other}"
            for at, one in enumerate(stems)
            for other in stems[at + 1 : at + 1 + _APART]
        ),
    }
    mark = "~"
    for word in words:
        found.add(mark + stem(word))
        if word in DENIALS:
            mark = "!"
    return found


@lru_cache(maxsize=50_000)
def stem(word: str) -> str:
    """A word without the endings of verbs, plurals and adverbs: no linguist's stem, the same cut for all."""
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            cut = word[: -len(ending)]
            doubled = len(cut) > 3 and cut[-1] == cut[-2] and ending in ("ing", "ed")
            return cut[:-1] if doubled else cut
    return word
