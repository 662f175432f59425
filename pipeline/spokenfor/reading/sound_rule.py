"""How likely is it that a phrase was a term of the pack, given what the sound says? Boosted decision trees.

The trees lie in sound_rule.json, grown on the development half of the hearing bench by
tests/bench/hearing/fit.py; nothing here is set by hand, but that no tree may hold a better sound score, a
better likeness or a weaker rival against a repair.
Source: Friedman 2001, Greedy function approximation: a gradient boosting machine (from memory).
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from spokenfor.packs.phones import likeness, word_phones
from spokenfor.packs.terms import Term, TermKind
from spokenfor.packs.wording import singular, words_of
from spokenfor.reading.other_words import unshared
from spokenfor.reading.slots import says_how

RARE_COUNT = 300_000
"""A word counted less often in ordinary English is rare (symspellpy's list)."""

_SCORES = (-20.0, 6.0)
_LEAST_PROBABILITY = 0.02
_LONG = 14
NO_RIVAL = -4.0
_LIKENESS_WORTH = 30.0
_TOLD_WORTH = 15.0


@dataclass(frozen=True)
class Possible:
    """A phrase (token range), a term it may have been, the words heard (normal form), and what speaks for
    it: how alike they sound and are spelled (0..1), the sound score in nats where the sound was asked, the
    probability of its least probable word (0..1), how often its rarest word was counted in ordinary
    English, whether it turns one component that was heard into another, and whether it takes in a word that
    says something of its own: a small one (`swallows`), one that denies (`swallows_denial`); `primed` is how
    probable (0..1) a hearer who was told the names heard what it means there (None: nobody was told), and
    `gainsaid` how probable another term (see told.py)."""

    tokens: tuple[int, int]
    term: Term
    heard: tuple[str, ...]
    sounds: float
    spelling: float
    sound_score: float | None
    surest: float
    rarest: int
    turns: bool
    swallows: bool = False
    swallows_denial: bool = False
    primed: float | None = None
    gainsaid: float = 0.0


@dataclass(frozen=True)
class Surroundings:
    """Where a phrase stands: zones between the zone being walked and the nearest that has the term (None
    for a term of no zone); whether its sentence speaks of the trade anyhow; whether it `opens` and `closes`
    a clause or what can hold a name in one; whether it is `denied`, standing right behind a "no", or
    stands right `behind_verb` ("is chained"); the mean log probability of the sentence's words; and
    whether the sentence is `unresolved`: it names a component and says nothing of it yet.
    Of a component of the zone being walked: whether its line comes next on the sheet (`next_line`),
    whether it lies between what was named before and after (`between`), and whether it is named
    near by anyhow (`named_near`). `rival` is by how much the best other term for the same words does
    better (negative: worse)."""

    distance: int | None
    supported: bool
    opens: bool
    closes: bool
    denied: bool
    behind_verb: bool
    sentence: float
    unresolved: bool = False
    next_line: bool = False
    between: bool = False
    named_near: bool = False
    rival: float = NO_RIVAL


def standing_of(one: Possible) -> float:
    """What sound, likeness and a told hearer say of a possible repair, in nats: to set rivals side by side."""
    told = _TOLD_WORTH * (one.primed or 0.0)
    return (one.sound_score or 0.0) + _LIKENESS_WORTH * one.sounds + told


def changed(one: Possible) -> tuple[str, str]:
    """Phones of what a repair changes: the words heard and the label's, without the words that both begin
    or end with."""
    both = [list(map(singular, words)) for words in (one.heard, words_of(one.term.label))]
    parts = zip(both, unshared(*both), strict=True)
    phones = ["".join(word_phones(words[at]) for at in part) for words, part in parts]
    return phones[0], phones[1]


def features(one: Possible, around: Surroundings) -> dict[str, float]:
    """What the rule weighs; the names are those of sound_rule.json."""
    score = min(max(one.sound_score or 0.0, _SCORES[0]), _SCORES[1])
    phones = len(one.term.phones)
    kind = one.term.kind
    condition, component = kind is TermKind.CONDITION, kind is TermKind.COMPONENT
    how = condition and says_how(one.term.label)
    doubt = math.log(max(one.surest, _LEAST_PROBABILITY))
    holds = around.opens and around.closes
    distance = around.distance or 0
    before, after = changed(one)
    given = {
        "score": score / 5,
        "alike": (one.sounds - 0.85) * 10,
        "change_alike": (likeness(before, after) - 0.7) * 5 if before and after else 0.0,
        "change_long": min(len(after), _LONG) / 5,
        "primed": one.primed or 0.0,
        "not_primed": one.primed == 0.0,
        "gainsaid": one.gainsaid,
        "words_only_added": not before,
        "words_only_dropped": not after,
        "rival": min(max(around.rival, NO_RIVAL), 8.0) / 4,
        "spelling": (one.spelling - 0.7) * 5,
        "phones": min(phones, _LONG) / 5,
        "word_doubted": doubt,
        "sentence_doubted": max(around.sentence, -2.0),
        "rare_word": one.rarest < RARE_COUNT,
        "condition": condition,
        "zone": kind is TermKind.ZONE,
        "turns": one.turns,
        "swallows": one.swallows,
        "swallows_denial": one.swallows_denial,
        "here": around.distance == 0,
        "distance": math.log1p(distance),
        "trade_around": around.supported,
        "next_line": around.next_line,
        "between": around.between,
        "named_near": around.named_near,
        "component_fits": component and holds,
        "condition_fits": condition and holds,
        "component_denied": component and around.denied,
        "noun_denied": condition and around.denied and not how,
        "denied_at_end": condition and around.denied and around.closes,
        "adjective_behind_verb": how and around.behind_verb,
        "says_it": condition and around.unresolved,
        "says_how_it_is": how and around.unresolved and around.behind_verb and around.closes,
        "adjective_denied": how and around.denied,
        "noun_behind_verb": condition and around.behind_verb and not how,
        "more_words": len(range(*one.tokens)) - len(words_of(one.term.label)),
    }
    return {name: float(value) for name, value in given.items()}


@dataclass(frozen=True)
class Tree:
    """One tree: at a node, go to `low` where the feature of that number is at most `at`, else to `high`;
    a node of feature -1 is a leaf and adds its `value` to the log odds."""

    feature: list[int]
    at: list[float]
    low: list[int]
    high: list[int]
    value: list[float]

    def adds(self, values: list[float]) -> float:
        """What it adds to the log odds, given the features in order."""
        node = 0
        while (number := self.feature[node]) >= 0:
            node = self.low[node] if values[number] <= self.at[node] else self.high[node]
        return self.value[node]


@dataclass(frozen=True)
class SoundRule:
    """Names of features in order, log odds to begin with, trees, and the log odds from which on a repair is
    taken."""

    names: list[str]
    start: float
    trees: list[Tree]
    needed: float

    def log_odds(self, one: Possible, around: Surroundings) -> float:
        """Log odds that the term was said."""
        found = features(one, around)
        values = [found[name] for name in self.names]
        return self.start + sum(tree.adds(values) for tree in self.trees)


@lru_cache(maxsize=1)
def sound_rule() -> SoundRule:
    """The rule that ships."""
    fitted = json.loads((files("spokenfor.reading") / "sound_rule.json").read_text("utf-8"))
    trees = [Tree(**tree) for tree in fitted["trees"]]
    return SoundRule(fitted["names"], fitted["start"], trees, fitted["needed"])
