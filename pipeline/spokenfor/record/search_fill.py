"""How does the index follow the folders: what is new or changed is read, what is gone is forgotten?"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.record.search_folders import Found, Scan, scan
from spokenfor.record.search_rows import Rows, rows_of

SHIFT = 20
"""A row's number is the slot of its inspection (the second it was made, or the next free one) shifted by so
many bits, and more the earlier it stands: so what is newest is found first without sorting."""
_MOST_ROWS = 1 << SHIFT
_BATCH = 25


def refresh(database: sqlite3.Connection, root: Path) -> list[str]:
    """Bring the index up to date; a line for each folder that is not in it, and why.

    Works in batches and lets other processes in between them. Raises sqlite3.Error.
    """
    found = scan(root)
    changed = _forget(database, found)
    known = dict(database.execute("SELECT place, stamp FROM inspections"))
    # What could not be read before is tried each time.
    stale = [one for one in found.found if one.stamp is None or known.get(one.place) != one.stamp]
    for start in range(0, len(stale), _BATCH):
        with writing(database):
            for one in stale[start : start + _BATCH]:
                _read(database, one)
        changed = True
    if changed:
        with writing(database):
            _settle(database)
    notes = [(place, why) for place, why in found.unread]
    notes += database.execute("SELECT place, fault FROM inspections WHERE fault IS NOT NULL")
    return [f"'{shown(place)}' is not searched: {why}" for place, why in sorted(notes)]


@contextmanager
def writing(database: sqlite3.Connection) -> Iterator[None]:
    """One transaction that holds the write lock from its start."""
    database.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        database.execute("ROLLBACK")
        raise
    database.execute("COMMIT")


def owner(asset: str | None) -> str | None:
    """An asset as it is compared: without regard to case and spaces."""
    return "".join(asset.casefold().split()) if asset else None


def shown(place: bytes) -> str:
    """A place below ROOT as it can be printed."""
    text = os.fsencode(place).decode("utf-8", "replace")
    return "".join(one if one.isprintable() else "\ufffd" for one in text)


def _forget(database: sqlite3.Connection, found: Scan) -> bool:
    there = {one.place for one in found.found}
    known = {place for (place,) in database.execute("SELECT place FROM inspections")}
    gone = known - there
    if gone:
        with writing(database):
            for place in gone:
                _drop(database, place)
    return bool(gone)


def _row(database: sqlite3.Connection, place: bytes) -> tuple[str | None, str | None] | None:
    """Stamp and digest as last read."""
    row: tuple[str | None, str | None] | None = database.execute(
        "SELECT stamp, digest FROM inspections WHERE place = ?", (place,)
    ).fetchone()
    return row


def _read(database: sqlite3.Connection, found: Found) -> None:
    try:
        if found.stamp is None:
            raise ValueError(found.fault)
        known = _row(database, found.place)
        if known and known[0] == found.stamp:
            # Another process has read it meanwhile.
            return
        digest = found.digest()
        if known and known[1] == digest:
            database.execute(
                "UPDATE inspections SET stamp = ? WHERE place = ?", (found.stamp, found.place)
            )
            return
        rows = rows_of(found.folder)
    except (InputError, OSError, ValueError, RecursionError) as error:
        _drop(database, found.place)
        fault = " ".join(str(error).split())
        database.execute(
            "INSERT INTO inspections (place, fault) VALUES (?, ?)", (found.place, fault)
        )
        return
    _drop(database, found.place)
    _add(database, found, rows, digest)


def _drop(database: sqlite3.Connection, place: bytes) -> None:
    row = database.execute("SELECT slot FROM inspections WHERE place = ?", (place,)).fetchone()
    if row and row[0] is not None:
        slot = row[0]
        bounds = (slot << SHIFT, slot + 1 << SHIFT)
        database.execute("DELETE FROM said WHERE rowid >= ? AND rowid < ?", bounds)
        database.execute("DELETE FROM rows WHERE id >= ? AND id < ?", bounds)
        database.execute("DELETE FROM heads WHERE rowid = ?", (slot,))
        for table in ("lines", "defects"):
            database.execute(f"DELETE FROM {table} WHERE slot = ?", (slot,))
    database.execute("DELETE FROM inspections WHERE place = ?", (place,))


def _add(database: sqlite3.Connection, found: Found, rows: Rows, digest: str) -> None:
    slot = rows.moment
    while database.execute("SELECT 1 FROM inspections WHERE slot = ?", (slot,)).fetchone():
        slot += 1
    values: list[object] = [
        found.place,
        found.stamp,
        digest,
        found.sealed,
        None,
        _clean(rows.identity),
    ]
    values += [_clean(rows.asset), owner(_clean(rows.asset)), _clean(rows.by)]
    values += [_clean(rows.started), slot, rows.entries, rows.recordings, 0]
    marks = ", ".join("?" * len(values))
    database.execute(f"INSERT INTO inspections VALUES ({marks})", values)
    numbers = range((slot + 1 << SHIFT) - 1, slot << SHIFT, -1)
    numbered = list(zip(numbers, rows.rows[:_MOST_ROWS], strict=False))
    database.executemany(
        "INSERT INTO said (rowid, text) VALUES (?, ?)",
        ((number, _clean(row.text)) for number, row in numbered),
    )
    database.executemany(
        "INSERT INTO rows VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        (
            (
                *(number, row.kind, _clean(row.line), _clean(row.state)),
                *(row.recording, row.start, row.end, json.dumps(row.times) if row.times else None),
            )
            for number, row in numbered
        ),
    )
    database.execute("INSERT INTO heads (rowid, text) VALUES (?, ?)", (slot, _clean(rows.head)))
    database.executemany(
        "INSERT INTO lines VALUES (?, ?, ?, ?, ?, ?)",
        (
            (slot, one.recording, one.start, one.end, _clean(one.line), one.state)
            for one in rows.lines
        ),
    )
    database.executemany(
        "INSERT INTO defects VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (
            (
                *(slot, one.component, one.position, one.condition, _clean(one.label)),
                *(one.verdict, _clean(one.note), one.recording, one.start, _clean(one.text)),
            )
            for one in rows.defects
        ),
    )


def _settle(database: sqlite3.Connection) -> None:
    """Of a folder and the bags sealed from it only one is current: that with the longest log, and of equal ones
    the folder."""
    database.execute("UPDATE inspections SET current = 0")
    database.execute(
        "UPDATE inspections SET current = 1 WHERE place IN (SELECT place FROM (SELECT place, row_number()"
        " OVER (PARTITION BY identity ORDER BY entries DESC, started DESC, sealed, place) AS rank"
        " FROM inspections WHERE fault IS NULL) WHERE rank = 1)"
    )


def _clean(text: str | None) -> str | None:
    """Text as the index can hold it: no half characters, nothing that moves a cursor or stands for a mark."""
    if text is None or text.isprintable():
        return text
    whole = text.encode("utf-8", "replace").decode("utf-8")
    return "".join(one if one.isprintable() else " " for one in whole)
