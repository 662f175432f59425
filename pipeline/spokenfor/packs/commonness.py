"""How common an English word is, from the word counts that come with symspellpy."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files


@lru_cache(maxsize=1)
def word_counts() -> dict[str, int]:
    """How often each English word was counted, from the list that comes with symspellpy."""
    text = (files("symspellpy") / "frequency_dictionary_en_82_765.txt").read_text("utf-8-sig")
    counts: dict[str, int] = {}
    for line in text.splitlines():
        word, _, count = line.partition(" ")
        counts[word] = int(count)
    return counts
