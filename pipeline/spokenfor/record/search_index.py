"""Where is the index kept, and what if it is damaged, old, locked, or cannot be kept at all?

A file of SQLite (FTS5) among the user's caches, never below ROOT: it can be deleted at any time.
"""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path
from typing import TypeVar

from spokenfor.errors import InputError
from spokenfor.record.digests import sha256_hex
from spokenfor.record.search_fill import refresh

FORM = 1
"""The form of the tables; an index of another form is made anew. (SQLite keeps it as user_version.)"""
WAIT = 120.0
"""Seconds to wait for another process, which lets go after each batch of inspections."""
_TABLES = """
CREATE TABLE inspections (
    place BLOB PRIMARY KEY, stamp TEXT, digest TEXT, sealed INTEGER, fault TEXT, identity TEXT, asset TEXT,
    owner TEXT, narrator TEXT, started TEXT, slot INTEGER UNIQUE, entries INTEGER, recordings INTEGER,
    current INTEGER NOT NULL DEFAULT 0);
CREATE INDEX owners ON inspections (owner);
CREATE TABLE rows (
    id INTEGER PRIMARY KEY, kind TEXT, line TEXT, state TEXT, recording INTEGER, start REAL, stop REAL,
    times TEXT);
CREATE TABLE lines (slot INTEGER, recording INTEGER, start REAL, stop REAL, line TEXT, state TEXT);
CREATE INDEX lines_of ON lines (slot, recording);
CREATE TABLE defects (
    slot INTEGER, component TEXT, position TEXT, condition TEXT, label TEXT, verdict TEXT, note TEXT,
    recording INTEGER, start REAL, text TEXT);
CREATE INDEX defects_of ON defects (slot);
CREATE VIRTUAL TABLE said USING fts5(text, tokenize = "porter unicode61 remove_diacritics 2");
CREATE VIRTUAL TABLE heads USING fts5(text, tokenize = "porter unicode61 remove_diacritics 2");
"""
Answer = TypeVar("Answer")


def index_file(root: Path) -> Path:
    """The cache file of a ROOT (XDG Base Directory Specification: $XDG_CACHE_HOME, else ~/.cache)."""
    given = os.environ.get("XDG_CACHE_HOME", "")
    cache = Path(given) if Path(given).is_absolute() else Path.home() / ".cache"
    name = sha256_hex(os.fsencode(root.resolve()))[:16]
    return cache / "spokenfor" / f"find-{name}.sqlite"


def asked(
    root: Path, question: Callable[[sqlite3.Connection], Answer], *, rebuild: bool = False
) -> tuple[Answer, list[str]]:
    """Put a question to an index that is up to date; the answer, and notes on what is not searched.

    A damaged index is made anew; where none can be kept it is made in memory for this once. Raises
    InputError where ROOT is no folder or another process does not let go.
    """
    if not root.is_dir():
        raise InputError(f"'{root}' is no folder", "Give the folder that holds the inspections")
    root = root.resolve()
    file = index_file(root)
    if rebuild:
        _remove(file)
    try:
        return _ask(file, root, question)
    except sqlite3.OperationalError as error:
        if _is_locked(error):
            raise InputError(
                "Another process is building the index", "Let it finish, then ask again"
            ) from error
    except (sqlite3.DatabaseError, OSError):
        pass
    # Damaged, or not to be written to: once more from nothing.
    _remove(file)
    try:
        return _ask(file, root, question)
    except (sqlite3.Error, OSError) as error:
        answer, notes = _ask(None, root, question)
        why = " ".join(str(error).split())
        return answer, [f"the index could not be kept in '{file.parent}' ({why})", *notes]


def _ask(
    file: Path | None, root: Path, question: Callable[[sqlite3.Connection], Answer]
) -> tuple[Answer, list[str]]:
    with closing(_opened(file)) as database:
        notes = refresh(database, root)
        return question(database), notes


def _opened(file: Path | None) -> sqlite3.Connection:
    """A connection with its tables. Raises sqlite3.Error, "locked" once WAIT is over.

    SQLite itself does not wait while another process turns a new file to WAL or, the last to leave,
    clears it away (its page on write-ahead logging, "Sometimes Queries Return SQLITE_BUSY In WAL Mode").
    """
    if file is not None:
        file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    until = time.monotonic() + WAIT
    while True:
        database = sqlite3.connect(file or ":memory:", timeout=WAIT, isolation_level=None)
        try:
            # A cache may be lost with the power; whoever finds it damaged makes it anew.
            database.execute("PRAGMA journal_mode = WAL")
            database.execute("PRAGMA synchronous = OFF")
            _make_tables(database)
            return database
        except sqlite3.OperationalError as error:
            database.close()
            if not _is_locked(error) or time.monotonic() >= until:
                raise
            time.sleep(0.02)
        except BaseException:
            database.close()
            raise


def _is_locked(error: sqlite3.OperationalError) -> bool:
    return "locked" in str(error)


def _make_tables(database: sqlite3.Connection) -> None:
    """Raises sqlite3.DatabaseError for an index of another form."""

    def form() -> int:
        return int(database.execute("PRAGMA user_version").fetchone()[0])

    if form() == FORM:
        return
    database.execute("BEGIN IMMEDIATE")
    if form() == 0 and not database.execute("SELECT 1 FROM sqlite_master").fetchone():
        for statement in filter(str.strip, _TABLES.split(";")):
            database.execute(statement)
        database.execute(f"PRAGMA user_version = {FORM}")
    database.execute("COMMIT")
    if form() != FORM:
        raise sqlite3.DatabaseError("an index of another form")


def _remove(file: Path) -> None:
    for name in (file.name, f"{file.name}-wal", f"{file.name}-shm"):
        with suppress(OSError):
            file.with_name(name).unlink()
