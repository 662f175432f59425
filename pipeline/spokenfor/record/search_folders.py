"""Which inspections and sealed bags lie below a folder, and has one of them changed since it was last read?"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from spokenfor.record.bag import BAGIT, PAYLOAD
from spokenfor.record.digests import sha256_hex, sha256_of_file
from spokenfor.record.folder import REPORT_FILE, TRANSCRIPT_FILE, is_inspection
from spokenfor.record.log import LOG_FILE
from spokenfor.record.settings import SETTINGS_FILE

_READ = (REPORT_FILE, LOG_FILE, TRANSCRIPT_FILE, SETTINGS_FILE)
LARGEST = 256 << 20
"""Bytes of one of these files that are read; an hour of narration makes a few MB."""
_DEEPEST = 32


@dataclass(frozen=True)
class Found:
    """An inspection: its place below ROOT (bytes, as the system names it), the path of the folder that holds
    its report, and whether that is a sealed bag's. `stamp` holds sizes and times of change of the files that
    are read; where they are not to be read it is None and `fault` says why."""

    place: bytes
    path: bytes
    sealed: bool
    stamp: str | None
    fault: str | None = None

    @property
    def folder(self) -> Path:
        return Path(os.fsdecode(self.path))

    def digest(self) -> str:
        """The SHA-256 of what the index is made from. Raises OSError."""
        there = [self.folder / name for name in _READ]
        parts = [sha256_of_file(path) if path.is_file() else "none" for path in there]
        return sha256_hex(" ".join(parts).encode())


@dataclass
class Scan:
    """What lies below ROOT, in order of place, and a line for each folder that cannot be looked into."""

    found: list[Found] = field(default_factory=list)
    unread: list[tuple[bytes, str]] = field(default_factory=list)


def scan(root: Path) -> Scan:
    """Look for inspections and bags; what lies inside one is not looked into, links are not followed, hidden
    folders are left out."""
    outcome = Scan()
    waiting = [(os.fsencode(root), b"", 0)]
    while waiting:
        path, place, depth = waiting.pop()
        try:
            found = _inspection(path, place) or _bag(path, place)
            if found is not None:
                outcome.found.append(found)
            elif depth < _DEEPEST:
                waiting += [(*one, depth + 1) for one in _below(path, place)]
        except OSError as error:
            why = (error.strerror or "cannot be read").lower()
            outcome.unread.append((place or b".", why))
    outcome.found.sort(key=lambda one: one.place)
    return outcome


def _below(path: bytes, place: bytes) -> Iterator[tuple[bytes, bytes]]:
    with os.scandir(path) as entries:
        for entry in entries:
            if not entry.name.startswith(b".") and entry.is_dir(follow_symlinks=False):
                yield entry.path, place + b"/" + entry.name if place else entry.name


def _inspection(path: bytes, place: bytes, sealed: bool = False) -> Found | None:
    """The inspection that a folder is, if it is one. Raises OSError."""
    settings = _look(path, SETTINGS_FILE)
    if settings is None and not is_inspection(Path(os.fsdecode(path))):
        return None
    stats = [*(_look(path, name) for name in _READ[:-1]), settings]
    for name, one in zip(_READ, stats, strict=True):
        if one and (not stat.S_ISREG(one.st_mode) or one.st_size > LARGEST):
            return Found(place or b".", path, sealed, None, f"{name} {_refusal(one)}")
    stamp = "; ".join(f"{one.st_size} {one.st_mtime_ns}" if one else "none" for one in stats)
    return Found(place or b".", path, sealed, stamp)


def _bag(path: bytes, place: bytes) -> Found | None:
    """The inspection in a sealed bag, if a folder is one. Raises OSError."""
    payload = path + b"/" + os.fsencode(PAYLOAD)
    if _look(path, BAGIT) is None or (data := _look(path, PAYLOAD)) is None:
        return None
    if stat.S_ISLNK(data.st_mode):
        fault = f"{PAYLOAD} is a link, which is not followed"
        return Found(place or b".", payload, True, None, fault)
    return _inspection(payload, place, sealed=True)


def _look(path: bytes, name: str) -> os.stat_result | None:
    try:
        return os.lstat(path + b"/" + name.encode())
    except (FileNotFoundError, NotADirectoryError):
        return None


def _refusal(found: os.stat_result) -> str:
    """Why a file is not read, in words; a link may lead out of ROOT."""
    if stat.S_ISLNK(found.st_mode):
        return "is a link, which is not followed"
    if not stat.S_ISREG(found.st_mode):
        return "is no plain file"
    return f"is larger than {LARGEST >> 20} MiB"
