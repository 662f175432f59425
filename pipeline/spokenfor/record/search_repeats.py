"""Which findings come back on the same asset: the same component, position and condition, time after time?"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from spokenfor.record.search_fill import owner
from spokenfor.record.search_hits import Place, Scope, places
from spokenfor.record.search_index import asked

_DEFECTS = """
SELECT owner, component, position, condition, inspections.slot, label, verdict, note, recording, start, text
FROM defects JOIN inspections ON inspections.slot = defects.slot
WHERE current AND owner IS NOT NULL AND inspections.slot >= ? AND inspections.slot < ?
AND (? IS NULL OR owner = ?)
ORDER BY owner, component, position, condition, inspections.slot, recording, start
"""
_CHECKED = """
SELECT owner, slot FROM inspections
WHERE current AND owner IS NOT NULL AND slot >= ? AND slot < ? ORDER BY owner, slot
"""


@dataclass(frozen=True)
class Time:
    """One inspection in which a finding was made; `nth` of the asset's inspections, from 1; the words, and
    where in the recording (from 1) they are, in seconds. `note` says that it was put right."""

    place: Place
    nth: int
    verdict: str
    note: str | None
    recording: int
    start: float
    words: str


@dataclass(frozen=True)
class Repeat:
    """A finding made in more than one of an asset's `inspections`, oldest first."""

    asset: str
    component: str
    position: str
    condition: str
    label: str
    times: list[Time]
    inspections: int


def repeats(
    root: Path, scope: Scope | None = None, *, rebuild: bool = False
) -> tuple[list[Repeat], list[str]]:
    """Findings made in two or more inspections of one asset, the most frequent first, and notes on what is not
    searched. Findings of no named component, and inspections of no named asset, cannot be compared."""
    within = scope or Scope()
    bounds = within.slots()
    wanted = owner(within.asset)

    def question(database: sqlite3.Connection) -> list[Repeat]:
        checked = {
            whose: [slot for _, slot in rows]
            for whose, rows in groupby(database.execute(_CHECKED, bounds), lambda row: row[0])
        }
        rows = database.execute(_DEFECTS, (*bounds, wanted, wanted)).fetchall()
        known = places(database, (row[4] for row in rows))
        found = []
        for key, same in groupby(rows, lambda row: row[:4]):
            by_slot = {slot: next(of_one) for slot, of_one in groupby(same, lambda row: row[4])}
            if len(by_slot) > 1:
                found.append(_repeat(known, key, by_slot, checked[key[0]]))
        return found

    found, notes = asked(root, question, rebuild=rebuild)
    found.sort(key=lambda one: (-len(one.times), one.asset, one.label))
    return found, notes


def _repeat(
    known: dict[int, Place],
    key: tuple[str, str, str, str],
    by_slot: dict[int, tuple[str, ...]],
    checked: list[int],
) -> Repeat:
    times = [_time(known[slot], checked.index(slot) + 1, row) for slot, row in by_slot.items()]
    last = times[-1].place
    label = [*by_slot.values()][-1][5]
    return Repeat(last.asset or "", key[1], key[2], key[3], label, times, len(checked))


def _time(place: Place, nth: int, row: tuple[str, ...]) -> Time:
    *_, verdict, note, recording, start, words = row
    return Time(place, nth, verdict, note, int(recording) + 1, float(start), words)
