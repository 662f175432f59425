"""What does a verification say of each single file and each entry of the log?"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.record.bag import (
    MANIFEST,
    PAYLOAD,
    SIGNATURE,
    TAG_MANIFEST,
    files_below,
    read_manifest,
    read_small,
)
from spokenfor.record.entries import Entry, entry_of
from spokenfor.record.log import LOG_FILE, split
from spokenfor.record.verify import Verification, verify


@dataclass(frozen=True)
class FileRow:
    """One file of a bag; `wrong` is empty where it is as it was sealed."""

    name: str
    sha256: str
    wrong: list[str]


@dataclass(frozen=True)
class EntryRow:
    """One entry of the log; `entry` is None where its line cannot be read."""

    number: int
    entry: Entry | None
    wrong: list[str]


@dataclass(frozen=True)
class Verified:
    """A verification, and its faults laid out by file and entry; `elsewhere` are those of neither."""

    found: Verification
    files: list[FileRow]
    entries: list[EntryRow]
    elsewhere: list[str]


def verified(bag: Path) -> Verified:
    """Verify a bag's folder. Raises InputError for what is no safe bag."""
    found = verify(bag)
    there = files_below(bag)
    hashes: dict[str, str] = {}
    for name in (MANIFEST, TAG_MANIFEST):
        if name in there:
            hashes |= read_manifest(read_small(there[name]), name).hashes
    names = sorted({*there, *hashes}, key=lambda name: (name.startswith(f"{PAYLOAD}/"), name))
    left = list(found.faults)
    entries = _entries(there.get(f"{PAYLOAD}/{LOG_FILE}"), left)
    files = []
    for name in names:
        wrong = [one for one in left if one.startswith((f"{name} ", f"{name},", f"{name}:"))]
        left = [one for one in left if one not in wrong]
        sealed_by = "the seal's signature" if name == SIGNATURE else "lists the others"
        files.append(FileRow(name, hashes.get(name, sealed_by), wrong))
    return Verified(found, files, entries, left)


def _entries(path: Path | None, faults: list[str]) -> list[EntryRow]:
    """The rows of the log; faults that name an entry are taken out of `faults`."""
    if path is None:
        return []
    try:
        lines, _ = split(read_small(path))
    except InputError:
        return []
    rows = []
    for number, line in enumerate(lines, start=1):
        try:
            entry: Entry | None = entry_of(line)
        except ValueError:
            entry = None
        mark = f"{LOG_FILE}, entry {number} "
        wrong = [one for one in faults if one.startswith(mark)]
        faults[:] = [one for one in faults if one not in wrong]
        rows.append(EntryRow(number, entry, wrong))
    return rows
