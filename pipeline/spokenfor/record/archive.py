"""What is in a .zip or .tar that somebody sent, and is it safe to unpack?

Limits hold for what the headers promise, before anything is unpacked; zipfile and tarfile then give out no byte
more than was promised.
"""

from __future__ import annotations

import errno
import shutil
import stat
import tarfile
import zipfile
import zlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from spokenfor.errors import InputError
from spokenfor.record.bag import BAGIT, refuse_unsafe, shown

# Sound hardly shrinks and text shrinks to a tenth; our own choice, far above both.
LARGEST_RATIO = 100
FREE = 16 << 20
"""Bytes that any archive may unpack to, whatever its ratio."""
LARGEST = 16 << 30
MOST_MEMBERS = 10_000
_TAR_BLOCK = 512
_LARGEST_TAR_HEADER = 64 << 10

# What the libraries raise for bytes that are no archive; NotImplementedError is zipfile's for a form of
# zip that it does not read.
_DAMAGED = (zipfile.BadZipFile, tarfile.TarError, zlib.error, NotImplementedError, EOFError)


@dataclass(frozen=True)
class _Member:
    name: str
    size: int
    source: zipfile.ZipInfo | tarfile.TarInfo


def is_archive(path: Path) -> bool:
    """Whether a file goes by the name of an archive that is read here: .zip or .tar."""
    return path.suffix.lower() in (".zip", ".tar")


def unpack(archive: Path, into: Path) -> Path:
    """Unpack an archive of one bag into an empty folder; return the folder of the bag.

    Raises InputError for what is no such archive, and for bombs, links, devices, unsafe or repeated names,
    encrypted members; OSError where the disk refuses.
    """
    opened = _unpack_zip if archive.suffix.lower() == ".zip" else _unpack_tar
    try:
        opened(archive, into)
    except _DAMAGED as error:
        raise _damaged(archive) from error
    except OSError as error:
        if error.errno != errno.EINVAL:
            raise
        # A header that sends the reader to before the file's beginning.
        raise _damaged(archive) from error
    if (into / BAGIT).is_file():
        return into
    inner = [path for path in into.iterdir() if (path / BAGIT).is_file()]
    if len(inner) != 1:
        raise InputError(f"'{archive.name}' holds no bag", "Give an archive of one sealed bag")
    return inner[0]


def _unpack_zip(archive: Path, into: Path) -> None:
    with zipfile.ZipFile(archive) as file:
        members: list[_Member] = []
        for one in file.infolist():
            mode = one.external_attr >> 16
            if stat.S_IFMT(mode) not in (0, stat.S_IFREG, stat.S_IFDIR) or one.flag_bits & 1:
                raise _refused(archive, f"{shown(one.filename)} is a link, device or encrypted")
            if one.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
                raise _refused(archive, f"{shown(one.filename)} is packed in an unusual way")
            if not one.is_dir():
                members.append(_Member(one.filename, one.file_size, one))
        _check(archive, members)
        for member in members:
            assert isinstance(member.source, zipfile.ZipInfo)
            with file.open(member.source) as packed:
                _copy(packed, into / member.name)


def _unpack_tar(archive: Path, into: Path) -> None:
    _refuse_tar_headers(archive)
    with tarfile.open(archive, "r:") as file:
        members: list[_Member] = []
        for one in file:
            if not (one.isreg() or one.isdir()):
                raise _refused(archive, f"{shown(one.name)} is a link or device")
            if one.isreg():
                members.append(_Member(one.name.removeprefix("./"), one.size, one))
            if len(members) > MOST_MEMBERS:
                raise _refused(archive, f"over {MOST_MEMBERS} files")
        _check(archive, members)
        for member in members:
            assert isinstance(member.source, tarfile.TarInfo)
            packed = file.extractfile(member.source)
            assert packed is not None
            _copy(packed, into / member.name)


def _refuse_tar_headers(archive: Path) -> None:
    """Long-name and extended headers are read into memory whole: refuse large ones before that. (POSIX
    ustar: size in octal at 124, type at 156; larger numbers in base 256.)"""
    with archive.open("rb") as file:
        end = file.seek(0, 2)
        at = 0
        while at + _TAR_BLOCK <= end:
            file.seek(at)
            header = file.read(_TAR_BLOCK)
            if header == bytes(_TAR_BLOCK):
                return
            digits = header[124:136].strip(b" \0") or b"0"
            if not digits.isdigit():
                raise _refused(archive, "a member has no plain size")
            try:
                size = int(digits, 8)
            except ValueError:
                raise _refused(archive, "a member has no plain size") from None
            kind = header[156:157]
            if kind not in b"05\0xgL" or (kind in b"xgL" and size > _LARGEST_TAR_HEADER):
                raise _refused(archive, "a member is a link, a device, or has an oversized header")
            at += _TAR_BLOCK + -(-size // _TAR_BLOCK) * _TAR_BLOCK


def _check(archive: Path, members: Iterable[_Member]) -> None:
    names: set[str] = set()
    total = 0
    for member in members:
        refuse_unsafe(member.name, archive.name)
        if member.name in names:
            raise _refused(archive, f"{shown(member.name)} is in it twice")
        names.add(member.name)
        total += member.size
    if len(names) > MOST_MEMBERS:
        raise _refused(archive, f"over {MOST_MEMBERS} files")
    if total > min(LARGEST, FREE + LARGEST_RATIO * archive.stat().st_size):
        raise _refused(archive, f"it would unpack to {total >> 20} MiB")


def _copy(packed: IO[bytes], target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    with target.open("xb") as file:
        shutil.copyfileobj(packed, file)


def _damaged(archive: Path) -> InputError:
    return InputError(
        f"'{archive.name}' is damaged or no such archive", "Get it again, or unpack it yourself"
    )


def _refused(archive: Path, why: str) -> InputError:
    return InputError(
        f"'{archive.name}' is not unpacked: {why}", "Do not use it; ask where it came from"
    )
