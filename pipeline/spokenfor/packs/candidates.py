"""Which phrases of a transcript may be a term of the pack, misheard.

Phone strings are compared by weighted edit distance after a quick look with RapidFuzz; whether a candidate is
taken is decided elsewhere, by the sound or, without sound, by the text.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from rapidfuzz import fuzz, process
from rapidfuzz.distance import Levenshtein

from spokenfor.packs.load import Pack
from spokenfor.packs.phones import likeness, phrase_phones, plural_phones, word_phones
from spokenfor.packs.terms import Term, TermKind, compile_terms
from spokenfor.packs.wording import singular, words_of

REPAIRED = (TermKind.COMPONENT, TermKind.CONDITION, TermKind.ZONE)
SHORTEST_PHONES = 3
_FIRST_LOOK = 0.45
_NO_PLURAL = ("s", "ed", "ing", "en", "y", "down", "off", "out")


@dataclass(frozen=True)
class Phrase:
    """A run of words that may have been misheard: where it is (any number the caller knows it by) and its
    words in normal form."""

    where: int
    words: tuple[str, ...]


@dataclass(frozen=True)
class Candidate:
    """A phrase and a term it may have been: how alike they sound and how alike they are spelled, 0..1;
    `plural` where the phrase sounds like the plural."""

    phrase: Phrase
    term: Term
    sounds: float
    spelling: float
    plural: bool


class Candidates:
    """The terms of a pack, ready to be searched for by sound."""

    def __init__(self, pack: Pack) -> None:
        compiled = compile_terms(pack)
        # Two spellings of one name ("gauge", "gage") are one question to the sound.
        sounding: dict[tuple[TermKind, str, tuple[str, ...]], Term] = {}
        for kind in REPAIRED:
            for term in compiled[kind].values():
                if not term.hidden and len(term.phones) >= SHORTEST_PHONES:
                    sounding.setdefault((kind, term.phones, term.concepts), term)
        shown = list(sounding.values())
        self.exact = {term.key: term for kind in REPAIRED for term in compiled[kind].values()}
        self.longest = max(len(words_of(term.label)) for term in self.exact.values()) + 1
        self.spelled = {term.key: term for term in shown}
        self.forms = [(term.phones, term, False) for term in shown]
        self.forms += [
            (plural_phones(term.phones), term, True)
            for term in shown
            if not term.label.endswith(_NO_PLURAL)
        ]

    def search(self, phrases: Sequence[Phrase], least: float) -> list[Candidate]:
        """Every phrase with every term it sounds like by at least `least`, each term in its better form."""
        by_phones: dict[str, list[Phrase]] = defaultdict(list)
        for phrase in phrases:
            phones = "".join([word_phones(word) for word in phrase.words])
            if len(phones) >= SHORTEST_PHONES:
                by_phones[phones].append(phrase)
        heard = sorted(by_phones)
        if not heard:
            return []
        alike = process.cdist(
            heard,
            [phones for phones, _, _ in self.forms],
            scorer=Levenshtein.normalized_similarity,
            score_cutoff=_FIRST_LOOK,
            dtype=np.float32,
        )
        best: dict[tuple[str, str, str], tuple[float, Term, bool]] = {}
        for row, column in zip(*np.nonzero(alike), strict=True):
            phones, term, plural = self.forms[column]
            sounds = likeness(heard[row], phones)
            key = (heard[row], term.kind, term.key)
            if sounds >= least and sounds > best.get(key, (0.0, term, False))[0]:
                best[key] = (sounds, term, plural)
        return [
            Candidate(
                phrase=phrase,
                term=term,
                sounds=sounds,
                spelling=fuzz.ratio("".join(map(singular, phrase.words)), term.key) / 100,
                plural=plural,
            )
            for (phones, _, _), (sounds, term, plural) in best.items()
            for phrase in by_phones[phones]
        ]

    def search_spelling(self, phrases: Sequence[Phrase], least: float) -> list[Candidate]:
        """Every phrase with every term it is spelled like by at least `least` (RapidFuzz ratio, 0..1)."""
        heard = ["".join(map(singular, phrase.words)) for phrase in phrases]
        if not heard:
            return []
        keys, terms = list(self.spelled), list(self.spelled.values())
        alike = process.cdist(heard, keys, scorer=fuzz.ratio, score_cutoff=100 * least)
        return [
            Candidate(
                phrase=phrases[row],
                term=terms[column],
                sounds=likeness(
                    "".join(map(word_phones, phrases[row].words)), terms[column].phones
                ),
                spelling=float(alike[row, column]) / 100,
                plural=False,
            )
            for row, column in zip(*np.nonzero(alike), strict=True)
        ]

    def heard_exactly(self, words: Sequence[str]) -> dict[int, Term]:
        """The terms that stand in a run of normal words letter for letter, by word index, longest first."""
        found: dict[int, Term] = {}
        stems = [singular(word) for word in words]
        for size in range(min(self.longest, len(stems)), 0, -1):
            for start in range(len(stems) - size + 1):
                term = self.exact.get("".join(stems[start : start + size]))
                inside = range(start, start + size)
                if term is not None and all(at not in found for at in inside):
                    found.update(dict.fromkeys(inside, term))
        return found

    def terms_in(self, words: Sequence[str]) -> Iterator[tuple[Term, int, int]]:
        """The terms that stand in a run of normal words letter for letter, in order, each with the words it
        takes, from and to."""
        exact = self.heard_exactly(words)
        start = 0
        for same, run in groupby(range(len(words)), lambda at: id(exact.get(at))):
            end = start + len(list(run))
            if same != id(None):
                yield exact[start], start, end
            start = end


def extends(term: Term, inside: Sequence[Term]) -> bool:
    """Whether a term says more than the terms already heard inside the phrase, nothing they deny, and
    means something that none of them means."""
    return all(
        one.key in term.key and one.key != term.key and not set(term.concepts) <= set(one.concepts)
        for one in inside
    )


def as_heard(phrase: str, label: str) -> tuple[float, float]:
    """How alike a phrase and a label sound and are spelled, 0..1."""
    sounds = likeness(phrase_phones(phrase), phrase_phones(label))
    return sounds, fuzz.ratio(phrase.lower(), label.lower()) / 100
