"""What does one line of the list say, and is it still what the files say?"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from spokenfor.errors import InputError
from spokenfor.models import Verdict
from spokenfor.record.folder import REPORT_FILE, Inspection, read_inspection
from spokenfor.record.log import LOG_FILE
from spokenfor.record.outcome import Reviewed
from spokenfor.record.reviewed import reviewed
from spokenfor.record.settings import SETTINGS_FILE


@dataclass(frozen=True)
class Row:
    """One line of the list. `read` is False until its files were read; `state` is checked, damaged, or that
    of a draft; `open` counts the points to be decided; `changed` is in seconds since 1970."""

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


def read_row(name: str, path: Path) -> tuple[str, Row]:
    """The row of an inspection and the stamp of what it was read from; one that is damaged says so."""
    mark, changed = stamp(os.fspath(path))
    try:
        inspection = read_inspection(path)
        review = reviewed(inspection.result, inspection.log.entries)
    except InputError as error:
        row = Row(name, path.name, state="damaged", wrong=error.wrong, changed=changed)
        return mark, row
    return mark, row_of(name, inspection, review, changed)


def row_of(name: str, inspection: Inspection, review: Reviewed, changed: float) -> Row:
    """The row of an inspection that was read already."""
    result, settings = review.result, inspection.settings
    verdicts = [one.verdict for one in result.findings]
    return Row(
        id=name,
        asset=settings.asset or inspection.folder.name,
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


def row_from(said: Sequence[Any]) -> tuple[str, Row]:
    """A row as `as_json` gave it. Raises TypeError."""
    mark, row = said
    return mark, Row(**row)


def as_json(mark: str, row: Row) -> tuple[str, dict[str, Any]]:
    """A row and its stamp, for a file or another process."""
    return mark, asdict(row)


def stamp(folder: str) -> tuple[str, float]:
    """Sizes and times of change of the files that a row is read from, and the latest change."""
    parts, changed = [], 0.0
    for name in (REPORT_FILE, LOG_FILE, SETTINGS_FILE):
        try:
            found = os.stat(f"{folder}/{name}")  # noqa: PTH116 a thousand of them for each page
        except OSError:
            parts.append("-")
        else:
            parts.append(f"{found.st_mtime_ns}.{found.st_size}")
            changed = max(changed, found.st_mtime)
    return " ".join(parts), changed
