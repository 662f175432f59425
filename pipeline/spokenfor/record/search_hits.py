"""Which rows of the index hold the words, and what is shown of each?"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from itertools import groupby
from typing import Any

from spokenfor.record.search_fill import SHIFT, owner, shown
from spokenfor.record.search_rows import DECISION, FINDING, INSPECTION, ITEM, SAID

COUNTED = 1000
"""Rows are counted up to here, or to the limit where that is higher."""
OPEN, CLOSE = "\x02", "\x03"
"""What stands before and after words that were found."""
_AROUND = 16
"""Words of the text that a hit shows."""
_SLACK = 0.05
"""Seconds: times are rounded differently in transcript and report."""
_LAST_SLOT = 1 << 42
_DAY = 24 * 3600
_WEIGHT = {FINDING: 0, ITEM: 1, SAID: 2, DECISION: 3, INSPECTION: 4}
_MATCH = f"""
FROM said WHERE said MATCH ? AND rowid >= ? AND rowid < ?
AND rowid >> {SHIFT} IN (SELECT slot FROM inspections WHERE current)
"""
_OF_HEADS = f"AND rowid >> {SHIFT} IN (SELECT rowid FROM heads WHERE heads MATCH ?)"
_NEWEST = "ORDER BY rowid DESC LIMIT ?"
_MARKED = (
    f"SELECT rowid, snippet(said, 0, char(2), char(3), char(8230), {_AROUND}),"
    " highlight(said, 0, char(2), char(3))"
)


@dataclass(frozen=True)
class Scope:
    """Which inspections are asked: of one asset, made on or after `since`, on or before `until` (UTC)."""

    asset: str | None = None
    since: date | None = None
    until: date | None = None

    def slots(self) -> tuple[int, int]:
        """First and past-last second."""
        first = _second(self.since) if self.since else 0
        last = _second(self.until) + _DAY if self.until else _LAST_SLOT
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
    `start`, `end` in seconds of it (None where it has no time; `exact`: the start is that of the word found);
    `line` of the sheet, or who decided."""

    kind: str
    words: str
    line: str | None
    state: str | None
    recording: int | None
    start: float | None
    end: float | None
    exact: bool = False


def hits_of(
    database: sqlite3.Connection, terms: Sequence[str], scope: Scope, limit: int
) -> tuple[list[tuple[Place, list[Hit]]], int]:
    """Inspections with their hits, newest first, and how many more rows hold the words: each term in the row,
    or those that are particulars of an inspection in these, and all others in the row."""
    most = max(COUNTED, limit)
    found: set[int] = set()
    marked: dict[int, tuple[str, str]] = {}
    for first, last in _ranges(database, scope):
        room = limit - len(marked)
        for where, values in _wheres(database, terms, first, last):
            numbers = database.execute(f"SELECT rowid {where} {_NEWEST}", (*values, most))
            found |= {number for (number,) in numbers}
            if room > 0:
                rows = database.execute(f"{_MARKED} {where} {_NEWEST}", (*values, room))
                for number, words, whole in rows:
                    marked.setdefault(number, (words, whole))
    newest = dict(sorted(marked.items(), reverse=True)[:limit])
    return list(_under_places(database, newest)), len(found) - len(newest)


def _wheres(
    database: sqlite3.Connection, terms: Sequence[str], first: int, last: int
) -> Iterator[tuple[str, tuple[Any, ...]]]:
    """The conditions that rows of these slots are asked for by, with their values."""
    own = [one for one in terms if _in_a_head(database, one)]
    rest = [one for one in terms if one not in own]
    bounds = (first << SHIFT, last << SHIFT)
    yield _MATCH, (" ".join(terms), *bounds)
    if own and rest:
        yield _MATCH + _OF_HEADS, (" ".join(rest), *bounds, " ".join(own))


def _ranges(database: sqlite3.Connection, scope: Scope) -> list[tuple[int, int]]:
    """The slots that are asked, as first and past-last: one range, or each inspection of the asset, the newest
    first."""
    first, last = scope.slots()
    if scope.asset is None:
        return [(first, last)]
    rows = database.execute(
        "SELECT slot FROM inspections WHERE owner = ? AND current AND slot >= ? AND slot < ?"
        " ORDER BY slot DESC",
        (owner(scope.asset), first, last),
    )
    return [(slot, slot + 1) for (slot,) in rows]


def _in_a_head(database: sqlite3.Connection, term: str) -> bool:
    query = "SELECT 1 FROM heads WHERE heads MATCH ? LIMIT 1"
    return database.execute(query, (term,)).fetchone() is not None


def _under_places(
    database: sqlite3.Connection, marked: dict[int, tuple[str, str]]
) -> Iterator[tuple[Place, list[Hit]]]:
    """The rows as hits under their inspections; of hits on the same line or moment the weightiest."""
    known = places(database, (number >> SHIFT for number in marked))
    for slot, of_one in groupby(marked, lambda number: number >> SHIFT):
        hits = [_hit(database, number, *marked[number]) for number in of_one]
        hits.sort(key=_weight)
        kept: list[Hit] = []
        for hit in hits:
            if not any(_same(hit, other) for other in kept):
                kept.append(hit)
        yield known[slot], kept


def _weight(hit: Hit) -> tuple[int, bool, int, float]:
    return _WEIGHT[hit.kind], not hit.exact, hit.recording or 0, hit.start or 0.0


def _hit(database: sqlite3.Connection, number: int, words: str, whole: str) -> Hit:
    kind, line, state, recording, start, end, times = database.execute(
        "SELECT kind, line, state, recording, start, stop, times FROM rows WHERE id = ?", (number,)
    ).fetchone()
    if times is not None:
        start = _time(whole, json.loads(times), start)
    if kind == SAID:
        found = database.execute(
            "SELECT line, state FROM lines WHERE slot = ? AND recording = ? AND start <= ? AND stop >= ?"
            " ORDER BY stop - start LIMIT 1",
            (number >> SHIFT, recording, start + _SLACK, start - _SLACK),
        ).fetchone()
        line, state = found or (None, None)
    number_of = None if recording is None else recording + 1
    return Hit(kind, words, line, state, number_of, start, end, times is not None)


def _time(whole: str, times: Sequence[int], start: float) -> float:
    """When the first word found was spoken: `times` are those of the words of the text, in order."""
    before = whole.partition(OPEN)[0]
    place = len(before.split()) - (1 if before and not before[-1].isspace() else 0)
    return times[place] / 100 if 0 <= place < len(times) else start


def _same(hit: Hit, other: Hit) -> bool:
    """Whether a hit adds nothing to a weightier one: it is of the same line, or of the same moment."""
    kinds = {hit.kind, other.kind}
    if kinds & {DECISION, INSPECTION} or kinds == {FINDING}:
        return False
    if hit.kind != SAID:
        return hit.line == other.line
    if other.kind != SAID and hit.line == other.line is not None:
        return True
    if hit.start is None or hit.end is None or other.start is None or other.end is None:
        return False
    last = hit.end if other.kind == SAID else hit.start
    meets = hit.start <= other.end + _SLACK and other.start <= last + _SLACK
    return meets and hit.recording == other.recording


def places(database: sqlite3.Connection, slots: Iterable[int]) -> dict[int, Place]:
    """The inspections of these slots."""
    rows = database.execute(
        "SELECT slot, place, identity, asset, narrator, started, sealed, recordings FROM inspections"
        " WHERE slot IN (SELECT value FROM json_each(?))",
        (json.dumps(sorted(set(slots))),),
    )
    return {
        slot: Place(shown(place), identity, asset, narrator, started, bool(sealed), recordings)
        for slot, place, identity, asset, narrator, started, sealed, recordings in rows
    }


def _second(moment: date) -> int:
    return max(0, int(datetime(moment.year, moment.month, moment.day, tzinfo=UTC).timestamp()))
