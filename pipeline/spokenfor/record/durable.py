"""How do many files change together, so that a crash at any moment leaves the old state or the new one?

New files are written into one folder aside and made durable; renaming that folder is the moment of
commitment. Only then are its files moved into place, one by one; whoever opens the folder next moves what a
crash has left. (A redo log of one record: common practice of databases.)
"""

from __future__ import annotations

import errno
import hashlib
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from spokenfor.errors import InputError

ASIDE, COMMITTED = ".being-written", ".written"
_BLOCK = 1 << 20
_MENDS = dict.fromkeys(
    (errno.ENOSPC, errno.EDQUOT, errno.EFBIG), "Free some space, or give another folder"
)


@contextmanager
def writing(what: str, folder: Path) -> Iterator[None]:
    """Turns an OSError into one line about `what` and `folder`."""
    try:
        yield
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        named = f": {os.fspath(error.filename)!r}" if error.filename else ""
        raise InputError(
            f"{what} cannot be written to {str(folder)!r} ({reason}{named}), "
            "what stood there is unchanged",
            _MENDS.get(error.errno or 0, "Mend the rights, or give another folder"),
        ) from error


def write_synced(path: Path, data: bytes) -> None:
    """A new file, on the disk when this returns. Raises OSError, also where the file exists."""
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def copy_synced(source: Path, target: Path) -> str:
    """Copy a file to a new one with its time of change; return the SHA-256 of its bytes. Raises OSError."""
    digest = hashlib.sha256()
    target.parent.mkdir(parents=True, exist_ok=True)
    with source.open("rb") as read, target.open("xb") as written:
        while block := read.read(_BLOCK):
            digest.update(block)
            written.write(block)
        written.flush()
        times = os.fstat(read.fileno())
        os.utime(written.fileno(), ns=(times.st_atime_ns, times.st_mtime_ns))
        os.fsync(written.fileno())
    return digest.hexdigest()


def sync_folders(top: Path) -> None:
    """Make the names in a folder and all below it durable (fsync(2) of each directory)."""
    for path, _, _ in os.walk(top):
        sync_folder(Path(path))


def sync_folder(folder: Path) -> None:
    """Make the names in one folder durable."""
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


@contextmanager
def together(folder: Path) -> Iterator[Path]:
    """Gives a folder aside; all that is written there reaches `folder` as one when the block ends well, and
    nothing of it otherwise. The folder must be locked. Raises OSError."""
    finish(folder)
    aside = folder / ASIDE
    aside.mkdir()
    try:
        yield aside
        _refuse_obstacles(folder, aside)
        sync_folders(aside)
    except BaseException:
        shutil.rmtree(aside, ignore_errors=True)
        raise
    aside.rename(folder / COMMITTED)
    sync_folder(folder)
    finish(folder)


def unfinished(folder: Path) -> bool:
    """Whether a crash has left something that `finish` would settle."""
    return (folder / ASIDE).exists() or (folder / COMMITTED).exists()


def finish(folder: Path) -> None:
    """Settle what a crash left: drop what was not committed, move into place what was. The folder must be
    locked; may be done again. Raises OSError."""
    if (folder / ASIDE).exists():
        shutil.rmtree(folder / ASIDE)
    committed = folder / COMMITTED
    if not committed.exists():
        return
    for path in sorted(committed.rglob("*")):
        target = folder / path.relative_to(committed)
        if path.is_dir():
            target.mkdir(exist_ok=True)
        else:
            path.replace(target)
    for path in [committed, *committed.rglob("*/")]:
        sync_folder(folder / path.relative_to(committed))
    shutil.rmtree(committed)
    sync_folder(folder)


def _refuse_obstacles(folder: Path, aside: Path) -> None:
    """What would stop the moves after the moment of commitment must be found before it."""
    for path in sorted(aside.rglob("*")):
        target = folder / path.relative_to(aside)
        obstacle = path.is_dir() and (
            target.is_symlink() or (target.exists() and not target.is_dir())
        )
        if obstacle or (not path.is_dir() and target.is_dir()):
            kind = errno.ENOTDIR if path.is_dir() else errno.EISDIR
            raise OSError(kind, f"'{target.name}' is in the way", str(target))
