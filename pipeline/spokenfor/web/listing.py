"""What does the list of inspections say, within the time of one page, however many there are?

A row is read from the inspection's files and kept under `.workbench/` with the stamp of those files (size and
time of change); a row whose stamp is another is read again. Rows not read yet are shown by name and read in
the background, in a process of its own.
"""

from __future__ import annotations

import asyncio
import json
import threading
import time
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.web.drafts import Drafts
from spokenfor.web.library import Library, NotThereError, put
from spokenfor.web.limits import Limits
from spokenfor.web.list_rows import Row, as_json, read_row, row_from, row_of, stamp
from spokenfor.web.opened import Shelf
from spokenfor.web.run_child import run_child

PAGE = 50
_BUDGET, _LONG_BUDGET = 0.06, 1.0
"""Seconds that a page may spend on reading rows; the second where it needs all of them."""
_FEW, _AT_ONCE = 20, 200
_FORM = 1


@dataclass(frozen=True)
class ListPage:
    """Rows of one page, how many there are in all, and how many of those were not read yet."""

    rows: list[Row]
    total: int
    unread: int


class Listing:
    """The rows of one library, remembered."""

    def __init__(self, library: Library, drafts: Drafts, shelf: Shelf) -> None:
        self._library = library
        self._drafts = drafts
        self._shelf = shelf
        self._file = library.own / "list.json"
        self._lock = threading.Lock()
        self._known: dict[str, tuple[str, Row]] = self._remembered()

    def page(self, number: int, wanted: str = "") -> ListPage:
        """Rows of page `number` (from 1), newest first. `wanted` leaves only rows with these words in asset,
        name, pack, id or state."""
        found = self._rows()
        unread = sum(not one.read for one in found)
        rows = self._draft_rows() + found
        words = wanted.casefold().split()
        if words:
            rows = [one for one in rows if all(word in _text(one) for word in words)]
        rows.sort(key=lambda one: (-one.changed, one.id))
        first = (number - 1) * PAGE
        shown = self._read_some(rows[first : first + PAGE], _BUDGET)
        return ListPage(shown, len(rows), unread)

    def of_asset(self, asset: str) -> list[Row]:
        """The inspections of one asset, newest first."""
        wanted = asset.casefold()
        return [one for one in self._checked() if one.asset.casefold() == wanted]

    def of_person(self, name: str, pack: str) -> list[str]:
        """Ids of the inspections that one person narrated with one pack, newest first."""
        wanted = " ".join(name.casefold().split())
        return [
            one.id
            for one in self._checked()
            if one.pack == pack and " ".join(one.by.casefold().split()) == wanted
        ]

    async def read_all(self, limits: Limits) -> None:
        """Read every row that is not known yet; if they are many, in processes of their own."""
        rows = await asyncio.to_thread(self._rows)
        unread = [one.id for one in rows if not one.read]
        if len(unread) <= _FEW:
            await asyncio.to_thread(self._read_some, [one for one in rows if not one.read], 60.0)
            unread = []
        places = await asyncio.to_thread(self._library.inspections)
        for first in range(0, len(unread), _AT_ONCE):
            some = [(name, str(places[name])) for name in unread[first : first + _AT_ONCE]]
            outcome = await run_child({"job": "list", "folders": some}, limits)
            if outcome.result is not None:
                self.remember(row_from(one) for one in outcome.result["rows"])
        if any(not one.read for one in rows) or not self._file.exists():
            await asyncio.to_thread(self._save)

    def _checked(self) -> list[Row]:
        rows = self._read_some(self._rows(), _LONG_BUDGET)
        checked = [one for one in rows if one.read and one.state == "checked"]
        return sorted(checked, key=lambda one: one.started, reverse=True)

    def _read_some(self, rows: list[Row], seconds: float) -> list[Row]:
        until = time.monotonic() + seconds
        return [
            self._read(one) if not one.read and time.monotonic() < until else one for one in rows
        ]

    def _draft_rows(self) -> list[Row]:
        rows = []
        for name in self._drafts.ids():
            try:
                asked, job = self._drafts.asked(name), self._drafts.job(name)
            except (NotThereError, OSError):
                continue  # checked between the two looks
            row = Row(name, asked.asset, asked.pack, asked.by, asked.started, job.state)
            rows.append(replace(row, wrong=job.wrong, changed=time.time()))
        return rows

    def _rows(self) -> list[Row]:
        found = []
        drafts = set(self._drafts.ids())
        for name, path in self._library.inspections().items():
            if name in drafts:
                continue
            mark, changed = stamp(str(path))
            known = self._known.get(name)
            if known is not None and known[0] == mark:
                found.append(known[1])
            else:
                found.append(Row(name, path.name, read=False, changed=changed))
        return found

    def _read(self, row: Row) -> Row:
        try:
            path: Path = self._library.inspection(row.id)
        except InputError:
            return row  # it has gone between the two looks
        mark, changed = stamp(str(path))
        opened = self._shelf.known(row.id, path)
        if opened is not None:
            read = row_of(row.id, opened.inspection, opened.review, changed)
        else:
            mark, read = read_row(row.id, path)
        self.remember([(mark, read)])
        return read

    def remember(self, rows: Iterable[tuple[str, Row]]) -> None:
        """Take rows that were read elsewhere, each with the stamp of its files."""
        with self._lock:
            for mark, row in rows:
                self._known[row.id] = (mark, row)

    def _save(self) -> None:
        with self._lock:
            kept = {name: as_json(*one) for name, one in self._known.items()}
        put(self._file, json.dumps({"form": _FORM, "rows": kept}).encode())

    def _remembered(self) -> dict[str, tuple[str, Row]]:
        try:
            kept = json.loads(self._file.read_bytes())
            if kept["form"] != _FORM:
                return {}
            return {name: row_from(one) for name, one in kept["rows"].items()}
        except (OSError, ValueError, KeyError, TypeError):
            return {}


def _text(row: Row) -> str:
    return f"{row.asset} {row.by} {row.pack} {row.id} {row.state}".casefold()
