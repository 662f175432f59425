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
    """An inspection: its place below ROOT (bytes, as the system names it), the folder that holds its report,
    and whether that is a sealed bag's."""

    place: bytes
    folder: Path
    sealed: bool

    def stamp(self) -> str:
        """Sizes and times of change of the files that are read. Raises OSError, ValueError in words for what
        is not to be read: a link, which may lead out of ROOT, no plain file, or one far too large."""
        parts = []
        for name in _READ:
            try:
                found = (self.folder / name).lstat()
            except FileNotFoundError:
                parts.append("none")
                continue
            if stat.S_ISLNK(found.st_mode):
                raise ValueError(f"{name} is a link, which is not followed")
            if not stat.S_ISREG(found.st_mode):
                raise ValueError(f"{name} is no plain file")
            if found.st_size > LARGEST:
                raise ValueError(f"{name} is larger than {LARGEST >> 20} MiB")
            parts.append(f"{found.st_size} {found.st_mtime_ns}")
        return "; ".join(parts)

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
    waiting = [(os.fsencode(root), b".", 0)]
    while waiting:
        path, place, depth = waiting.pop()
        folder = Path(os.fsdecode(path))
        try:
            if is_inspection(folder):
                outcome.found.append(Found(place, folder, sealed=False))
            elif (folder / BAGIT).is_file() and is_inspection(folder / PAYLOAD):
                if (folder / PAYLOAD).is_symlink():
                    outcome.unread.append((place, f"{PAYLOAD} is a link, which is not followed"))
                else:
                    outcome.found.append(Found(place, folder / PAYLOAD, sealed=True))
            elif depth < _DEEPEST:
                waiting += [(*one, depth + 1) for one in _below(path, place)]
        except OSError as error:
            outcome.unread.append((place, (error.strerror or "cannot be read").lower()))
    outcome.found.sort(key=lambda one: one.place)
    return outcome


def _below(path: bytes, place: bytes) -> Iterator[tuple[bytes, bytes]]:
    with os.scandir(path) as entries:
        for entry in entries:
            if entry.name.startswith(b".") or not entry.is_dir(follow_symlinks=False):
                continue
            yield entry.path, entry.name if place == b"." else b"/".join([place, entry.name])
