"""What form has a sealed bag (BagIt 1.0, RFC 8493), and is what somebody gives us such a bag at all?

Section numbers of the RFC are from memory. Reading is stricter than RFC 8493: a bag must be byte for byte what
`seal` wrote, or somebody is told.
"""

from __future__ import annotations

import os
import re
import stat
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from spokenfor.errors import InputError

BAGIT, BAG_INFO, MANIFEST = "bagit.txt", "bag-info.txt", "manifest-sha256.txt"
TAG_MANIFEST, PUBLIC_KEY = "tagmanifest-sha256.txt", "public-key.pem"
SIGNATURE = f"{TAG_MANIFEST}.sig"
DECLARATION = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
PAYLOAD = "data"

LARGEST_LIST = 32 << 20
"""Bytes of a manifest or tag file that are read: a bag of ours holds tens of files, not a hundred thousand."""
_MOST_FILES = 100_000
_LONGEST_NAME, _LONGEST_PATH, _DEEPEST = 255, 1024, 32
_LINE = re.compile(rb"([0-9a-f]{64})  ([^\r\n]+)")
_DRIVE = re.compile(r"[A-Za-z]:")


@dataclass
class Listed:
    """A manifest as read: SHA-256 by path, and each line that is not in the form that `seal` writes."""

    hashes: dict[str, str] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)


def manifest_bytes(hashes: Mapping[str, str]) -> bytes:
    """A manifest (RFC 8493 section 2.1.3), sorted by path; `sha256sum -c` reads it too."""
    return "".join(f"{hashes[path]}  {path}\n" for path in sorted(hashes)).encode("utf-8")


def read_manifest(data: bytes, name: str) -> Listed:
    """Read a manifest called `name`. Raises InputError for a path that leads, or could lead, elsewhere."""
    listed = Listed()
    lines = data.split(b"\n")
    if lines.pop() != b"":
        listed.faults.append(f"{name}: its last line is cut off")
    for number, line in enumerate(lines, start=1):
        match = _LINE.fullmatch(line)
        try:
            path = match[2].decode("utf-8") if match else ""
        except UnicodeDecodeError:
            path = ""
        if not match or not path:
            listed.faults.append(f"{name}, line {number}: was changed, it is no line of a manifest")
            continue
        refuse_unsafe(path, f"{name}, line {number}")
        if path in listed.hashes:
            listed.faults.append(f"{name}, line {number}: {path} stands twice")
        listed.hashes[path] = match[1].decode()
    if not listed.faults and manifest_bytes(listed.hashes) != data:
        listed.faults.append(f"{name}: its lines were reordered")
    return listed


def refuse_unsafe(path: str, where: str) -> None:
    """Raises InputError for a path inside a bag or archive that is absolute, leads upwards, names a drive, is
    too long, or holds what cannot be printed. (RFC 8493 section 5: paths are not to be trusted.)"""
    parts = path.split("/")
    wrong = (
        any(part in ("", ".", "..") for part in parts)
        or path.startswith("~")
        or "\\" in path
        or bool(_DRIVE.match(path))
        or not path.isprintable()
        or len(parts) > _DEEPEST
        or len(path.encode("utf-8", "surrogateescape")) > _LONGEST_PATH
        or any(len(part.encode("utf-8", "surrogateescape")) > _LONGEST_NAME for part in parts)
    )
    if wrong:
        raise InputError(
            f"{where}: the path {shown(path)} is not safe",
            "Do not use this bag; ask where it came from",
        )


def shown(name: str) -> str:
    """A name from somebody else's bag as it can be printed: short, and without what moves a cursor."""
    return f"'{name}'" if name.isprintable() and len(name) < 80 else f"{ascii(name)[:80]}..."


def files_below(folder: Path) -> dict[str, Path]:
    """Every file below a folder by its path inside, names in the composed form of Unicode (NFC) as some disks
    store them decomposed. Nothing is followed. Raises InputError for links, devices, pipes, names that are
    not safe, or too many files; OSError where a folder cannot be read."""
    found: dict[str, Path] = {}
    waiting = [folder]
    while waiting:
        with os.scandir(waiting.pop()) as entries:
            for entry in entries:
                inside = Path(entry.path).relative_to(folder).as_posix()
                name = unicodedata.normalize("NFC", inside)
                refuse_unsafe(name, str(folder))
                mode = entry.stat(follow_symlinks=False).st_mode
                if stat.S_ISDIR(mode):
                    waiting.append(Path(entry.path))
                elif not stat.S_ISREG(mode):
                    kind = "a link" if stat.S_ISLNK(mode) else "no plain file"
                    raise InputError(
                        f"{shown(name)} in '{folder}' is {kind}",
                        "Put the file itself there, or remove it",
                    )
                elif name in found:
                    raise InputError(
                        f"'{name}' stands twice in '{folder}'", "Remove one of the two"
                    )
                else:
                    found[name] = Path(entry.path)
                if len(found) + len(waiting) > _MOST_FILES:
                    raise InputError(f"'{folder}' holds too many files", "Give the bag alone")
    return found


def read_small(path: Path) -> bytes:
    """The bytes of a tag file. Raises InputError where it is far larger than any that `seal` writes."""
    with path.open("rb") as file:
        data = file.read(LARGEST_LIST + 1)
    if len(data) > LARGEST_LIST:
        raise InputError(f"'{path.name}' is too large", "Do not use this bag")
    return data


def info_bytes(rows: Mapping[str, str]) -> bytes:
    """bag-info.txt (RFC 8493 section 2.2.2), one line each."""
    return "".join(f"{name}: {value}\n" for name, value in rows.items()).encode("utf-8")


def read_info(data: bytes) -> dict[str, str]:
    """The rows of bag-info.txt; lines that are none are left out."""
    rows = (line.partition(": ") for line in data.decode("utf-8", "replace").splitlines())
    return {name: value for name, colon, value in rows if colon}
