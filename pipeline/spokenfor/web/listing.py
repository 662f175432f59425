"""What does the list of inspections say, within the time of one page, however many there are?

A row is read from the inspection's files and kept under `.workbench/` with the stamp of those files (size and
time of change); a row whose stamp is another is read again. Rows not read yet are shown by name and read in
the background.
"""

from __future__ import annotations

import json
import threading
import time
from dataclasses import asdict, dataclass, replace
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.models import Verdict
from spokenfor.record.folder import REPORT_FILE, read_inspection
from spokenfor.record.log import LOG_FILE
from spokenfor.record.reviewed import reviewed
from spokenfor.record.settings import SETTINGS_FILE
from spokenfor.web.drafts import Drafts
from spokenfor.web.library import Library, NotThereError, put

PAGE = 50
_BUDGET = 0.1
"""Seconds that one page may spend on reading rows."""
_FORM = 1


@dataclass(frozen=True)
class Row:
    """One line of the list. `read` is False until its files were read; `state` is checked, damaged, or that
    of a draft; `open` counts the points to be decided."""

    id: str
    asset: str
    pack: str = ""
    by: str = ""
    started: str = ""
    state: str = "checked"
    covered: int = 0
    required: int = 0
    defects: int = 0
    remarks: int = 0
    open: int = 0
    sealed: str | None = None
    wrong: str | None = None
    read: bool = True
    changed: float = 0.0


class Listing:
    """The rows of one library, remembered."""

    def __init__(self, library: Library, drafts: Drafts) -> None:
        self._library = library
        self._drafts = drafts
        self._file = library.own / "list.json"
        self._lock = threading.Lock()
        self._known: dict[str, tuple[str, Row]] = self._remembered()

    def page(self, number: int, wanted: str = "") -> tuple[list[Row], int]:
        """Rows of page `number` (from 1), newest first, and how many rows there are in all. `wanted` leaves
        only rows with these words in asset, name, pack or id."""
        rows = self._drafts_rows() + self._rows()
        words = wanted.casefold().split()
        if words:
            rows = [one for one in rows if all(word in _text(one) for word in words)]
        rows.sort(key=lambda one: (-one.changed, one.id))
        first = (number - 1) * PAGE
        until = time.monotonic() + _BUDGET
        shown = []
        for row in rows[first : first + PAGE]:
            if not row.read and time.monotonic() < until:
                row = self._read(row.id)
            shown.append(row)
        return shown, len(rows)

    def unread(self) -> int:
        """How many rows were not read yet."""
        return sum(not one.read for one in self._rows())

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

    def _checked(self) -> list[Row]:
        """Every inspection, newest first; rows not read yet are read."""
        rows = [one if one.read else self._read(one.id) for one in self._rows()]
        checked = [one for one in rows if one.state == "checked"]
        return sorted(checked, key=lambda one: one.started, reverse=True)

    def read_all(self, stop: threading.Event) -> None:
        """Read every row that is not known, until told to stop; for a thread in the background."""
        changed = False
        for row in self._rows():
            if stop.is_set():
                return
            if not row.read:
                self._read(row.id)
                changed = True
                time.sleep(0.002)  # pages go first
        if changed or not self._file.exists():
            with self._lock:
                kept = {name: [stamp, asdict(row)] for name, (stamp, row) in self._known.items()}
            put(self._file, json.dumps({"form": _FORM, "rows": kept}).encode())

    def _drafts_rows(self) -> list[Row]:
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
            stamp, changed = _stamp(path)
            known = self._known.get(name)
            if known is not None and known[0] == stamp:
                found.append(known[1])
            else:
                found.append(Row(name, path.name, read=False, changed=changed))
        return found

    def _read(self, name: str) -> Row:
        try:
            path = self._library.inspection(name)
            stamp, changed = _stamp(path)
            row = _row(name, path, changed)
        except InputError as error:
            return Row(name, name, state="damaged", wrong=error.wrong)
        with self._lock:
            self._known[name] = (stamp, row)
        return row

    def _remembered(self) -> dict[str, tuple[str, Row]]:
        try:
            kept = json.loads(self._file.read_bytes())
            if kept["form"] != _FORM:
                return {}
            return {name: (stamp, Row(**row)) for name, (stamp, row) in kept["rows"].items()}
        except (OSError, ValueError, KeyError, TypeError):
            return {}


def _row(name: str, path: Path, changed: float) -> Row:
    inspection = read_inspection(path)
    review = reviewed(inspection.result, inspection.log.entries)
    result, settings = review.result, inspection.settings
    verdicts = [one.verdict for one in result.findings]
    return Row(
        id=name,
        asset=settings.asset or path.name,
        pack=settings.pack.name,
        by=settings.by or "",
        started=result.inspection.started,
        covered=result.coverage.required_covered,
        required=result.coverage.required_total,
        defects=verdicts.count(Verdict.DEFECT),
        remarks=verdicts.count(Verdict.REMARK),
        open=len(review.open),
        sealed=review.sealed.by if review.sealed else None,
        changed=changed,
    )


def _stamp(path: Path) -> tuple[str, float]:
    parts, changed = [], 0.0
    for name in (REPORT_FILE, LOG_FILE, SETTINGS_FILE):
        try:
            found = (path / name).stat()
        except OSError:
            parts.append("-")
        else:
            parts.append(f"{found.st_mtime_ns}.{found.st_size}")
            changed = max(changed, found.st_mtime)
    return " ".join(parts), changed


def _text(row: Row) -> str:
    return f"{row.asset} {row.by} {row.pack} {row.id} {row.state}".casefold()
