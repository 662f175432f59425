"""The words that a contraction stands for, so that one cue row covers "isn't", "is not" and "nothing's"."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from spacy.tokens import Doc, Token

from spokenfor.packs.wording import SMALL_NUMBERS, words_of
from spokenfor.reading.document import key_of, table_of

# Endings and whole words of spoken English (*common practice*); "'s" is read as "is".
_ENDINGS = {"'s": "is", "'re": "are", "'ve": "have", "'d": "would", "'ll": "will", "'m": "am"}
_WHOLE = {
    "can't": ("can", "not"),
    "cannot": ("can", "not"),
    "won't": ("will", "not"),
    "shan't": ("shall", "not"),
    "ain't": ("is", "not"),
    "gonna": ("going", "to"),
    "wanna": ("want", "to"),
    "gotta": ("got", "to"),
    "nowt": ("nothing",),
    "owt": ("anything",),
}


@lru_cache(maxsize=50_000)
def spread(word: str) -> tuple[str, ...]:
    """The words of a normal word, in order: ("is", "not") for "isn't", one for most."""
    if word in _WHOLE:
        return _WHOLE[word]
    if "'" not in word:
        return (word,)
    if word.endswith("n't") and len(word) > 3:
        return (word[:-3], "not")
    for ending, stands_for in _ENDINGS.items():
        if word.endswith(ending) and len(word) > len(ending):
            stem = word[: -len(ending)]
            return (SMALL_NUMBERS.get(stem, stem), stands_for)
    return (word,)


def written_words(text: str) -> list[str]:
    """The words of a written text, contractions spread out."""
    return [part for word in words_of(text) for part in spread(word)]


def spoken(tokens: Iterable[Token]) -> list[str]:
    """The words that tokens stand for, in order, contractions spread out."""
    return [part for token in tokens for part in spread(key_of(token))]


def spoken_words(doc: Doc, start: int, end: int) -> list[str]:
    """The same for the tokens from start up to end, without marks."""
    table = table_of(doc)
    words = (table.key[at] for at in range(start, end) if table.is_word[at])
    return [part for word in words for part in spread(word)]
