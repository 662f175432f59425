"""One form for words that are written in several ways, so that labels and speech can be compared; numbers with
their nouns."""

from __future__ import annotations

import re
from functools import lru_cache

SMALL_NUMBERS = {
    word: str(value)
    for value, word in enumerate(
        [
            "zero",
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
        ]
    )
}
TOKEN = re.compile(r"\d+(?:[.,]\d+)*|[A-Za-z]+(?:['\u2019][A-Za-z]+)*|[^\sA-Za-z\d]")


def split_tokens(text: str) -> list[str]:
    """Words, numbers and marks of a text, in order; a hyphen is a mark of its own."""
    return TOKEN.findall(text)


# Captions and quick typing leave the apostrophe out; "its", "were", "well" and "ill" are words of their own.
_CONTRACTED = (
    "isn't aren't wasn't weren't hasn't haven't hadn't don't doesn't didn't couldn't wouldn't shouldn't",
    "can't won't that's there's here's what's he's she's they're you're i've you've we've they've i'm",
    "it'll that'll you'll they'll",
)
# Small words of spoken Scots and of the north of England (Dictionaries of the Scots Language, "nae" and "-na",
# from memory; *common practice*).
_SPOKEN = {
    **{one.replace("'", ""): one for line in _CONTRACTED for one in line.split()},
    **{"nae": "no", "nay": "no", "naw": "no", "wee": "little", "nobbut": "only"},
    **{
        f"{verb}nae": f"{verb}n't"
        for verb in "is are was were has have had do did does could would should".split()
    },
    **{"cannae": "can't", "dinnae": "don't", "winnae": "won't", "willnae": "won't"},
}


@lru_cache(maxsize=50_000)
def normal(token: str) -> str:
    """Lower case, straight apostrophe, small numbers as digits, "#" as "number", dialect and missing
    apostrophes in plain English."""
    lower = token.lower().replace("\u2019", "'")
    lower = _SPOKEN.get(lower, lower)
    return "number" if lower == "#" else SMALL_NUMBERS.get(lower, lower)


# Plurals that no ending gives away, and words whose e belongs to the singular.
_IRREGULAR = {
    **{"lens": "lens", "lenses": "lens", "gases": "gas", "halves": "half", "knives": "knife"},
    **{"leaves": "leaf", "shelves": "shelf", "antennae": "antenna", "axes": "axis"},
}
_ENDS_IN_E = frozenset(("fuses", "causes", "uses", "pauses", "houses", "excuses"))


@lru_cache(maxsize=50_000)
def singular(word: str) -> str:
    """A normal word without its plural or possessive ending; the same cut for labels and for speech."""
    word = re.sub(r"'s?$", "", word)
    if len(word) <= 3 or word.endswith(("ss", "us", "is")):
        return word
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if word.endswith(("sses", "xes", "ches", "shes", "uses")) and word not in _ENDS_IN_E:
        return word[:-2]
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    return word[:-1] if word.endswith("s") else word


def words_of(text: str) -> list[str]:
    """Normal words of a label or phrase, marks left out."""
    return [normal(token) for token in split_tokens(text) if token[0].isalnum()]


def match_key(text: str) -> str:
    """What two spellings of one label share: singular words without spaces or hyphens."""
    return "".join(singular(word) for word in words_of(text))


def counted(number: int, one: str, many: str | None = None) -> str:
    """Say a number with its noun: 1 defect, 2 defects."""
    return f"{number} {one if number == 1 else many or one + 's'}"
