"""Which inspections speak of these words, where in the recording, and on which line of the sheet?"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import groupby
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.record.search_fill import SHIFT, owner, shown
from spokenfor.record.search_index import asked
from spokenfor.record.search_rows import DECISION, FINDING, INSPECTION, ITEM, SAID

LIMIT = 50
COUNTED = 10_000
"""Places are counted up to here."""
_MOST_WORDS = 32
_AROUND = 16
"""Words of the text that a hit shows."""
OPEN, CLOSE = "\x02", "\x03"
_SAME_MOMENT = 0.5
_SLACK = 0.05
"""Seconds: times are rounded differently in transcript and report."""
_LAST_SLOT = 1 << 42
_WEIGHT = {FINDING: 0, ITEM: 1, SAID: 2, DECISION: 3, INSPECTION: 4}


@dataclass(frozen=True)
class Scope:
    """Which inspections are asked: of one asset, made on or after `since`, on or before `until` (UTC)."""

    asset: str | None = None
    since: date | None = None
    until: date | None = None

    def slots(self) -> tuple[int, int]:
        """First and past-last second."""
        first = _second(self.since) if self.since else 0
        last = _second(self.until + timedelta(days=1)) if self.until else _LAST_SLOT
        return first, last


@dataclass(frozen=True)
class Place:
    """An inspection that was found: its path below ROOT, and what it was."""

    path: str
    identity: str
    asset: str | None
    by: str | None
    started: str
    sealed: bool
    recordings: int


@dataclass(frozen=True)
class Hit:
    """Words that were found: `words` around them, the words found between U+0002 and U+0003; `recording` from 1
    and `start` in seconds of it (None where it has no time); `line` of the sheet, or who decided."""

    kind: str
    words: str
    line: str | None
    state: str | None
    recording: int | None
    start: float | None


@dataclass(frozen=True)
class Answer:
    """Inspections with their hits, newest first; `total` places hold the words, at most COUNTED are counted."""

    found: list[tuple[Place, list[Hit]]]
    total: int
    notes: list[str]


def find(
    root: Path,
    words: Sequence[str],
    scope: Scope | None = None,
    *,
    limit: int = LIMIT,
    rebuild: bool = False,
) -> Answer:
    """Look for places that hold all words (in any order, endings aside; a * at the end of a word stands for any
    ending). A word may also stand in the inspection's own particulars: its asset, people, date, pack.

    Raises InputError for words that hold nothing to look for.
    """
    terms = _terms(words)
    within = scope or Scope()

    def question(database: sqlite3.Connection) -> tuple[list[tuple[Place, list[Hit]]], int]:
        asked_of = _asked_of(database, within)
        rows, total = _rows(database, terms, asked_of, within, limit)
        return list(_found(database, rows, terms)), total

    (found, total), notes = asked(root, question, rebuild=rebuild)
    return Answer(found, total, notes)


def day(text: str, *, last: bool = False) -> date:
    """A day given as 2026-05-03, 2026-05 or 2026; of a month or year its first day, or its last. Raises
    InputError."""
    parts = text.strip().split("-")
    try:
        if not all(part.isascii() and part.isdigit() for part in parts) or len(parts) > 3:
            raise ValueError
        numbers = [int(part) for part in parts]
        year, month = numbers[0], numbers[1] if len(numbers) > 1 else (12 if last else 1)
        if len(numbers) == 3:
            return date(year, month, numbers[2])
        if not last:
            return date(year, month, 1)
        return date(year + month // 12, month % 12 + 1, 1) - timedelta(days=1)
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


def _asked_of(database: sqlite3.Connection, scope: Scope) -> list[int] | None:
    """The slots of the asset's inspections; None where all are asked."""
    if scope.asset is None:
        return None
    rows = database.execute(
        "SELECT slot FROM inspections WHERE owner = ? AND current", (owner(scope.asset),)
    )
    return [slot for (slot,) in rows]


def _rows(
    database: sqlite3.Connection,
    terms: Sequence[str],
    slots: Sequence[int] | None,
    scope: Scope,
    limit: int,
) -> tuple[list[int], int]:
    """Numbers of the rows that match, newest first, and how many there are in all."""
    first, last = scope.slots()
    ranges = [(first, last)] if slots is None else [(one, one + 1) for one in slots]
    own = [one for one in terms if _in_a_head(database, one)]
    rest = [one for one in terms if one not in own]
    queries: list[tuple[str, tuple[str, ...]]] = [(_ROWS, (" ".join(terms),))]
    if own and rest:
        queries.append((_ROWS_OF_HEADS, (" ".join(rest), " ".join(own))))
    found: set[int] = set()
    for begin, end in ranges:
        bounds = (max(begin, first) << SHIFT, min(end, last) << SHIFT, COUNTED)
        for query, matches in queries:
            found |= {number for (number,) in database.execute(query, (*matches, *bounds))}
    return sorted(found, reverse=True)[:limit], min(len(found), COUNTED)


_CURRENT = f"rowid >> {SHIFT} IN (SELECT slot FROM inspections WHERE current)"
_BOUNDS = "rowid >= ? AND rowid < ? ORDER BY rowid DESC LIMIT ?"
_ROWS = f"SELECT rowid FROM said WHERE said MATCH ? AND {_CURRENT} AND {_BOUNDS}"
_ROWS_OF_HEADS = (
    f"SELECT rowid FROM said WHERE said MATCH ? AND {_CURRENT}"
    f" AND rowid >> {SHIFT} IN (SELECT rowid FROM heads WHERE heads MATCH ?) AND {_BOUNDS}"
)


def _in_a_head(database: sqlite3.Connection, term: str) -> bool:
    query = "SELECT 1 FROM heads WHERE heads MATCH ? LIMIT 1"
    return database.execute(query, (term,)).fetchone() is not None


def _found(
    database: sqlite3.Connection, numbers: Sequence[int], terms: Sequence[str]
) -> Iterator[tuple[Place, list[Hit]]]:
    """The rows as hits under their inspections; of hits on the same line or moment the weightiest."""
    known = places(database)
    for slot, of_one in groupby(numbers, lambda number: number >> SHIFT):
        hits = [_hit(database, number, slot, terms) for number in of_one]
        hits.sort(key=lambda hit: (_WEIGHT[hit.kind], hit.recording or 0, hit.start or 0.0))
        kept: list[Hit] = []
        for hit in hits:
            if not any(_same(hit, other) for other in kept):
                kept.append(hit)
        yield known[slot], kept


def _hit(database: sqlite3.Connection, number: int, slot: int, terms: Sequence[str]) -> Hit:
    kind, line, state, recording, start, times = database.execute(
        "SELECT kind, line, state, recording, start, times FROM rows WHERE id = ?", (number,)
    ).fetchone()
    words, whole = database.execute(
        "SELECT snippet(said, 0, ?, ?, ?, ?), highlight(said, 0, ?, ?) FROM said"
        " WHERE said MATCH ? AND rowid = ?",
        (
            *(OPEN, CLOSE, "\u2026", _AROUND, OPEN, CLOSE),
            *(" OR ".join(terms), number),
        ),
    ).fetchone()
    if times is not None:
        start = _time(whole, json.loads(times), start)
    if kind == SAID:
        found = database.execute(
            "SELECT line, state FROM lines WHERE slot = ? AND recording = ? AND start <= ? AND stop >= ?"
            " ORDER BY stop - start LIMIT 1",
            (slot, recording, start + _SLACK, start - _SLACK),
        ).fetchone()
        line, state = found or (None, None)
    return Hit(kind, words, line, state, None if recording is None else recording + 1, start)


def _time(whole: str, times: Sequence[int], start: float) -> float:
    """When the first word found was spoken: `times` are those of the words of the text, in order."""
    before = whole.partition(OPEN)[0]
    place = len(before.split()) - (1 if before and not before[-1].isspace() else 0)
    return times[place] / 100 if 0 <= place < len(times) else start


def _same(hit: Hit, other: Hit) -> bool:
    if DECISION in (hit.kind, other.kind) or INSPECTION in (hit.kind, other.kind):
        return False
    near = (
        hit.start is not None
        and other.start is not None
        and hit.recording == other.recording
        and abs(hit.start - other.start) < _SAME_MOMENT
    )
    if hit.kind == other.kind == FINDING:
        return False
    if SAID in (hit.kind, other.kind):
        return near or (hit.kind != other.kind and hit.line == other.line is not None)
    return hit.line == other.line


def places(database: sqlite3.Connection) -> dict[int, Place]:
    """The current inspections by slot."""
    rows = database.execute(
        "SELECT slot, place, identity, asset, narrator, started, sealed, recordings FROM inspections"
        " WHERE current"
    )
    return {
        slot: Place(shown(place), identity, asset, narrator, started, bool(sealed), recordings)
        for slot, place, identity, asset, narrator, started, sealed, recordings in rows
    }


def _second(moment: date) -> int:
    return max(0, int(datetime(moment.year, moment.month, moment.day, tzinfo=UTC).timestamp()))
