"""The review log on the disk: how is an entry added so that none is ever lost, and what of a torn line?"""

from __future__ import annotations

import os
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from spokenfor.errors import InputError
from spokenfor.record.digests import sha256_hex
from spokenfor.record.durable import sync_folder, write_synced
from spokenfor.record.entries import Action, Entry, entry_after, entry_of, faults, line_of

LOG_FILE, SET_ASIDE = "log.jsonl", "set-aside"


@dataclass(frozen=True)
class Log:
    """The entries of a log in order, and the bytes of a last line that a crash cut off (none: b"")."""

    entries: list[Entry]
    torn: bytes = b""

    @property
    def last(self) -> Entry | None:
        return self.entries[-1] if self.entries else None


def now() -> str:
    """The time that an entry carries: UTC, ISO 8601, whole seconds."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def read_log(folder: Path) -> Log:
    """The log of an inspection folder; empty where there is none yet.

    Raises InputError naming the first entry that was changed, removed, reordered or added.
    """
    try:
        data = (folder / LOG_FILE).read_bytes()
    except FileNotFoundError:
        return Log([])
    lines, torn = split(data)
    if wrong := faults(lines):
        raise InputError(
            f"{folder / LOG_FILE}: {wrong[0]}", "Restore the log from a copy or a sealed bag"
        )
    return Log([entry_of(line) for line in lines], torn)


def split(data: bytes) -> tuple[list[bytes], bytes]:
    """The whole lines of a log, and what follows the last line feed unless that is a whole entry too."""
    *lines, rest = data.split(b"\n")
    if rest:
        try:
            entry_of(rest)
        except ValueError:
            return lines, rest
        return [*lines, rest], b""
    return lines, b""


def append(folder: Path, *entries: dict[str, Any]) -> list[Entry]:
    """Add entries (their fields without number and hashes); they are on the disk when this returns.

    The folder must be locked. A torn last line is first kept under `set-aside/` and the log says so. Where
    the disk refuses, the log stays as it was. Raises InputError for a broken log or text that is not
    Unicode, OSError where nothing can be written.
    """
    log = read_log(folder)
    if log.torn:
        _keep_torn(folder, log.torn)
    added: list[Entry] = []
    for fields in [*_unlogged(folder, log.entries), *entries]:
        added.append(following(added[-1] if added else log.last, **fields))
    whole = b"".join(line_of(entry) for entry in log.entries)
    _write_after(folder / LOG_FILE, whole, b"".join(line_of(entry) for entry in added))
    sync_folder(folder)
    return added[len(added) - len(entries) :]


def following(last: Entry | None, **fields: Any) -> Entry:
    """The entry after `last`. Raises InputError for text that is not Unicode."""
    try:
        return entry_after(last, **fields)
    except UnicodeEncodeError as error:
        raise InputError("The text is not Unicode", "Type it again") from error


def set_aside(folder: Path) -> list[dict[str, Any]]:
    """Keep a torn last line under `set-aside/`; the entries that must still say so. The folder must be
    locked. Raises OSError."""
    log = read_log(folder)
    if log.torn:
        _keep_torn(folder, log.torn)
    return _unlogged(folder, log.entries)


def _keep_torn(folder: Path, torn: bytes) -> None:
    aside = folder / SET_ASIDE
    path = aside / f"log-{sha256_hex(torn)}.txt"
    if path.exists() and path.read_bytes() == torn:
        return
    aside.mkdir(exist_ok=True)
    path.unlink(missing_ok=True)
    write_synced(path, torn)
    sync_folder(aside)
    sync_folder(folder)


def _unlogged(folder: Path, entries: list[Entry]) -> list[dict[str, Any]]:
    """An entry for each torn line that is kept and that the log does not speak of yet."""
    told = {entry.subject for entry in entries if entry.action is Action.SET_ASIDE}
    return [
        {
            "at": now(),
            "by": "spokenfor",
            "action": Action.SET_ASIDE,
            "subject": name,
            "why": "the last line of the log had been cut off while it was written; it is kept here",
        }
        for name in sorted(f"{SET_ASIDE}/{path.name}" for path in folder.glob(f"{SET_ASIDE}/log-*"))
        if name not in told
    ]


def _write_after(path: Path, whole: bytes, more: bytes) -> None:
    """Write `more` after `whole`, which the file begins with or (its last line feed lost) nearly does."""
    descriptor = os.open(path, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW | os.O_CLOEXEC, 0o666)
    try:
        found = os.fstat(descriptor).st_size
        keep = min(found, len(whole))
        os.ftruncate(descriptor, keep)
        try:
            os.lseek(descriptor, keep, os.SEEK_SET)
            left = whole[keep:] + more
            while left:
                left = left[os.write(descriptor, left) :]
            os.fsync(descriptor)
        except OSError:
            with suppress(OSError):
                os.ftruncate(descriptor, keep)
                os.fsync(descriptor)
            raise
    finally:
        os.close(descriptor)
