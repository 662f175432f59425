"""What does an inspection folder hold, and does it open after a crash?

recordings/  captions/  photos/  pack/   what was checked, untouched
transcript.json                  the first transcript, as it was heard
report.json  report.html  items.csv  findings.csv  transcript.vtt
settings.json                   what was asked, and the exact versions
reviewed.json  reviewed.html     where all stands after the decisions (made anew from report and log)
hand-over.csv  hand-over.json  summary.md
log.jsonl                       every check and every decision, chained
earlier/1/ ...                  report, transcript and settings of checks before the last
set-aside/                      lines of the log that a crash cut off
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from spokenfor.errors import InputError
from spokenfor.models import Model, PhotoClock, Result, Transcript
from spokenfor.record.digests import sha256_of_file
from spokenfor.record.durable import COMMITTED, finish, unfinished, writing
from spokenfor.record.lock import locked
from spokenfor.record.log import LOG_FILE, Log, read_log
from spokenfor.record.settings import SETTINGS_FILE, Settings

REPORT_FILE, TRANSCRIPT_FILE = "report.json", "transcript.json"
WRITTEN = {REPORT_FILE, TRANSCRIPT_FILE, SETTINGS_FILE, LOG_FILE}
WRITTEN |= {"report.html", "items.csv", "findings.csv", "transcript.vtt"}
"""What a check writes at the top of the folder."""
REVIEWED_FILE = "reviewed.json"
DERIVED = (REVIEWED_FILE, "reviewed.html", "hand-over.csv", "hand-over.json", "summary.md")
"""What is made anew from report and log whenever somebody decides."""
Form = TypeVar("Form", bound=Model)


@dataclass(frozen=True)
class Inspection:
    """Everything an inspection folder holds, as last checked."""

    folder: Path
    settings: Settings
    result: Result
    transcript: Transcript
    log: Log


@dataclass(frozen=True)
class Extended:
    """What to check when recordings are added: the fields of check.Request."""

    sounds: list[Path]
    pack: str
    asset: str | None
    by: str | None
    model: str | None
    captions: Path | None = None
    photos: Sequence[Path] = ()
    photo_clock: PhotoClock | None = None


def is_inspection(folder: Path) -> bool:
    """Whether a folder holds an inspection (also one whose last step a crash cut short)."""
    return any((folder / part / SETTINGS_FILE).is_file() for part in ("", COMMITTED))


def holds_inspection(folder: Path) -> None:
    """Raises InputError unless the folder holds an inspection."""
    if not is_inspection(folder):
        raise InputError(
            f"'{folder}' holds no inspection", "Give a folder that spokenfor check has written"
        )


def open_inspection(folder: Path) -> Inspection:
    """Open an inspection folder, settling first what a crash left there.

    Raises InputError where it holds none, where a file of it cannot be read, or where the log is broken.
    """
    holds_inspection(folder)
    try:
        with locked(folder):
            finish(folder)
            return read_inspection(folder)
    except OSError as error:
        if unfinished(folder):
            with writing("What a crash left half done", folder):
                raise error
    # A folder that may only be read, on a disc in an archive, say: nobody else writes there either.
    return read_inspection(folder)


def read_inspection(folder: Path) -> Inspection:
    """Open a folder whose last step was settled; nothing is written. Raises InputError."""
    return Inspection(
        folder=folder,
        settings=_read(folder / SETTINGS_FILE, Settings),
        result=_read(folder / REPORT_FILE, Result),
        transcript=_read(folder / TRANSCRIPT_FILE, Transcript),
        log=read_log(folder),
    )


def extended(folder: Path, sounds: Sequence[Path]) -> Extended:
    """What to check when `sounds` are added to an inspection: all its recordings, then these, with its own
    pack, asset, name and weights. Raises InputError where one is already there, or captions stand for it."""
    inspection = open_inspection(folder)
    settings = inspection.settings
    if settings.captions is not None:
        raise InputError(
            "The inspection was made from captions; recordings cannot be added",
            "Check the recordings themselves into another folder",
        )
    known = {one.sha256: one.path for one in settings.recordings}
    for path in sounds:
        try:
            twin = known.get(sha256_of_file(path))
        except OSError as error:
            reason = (error.strerror or "unknown reason").lower()
            raise InputError(
                f"{path} cannot be read: {reason}", "Check its name and who may read it"
            ) from error
        if twin is not None:
            raise InputError(
                f"'{path.name}' is already in the inspection as {twin}", "Leave it out"
            )
    return Extended(
        sounds=[*(folder / one.path for one in settings.recordings), *sounds],
        pack=str(folder / settings.pack_path),
        asset=settings.asset,
        by=settings.by,
        model=settings.asked_model,
        photos=[folder / one.path for one in settings.photos],
        photo_clock=inspection.result.photo_clock,
    )


def _read(path: Path, form: type[Form]) -> Form:
    mend = "Restore it from a copy, or check the recordings again"
    try:
        return form.model_validate_json(path.read_bytes())
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise InputError(f"{os.fspath(path)} cannot be read: {reason}", mend) from error
    except ValidationError as error:
        raise InputError(f"{path} is not what a check wrote", mend) from error
