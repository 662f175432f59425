"""Which inspections speak of these words, where in the recording, and on which line of the sheet?"""

from __future__ import annotations

import sqlite3
from calendar import monthrange
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.record.search_hits import Hit, Place, Scope, hits_of
from spokenfor.record.search_index import asked

LIMIT = 50
_MOST_WORDS = 32


@dataclass(frozen=True)
class Answer:
    """Inspections with their hits, newest first; at least `left_out` more rows hold the words than the limit
    lets through."""

    found: list[tuple[Place, list[Hit]]]
    left_out: int
    notes: list[str]


def find(
    root: Path,
    words: Sequence[str],
    scope: Scope | None = None,
    *,
    limit: int = LIMIT,
    rebuild: bool = False,
) -> Answer:
    """Look for places that hold all words (in any order, endings aside; a * after the beginning of a word
    stands for the rest). A word may also stand in the inspection's own particulars: its asset, people, date.

    Raises InputError for words that hold nothing to look for.
    """
    terms = _terms(words)

    def question(database: sqlite3.Connection) -> tuple[list[tuple[Place, list[Hit]]], int]:
        return hits_of(database, terms, scope or Scope(), limit)

    (found, left_out), notes = asked(root, question, rebuild=rebuild)
    return Answer(found, left_out, notes)


def day(text: str, *, last: bool = False) -> date:
    """A day given as 2026-05-03, 2026-05 or 2026; of a month or year its first day, or its last. Raises
    InputError."""
    parts = text.strip().split("-")
    try:
        if not all(part.isascii() and part.isdigit() for part in parts) or len(parts) > 3:
            raise ValueError
        numbers = [int(part) for part in parts]
        year, month = numbers[0], numbers[1] if len(numbers) > 1 else (12 if last else 1)
        given = date(year, month, numbers[2] if len(numbers) == 3 else 1)
        if len(numbers) == 3 or not last:
            return given
        return given.replace(day=monthrange(year, month)[1])
    except ValueError:
        raise InputError(f"'{text}' is no date", "Give it as 2026-05-03, 2026-05 or 2026") from None


def _terms(words: Sequence[str]) -> list[str]:
    """Each word as a phrase in quotes, which FTS5 takes as nothing but text."""
    parts = [part for word in words for part in word.split()]
    terms = []
    for part in parts:
        text = "".join(one if one.isalnum() or one.isprintable() else " " for one in part)
        text = text.encode("utf-8", "replace").decode("utf-8").replace('"', " ")
        if any(one.isalnum() for one in text):
            prefix = "*" if part.endswith("*") else ""
            terms.append(f'"{text}"{prefix}')
    if not terms:
        raise InputError("There is no word to look for", "Give one or more words")
    if len(terms) > _MOST_WORDS:
        raise InputError(f"{len(terms)} words are too many", f"Give at most {_MOST_WORDS}")
    return terms
