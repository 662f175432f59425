"""What a label is also called: the other words of each row of same-words.yaml, put in its place; and which
labels of a concept need not be written, as they follow from another one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from spokenfor.packs.phones import is_spelled_out, phrase_phones
from spokenfor.packs.schema import Axis, Labelled, Position, SameWords
from spokenfor.packs.wording import match_key, normal, singular, split_tokens, words_of

MOST = 12
"""A label has at most so many variants: three words of it with three spellings each."""


class Variants:
    """The rows of same words, each words that mean the same, ready to be looked for in labels."""

    def __init__(self, rows: Iterable[Sequence[str]]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], list[str]]]] = defaultdict(list)
        for row in rows:
            for one in row:
                stems = tuple(singular(word) for word in words_of(one))
                others = [other for other in row if other != one]
                self._by_first[stems[0]].append((stems, others))

    def of(self, label: str) -> list[str]:
        """Other wordings of a label, without those that are matched as it is already matched."""
        tokens = [token for token in split_tokens(label) if token[0].isalnum()]
        words = [token if is_spelled_out(token) else normal(token) for token in tokens]
        stems = [singular(normal(token)) for token in tokens]
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


def same_words(rows: Iterable[SameWords]) -> Variants:
    """Variants by the rows of same-words.yaml."""
    return Variants(row.words for row in rows)


def zone_words(
    rows: Iterable[SameWords], positions: Iterable[Position], meant: Callable[[str], str]
) -> Variants:
    """Variants of the names of zones: by the rows of same-words.yaml, and by what a side is also called ("left
    side of the trailer", "nearside of the trailer"). `meant` says which position an id means."""
    sides: dict[tuple[str, bool], list[str]] = defaultdict(list)
    for position in positions:
        if position.axis is Axis.SIDE:
            for label in [position.prefLabel, *position.altLabel]:
                last = words_of(label)[-1]
                if len(last) > 2:  # "lh" is written, not said, in front of a zone
                    for as_side in {last.endswith("side"), last == "side"}:
                        sides[meant(position.id), as_side].append(label)
    return Variants([*(row.words for row in rows), *(row for row in sides.values() if row[1:])])


@dataclass(frozen=True)
class Repeat:
    """A label that need not be written: `field` and `index` say where it stands, `by` is the label that it
    follows from; `by_words` where by same words, otherwise by plural, case, hyphen or space."""

    field: str
    index: int
    label: str
    by: str
    by_words: bool


def repeats(concept: Labelled, variants: Variants) -> Iterator[Repeat]:
    """The labels of a concept that follow from an earlier one by rule, and sound as the rule has it."""
    made: dict[str, tuple[str, str, bool]] = {}
    for field in ("prefLabel", "altLabel", "hiddenLabel"):
        written = getattr(concept, field)
        for index, label in enumerate([written] if isinstance(written, str) else written):
            key = match_key(label)
            by, as_made, by_words = made.get(key, ("", "", False))
            said = concept.say.get(label)
            if by and (said is None or phrase_phones(label, said) == phrase_phones(as_made)):
                yield Repeat(field, index, label, by, by_words)
            made.setdefault(key, (label, label, False))
            if field != "hiddenLabel":
                for other in variants.of(label):
                    made.setdefault(match_key(other), (label, other, True))
