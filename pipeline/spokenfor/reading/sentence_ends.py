"""How probably a sentence ends between two words that no mark parts: a linear model over the words around.

Terms of the pack stand in it as their kind, so that what holds of one name holds of all. The weights lie in
sentence_ends.json, fitted by tests/bench/sentence_ends/fit.py (logistic regression); nothing in them is set by
hand.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from math import inf, log

from spokenfor.packs.load import Pack
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.packs.wording import singular
from spokenfor.reading.clause_weights import stem

WIDEST = 6
"""Words of a term at the most."""

EDGE = "|"
_ITEM, _ZONE, _FLAG = "ITEM", "ZONE", "FLAG"
_KINDS = {
    TermKind.COMPONENT: _ITEM,
    TermKind.CONDITION: _FLAG,
    TermKind.ZONE: _ZONE,
    TermKind.POSITION: "POS",
    TermKind.STATE: "STATE",
}
"""What a term is called; of a label that several kinds share the first counts."""

_VERBS = frozenset("is are was isn't aren't has looks".split())
_LOOKED_BACK = 40
"""Pieces of which it matters that they were said since the last end (*common practice*)."""


@dataclass(frozen=True)
class Piece:
    """A term or a word: its first word, the one after it, its words, and its kind ("" for a mere word)."""

    start: int
    end: int
    words: tuple[str, ...]
    kind: str

    @property
    def said(self) -> str:
        """Its words; of components and zones their kind alone."""
        return self.kind if self.kind in (_ITEM, _ZONE) else " ".join(self.words)

    @property
    def sort(self) -> str:
        """Its kind, or the word that it is."""
        return self.kind or self.words[0]


class Pieces:
    """Cuts words into terms of a pack and mere words, the longest term first."""

    def __init__(self, pack: Pack) -> None:
        compiled = compile_terms(pack)
        self.kinds: dict[str, str] = {}
        for kind, name in _KINDS.items():
            for key in compiled[kind]:
                self.kinds.setdefault(key, name)

    def of(self, words: Sequence[str]) -> list[Piece]:
        """The pieces of words in their normal form."""
        stems = [singular(word) for word in words]
        found: list[Piece] = []
        at = 0
        while at < len(words):
            size, kind = next(
                (
                    (size, self.kinds[key])
                    for size in range(min(WIDEST, len(words) - at), 0, -1)
                    if (key := "".join(stems[at : at + size])) in self.kinds
                ),
                (1, ""),
            )
            found.append(Piece(at, at + size, tuple(words[at : at + size]), kind))
            at += size
        return found


def features(pieces: Sequence[Piece], at: int, last: int) -> set[str]:
    """What is weighed of the gap before piece `at`, the last sentence having ended before piece `last`: three
    pieces at either side, alone and with each other, and what was said since the last end."""
    around = [pieces[one] if 0 <= one < len(pieces) else None for one in range(at - 3, at + 3)]
    a, b, c, d, e, f = (one.said if one else EDGE for one in around)
    ka, kb, kc, kd, ke, kf = (one.sort if one else EDGE for one in around)
    word = pieces[at - 1].words[-1]
    owns = pieces[at].kind == _ITEM and pieces[at].words[-1].endswith("'s")
    return {
        *(f"a {a}", f"b {b}", f"c {c}", f"d {d}", f"e {e}", f"f {f}"),
        *(f"C {kc}", f"D {kd}", f"cd {c} {d}", f"CD {kc} {kd}", f"bc {b} {c}", f"de {d} {e}"),
        *(f"BC {kb} {kc}", f"DE {kd} {ke}", f"AC {ka} {kb} {kc}", f"DF {kd} {ke} {kf}"),
        *(f"BD {kb} {kc} {kd}", f"CE {kc} {kd} {ke}", f"BE {kb} {kc} {kd} {ke}"),
        *(f"end {word[-2:]}", f"stem {stem(word)}", f"owns {owns}"),
        *_since(pieces, at, max(last, at - _LOOKED_BACK)),
    }


def _since(pieces: Sequence[Piece], at: int, last: int) -> set[str]:
    """What was said since the last end: how much, names, a fault, a verb, and how long ago the last name."""
    said = pieces[last:at]
    here, length = pieces[at].sort, pieces[at].start - pieces[last].start
    names = [one for one in said if one.kind == _ITEM]
    behind = pieces[at].start - names[-1].end if names else 0
    faulty = any(one.kind == _FLAG for one in said)
    acts = any(one.words[0] in _VERBS or one.words[-1].endswith("'s") for one in said)
    return {
        f"length {min(length, 30) // 2}",
        f"names {min(len(names), 4)}",
        f"behind {min(behind, 8)}",
        f"faulty {faulty}",
        f"acts {acts}",
        f"names {bool(names)} {here}",
        f"behind {min(behind, 4)} {here}",
        f"faulty {faulty} {here}",
        f"acts {acts} {here}",
    }


@dataclass(frozen=True)
class EndWeights:
    """Log odds of an end at the outset, and by feature; and how probable one must be to be taken (0..1)."""

    bias: float
    of: Mapping[str, float]
    needed: float

    def odds(self, found: set[str]) -> float:
        """Log odds that a sentence ends where these features were found."""
        of = self.of
        return self.bias + sum(of[one] for one in found if one in of)

    @property
    def needed_odds(self) -> float:
        return log(self.needed / (1 - self.needed))


def begins_told(
    pieces: Sequence[Piece],
    held: EndWeights,
    *,
    more: Callable[[int], float] = lambda at: 0.0,
    longest: float = inf,
) -> list[int]:
    """The pieces that a sentence probably begins with, in order, but the first. `more` gives the log odds that
    something other than words adds to the gap before a piece; a sentence of more than `longest` words is parted
    where an end is least improbable."""
    found: list[int] = []
    at, last, best = 1, 0, (-inf, 0)
    while at < len(pieces):
        odds = held.odds(features(pieces, at, last)) + more(at)
        best = max(best, (odds, at))
        if pieces[at].end - pieces[last].start > longest:
            at = best[1]
        elif odds < held.needed_odds:
            at += 1
            continue
        found.append(at)
        at, last, best = at + 1, at, (-inf, 0)
    return found


@lru_cache(maxsize=1)
def weights() -> EndWeights:
    """The model that ships."""
    held = json.loads((files("spokenfor.reading") / "sentence_ends.json").read_text("utf-8"))
    return EndWeights(held["bias"], held["of"], held["needed"])
