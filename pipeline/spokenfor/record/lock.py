"""How do two processes keep out of each other's way in one inspection folder?"""

from __future__ import annotations

import fcntl
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from spokenfor.errors import InputError

LOCK_FILE = ".lock"
WAIT = 20.0
"""Seconds to wait for another process: longer than any step but the copying of hours of sound."""
_POLL = 0.02


@contextmanager
def locked(folder: Path, wait: float = WAIT) -> Iterator[None]:
    """Hold the folder for this process alone; released when the process ends, however it ends.

    A lock file made here is taken away again if the work fails. Raises InputError where another process
    holds the folder for longer than `wait` seconds, OSError where the folder cannot be written to.
    """
    path = folder / LOCK_FILE
    made = not path.exists()
    descriptor = _take(path, wait)
    try:
        yield
    except BaseException:
        if made:
            with suppress(OSError):
                path.unlink()
        raise
    finally:
        os.close(descriptor)


def _take(path: Path, wait: float) -> int:
    until = time.monotonic() + wait
    while True:
        flags = os.O_RDWR | os.O_CREAT | os.O_CLOEXEC | os.O_NOFOLLOW
        descriptor = os.open(path, flags, 0o666)
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
            if _still_there(descriptor, path):
                return descriptor
        except BlockingIOError:
            pass
        except BaseException:
            os.close(descriptor)
            raise
        os.close(descriptor)
        if time.monotonic() > until:
            raise InputError(
                f"Another process is writing to '{path.parent}'", "Let it finish, then try again"
            )
        time.sleep(_POLL)


def _still_there(descriptor: int, path: Path) -> bool:
    """False where the holder before took the file away: then the lock is on nothing."""
    try:
        there = path.stat()
    except FileNotFoundError:
        return False
    held = os.fstat(descriptor)
    return (held.st_dev, held.st_ino) == (there.st_dev, there.st_ino)
