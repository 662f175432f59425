"""Which inspections and sealed bags are in the folder served, and by what ids does a page name them?

A request never gives a path: it gives an id, and the id is looked for among the names that are there.
"""

from __future__ import annotations

import os
import re
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.record.archive import is_archive
from spokenfor.record.bag import BAGIT, MANIFEST
from spokenfor.record.durable import sync_folder, write_synced
from spokenfor.record.folder import is_inspection

OWN = ".workbench"
"""The folder of the workbench itself inside the folder served; hidden, so no bag takes it in."""
ID_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9._-]{0,119}$"
_PLAIN = re.compile(ID_PATTERN)


class NotThereError(InputError):
    """What a request asks for is not in the folder served."""


class Library:
    """The folder served. Inspections and bags are its direct children; links are not followed."""

    one: str | None = None
    """The id of the inspection where only one is served."""

    def __init__(self, root: Path) -> None:
        """Raises InputError where `root` cannot be such a folder."""
        if is_inspection(root):
            raise InputError(
                f"'{root}' is one inspection",
                f"Review it with spokenfor review, or give the folder that holds it: '{root.parent}'",
            )
        with _served(root):
            root.mkdir(parents=True, exist_ok=True)
            self.root = root.resolve(strict=True)
        self._make_own(self.root)

    def _make_own(self, folder: Path) -> None:
        """The workbench's own folders, hidden inside `folder`. Raises InputError."""
        self.own = folder / OWN
        self.drafts, self.arriving, self.sound = (
            self.own / name for name in ("drafts", "arriving", "sound")
        )
        with _served(folder):
            for path in (self.drafts, self.arriving, self.sound, self.own / "opened"):
                path.mkdir(parents=True, exist_ok=True)

    def inspections(self) -> dict[str, Path]:
        """Every inspection folder by its id."""
        return {place_id(path): path for path in self._folders() if is_inspection(path)}

    def bags(self) -> dict[str, Path]:
        """Every sealed bag by its id: folders, .zip and .tar."""
        found = {place_id(path): path for path in self._folders() if _is_bag(path)}
        with os.scandir(self.root) as entries:
            for entry in entries:
                path = Path(entry.path)
                mine = self._shown(entry.name) and entry.is_file(follow_symlinks=False)
                if mine and is_archive(path):
                    found[place_id(path)] = path
        return found

    def inspection(self, name: str) -> Path:
        """The folder of an inspection. Raises NotThereError."""
        for path in self._folders():
            if place_id(path) == name and is_inspection(path):
                return path
        raise NotThereError("There is no such inspection", "Go back to the list of inspections")

    def has_inspection(self, name: str) -> bool:
        """Whether an inspection of this id was checked already."""
        return any(place_id(path) == name and is_inspection(path) for path in self._folders())

    def bag(self, name: str) -> Path:
        """A sealed bag. Raises NotThereError."""
        path = self.bags().get(name)
        if path is None:
            raise NotThereError("There is no such sealed bag", "Go back to the list of bags")
        return path

    def target(self, draft: str) -> Path:
        """The folder that a draft's check is kept in: the inspection of that id, or a new one."""
        return self.inspection(draft) if self.has_inspection(draft) else self.root / draft

    def new_id(self, asset: str) -> str:
        """An id for a new inspection that nothing here has: the day, the asset, and four digits."""
        slug = re.sub(r"[^A-Za-z0-9]+", "-", asset).strip("-")[:40] or "asset"
        while True:
            name = f"{datetime.now(UTC):%Y-%m-%d}-{slug}-{secrets.token_hex(2)}"
            if not (self.root / name).exists() and not (self.drafts / name).exists():
                return name

    def _folders(self) -> Iterator[Path]:
        with os.scandir(self.root) as entries:
            for entry in entries:
                if self._shown(entry.name) and entry.is_dir(follow_symlinks=False):
                    yield Path(entry.path)

    def _shown(self, name: str) -> bool:
        """Whether a child of the folder is served at all."""
        return not name.startswith(".")


def is_plain(name: str) -> bool:
    """Whether a name can be an id as it is: letters, digits, dots, dashes, not beginning with a dot."""
    return _PLAIN.fullmatch(name) is not None


def place_id(path: Path) -> str:
    """The id of a folder: its name where that is plain, else a number made from it."""
    if is_plain(path.name):
        return path.name
    import hashlib

    return "n." + hashlib.sha256(os.fsencode(path.name)).hexdigest()[:20]


def put(path: Path, data: bytes) -> None:
    """Write or replace a small file; it is on the disk when this returns. Raises OSError."""
    aside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        write_synced(aside, data)
        aside.replace(path)
    finally:
        aside.unlink(missing_ok=True)
    sync_folder(path.parent)


@contextmanager
def _served(folder: Path) -> Iterator[None]:
    """Turns an OSError into the one line that says that the folder cannot be served."""
    try:
        yield
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise InputError(
            f"'{folder}' cannot be served: {reason}", "Give a folder of your own"
        ) from error


def _is_bag(path: Path) -> bool:
    return (path / BAGIT).is_file() or (path / MANIFEST).is_file()
