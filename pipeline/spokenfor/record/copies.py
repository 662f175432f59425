"""How do recordings, captions, pictures and the pack get into an inspection folder, untouched?"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path, PurePosixPath

from spokenfor.errors import InputError
from spokenfor.packs.load import load_pack, pack_files, pack_sha256
from spokenfor.record.digests import sha256_of_file
from spokenfor.record.durable import copy_synced
from spokenfor.record.folder import DERIVED, WRITTEN
from spokenfor.record.settings import Kept, plain_name

RECORDINGS, CAPTIONS, PHOTOS = "recordings", "captions", "photos"
PACK, EARLIER = "pack", "earlier"


class Copies:
    """Copies into the folder aside of an inspection folder, both given; every name is found free."""

    def __init__(self, out: Path, aside: Path) -> None:
        self._out = out
        self._aside = aside

    def files(self, home: str, given: Sequence[Path]) -> list[Kept]:
        """Each file given, in the folder aside under its path to be; one that is in the inspection folder
        already stays where it is. Raises InputError for what cannot be read or would be overwritten."""
        return [self._file(home, path) for path in given]

    def pack(self, name: str, sha256: str) -> str:
        """Copy the pack and the common files; return the path of its folder. Packs of different content do
        not share a folder, so a report always finds its own. Raises InputError where the pack was changed
        meanwhile."""
        pack = load_pack(name)
        home = Path(PACK, sha256[:12])
        own = home / pack.folder.name
        if (self._out / own).is_dir() and _sha256_of_pack(self._out / own) == sha256:
            return own.as_posix()
        for path in pack_files(pack.folder, pack.common):
            inner = (
                Path("common", path.name)
                if path.parent == pack.common
                else Path(pack.folder.name, path.relative_to(pack.folder))
            )
            copy_synced(path, self._aside / home / inner)
        if _sha256_of_pack(self._aside / own) != sha256:
            raise InputError(
                f"The pack '{pack.head.name}' was changed while it was being used", "Check again"
            )
        return own.as_posix()

    def _file(self, home: str, path: Path) -> Kept:
        name = os.fsencode(path.name).decode("utf-8", "replace")
        sha256 = sha256_of(path)
        place = _inside(path, self._out)
        if place is not None:
            _left(self._out / place, self._aside / place)
        else:
            place = self._free(PurePosixPath(home, plain_name(name)), sha256)
            if (self._out / place).exists():
                _left(self._out / place, self._aside / place)
            elif not (self._aside / place).exists():
                sha256 = copy_synced(path, self._aside / place)
        size = (self._aside / place).stat().st_size
        return Kept(file=name, path=str(place), sha256=sha256, size=size)

    def _free(self, place: PurePosixPath, sha256: str) -> PurePosixPath:
        """The first path of that name that is free, or holds the very same file: home/2/name..."""
        number, tried = 1, place
        while True:
            homes = (self._aside, self._out)
            found = next((one / tried for one in homes if (one / tried).exists()), None)
            if found is None or (found.is_file() and sha256_of_file(found) == sha256):
                return tried
            number += 1
            tried = place.parent / str(number) / place.name


def sha256_of(path: Path) -> str:
    """The SHA-256 of a file. Raises InputError where it cannot be read."""
    try:
        return sha256_of_file(path)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise InputError(f"{path} cannot be read: {reason}", "Check who may read it") from None


def _inside(path: Path, out: Path) -> PurePosixPath | None:
    """The path of a file that is in the folder already, to be left there; None for all others."""
    try:
        inside = path.resolve(strict=True).relative_to(out.resolve())
    except ValueError:
        return None
    if path.is_symlink() or any(part.startswith(".") for part in inside.parts):
        return None
    if str(inside) in (*WRITTEN, *DERIVED) or inside.parts[0] in (PACK, EARLIER):
        raise InputError(f"'{path}' would be overwritten", "Give --out another folder")
    return PurePosixPath(inside)


def _left(path: Path, aside: Path) -> None:
    """A file that stays where it is: the same file by a second name, or a copy where the disk has no such."""
    if aside.exists():
        return
    aside.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(path, aside)
    except OSError:
        copy_synced(path, aside)


def _sha256_of_pack(folder: Path) -> str:
    return pack_sha256(pack_files(folder, folder.parent / "common"))
