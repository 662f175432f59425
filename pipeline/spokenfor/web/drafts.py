"""What was asked and recorded but not checked yet, and how is none of it lost?

.workbench/drafts/ID/asked.json         asset, pack, name of the person
                     job.json           collecting, waiting, working or failed, and why
                     sounds/01/walk.m4a        a file, or
                     sounds/02/pieces/000001   a recording that is still coming in
"""

from __future__ import annotations

import errno
import os
import shutil
import time
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from spokenfor.errors import InputError
from spokenfor.models import Model
from spokenfor.record.digests import sha256_of_file
from spokenfor.record.durable import sync_folder
from spokenfor.web.library import Library, NotThereError, is_plain, put

State = Literal["collecting", "waiting", "working", "failed"]
CAPTION_SUFFIXES = {".vtt", ".srt"}
PHOTO_SUFFIXES = {".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".tif", ".tiff"}
_ASKED, _JOB, _SOUNDS, _PIECES = "asked.json", "job.json", "sounds", "pieces"
_BLOCK = 1 << 20


class Asked(Model):
    """What the engineer asked for; `started` is the UTC moment, ISO 8601."""

    id: str
    asset: str
    pack: str
    by: str
    started: str


class Job(Model):
    """Where the check of a draft stands; `queued` is in nanoseconds since 1970, for the order."""

    state: State = "collecting"
    queued: int = 0
    wrong: str | None = None
    mend: str | None = None


@dataclass(frozen=True)
class DraftSound:
    """One recording (or transcript, or photo) of a draft: `file` is None while it is in `pieces` pieces;
    `began` is the moment (ISO 8601) at which it began where it was recorded here, else empty."""

    number: int
    name: str
    size: int
    file: Path | None
    pieces: int = 0
    began: str = ""

    @property
    def kind(self) -> Literal["sound", "captions", "photo"]:
        suffix = Path(self.name).suffix.lower()
        if suffix in CAPTION_SUFFIXES:
            return "captions"
        return "photo" if suffix in PHOTO_SUFFIXES else "sound"


class Drafts:
    """The drafts of one library. Every change is on the disk before a method returns."""

    def __init__(self, library: Library) -> None:
        self._library = library

    def create(self, asked: Asked) -> None:
        """A new draft, whole or not at all."""
        aside = self._library.arriving / f"draft-{asked.id}"
        (aside / _SOUNDS).mkdir(parents=True)
        put(aside / _ASKED, asked.model_dump_json().encode())
        put(aside / _JOB, Job().model_dump_json().encode())
        aside.rename(self._library.drafts / asked.id)
        sync_folder(self._library.drafts)

    def ids(self) -> list[str]:
        return sorted(path.name for path in self._library.drafts.iterdir() if path.is_dir())

    def exists(self, draft: str) -> bool:
        """Whether there is a draft of this id."""
        return is_plain(draft) and (self._library.drafts / draft).is_dir()

    def asked(self, draft: str) -> Asked:
        """Raises NotThereError where there is no such draft."""
        return Asked.model_validate_json(self._read(draft, _ASKED))

    def job(self, draft: str) -> Job:
        """Raises NotThereError where there is no such draft."""
        return Job.model_validate_json(self._read(draft, _JOB))

    def set_job(self, draft: str, job: Job) -> None:
        put(self._folder(draft) / _JOB, job.model_dump_json().encode())

    def sounds(self, draft: str) -> list[DraftSound]:
        """The recordings of a draft in the order they were begun."""
        found = []
        for path in sorted((self._folder(draft) / _SOUNDS).iterdir()):
            files = [one for one in path.iterdir() if one.is_file() and one.name[0] != "."]
            pieces = list((path / _PIECES).glob("[0-9]*")) if (path / _PIECES).is_dir() else []
            mark = next(iter(path.glob(".suffix.*")), None)
            began = mark.read_text() if mark is not None else ""
            number = int(path.name)
            if files:
                size = files[0].stat().st_size
                found.append(DraftSound(number, files[0].name, size, files[0], began=began))
            elif mark is not None and (path / _PIECES).is_dir():
                size = sum(one.stat().st_size for one in pieces)
                name = f"recorded-{path.name}{mark.suffix}"
                found.append(DraftSound(number, name, size, None, len(pieces), began))
        return found

    def begin_recording(self, draft: str, suffix: str) -> int:
        """A place for a recording that will come in pieces; its number."""
        place = self._new_place(draft)
        began = datetime.now(UTC).isoformat(timespec="milliseconds")
        put(place / f".suffix{suffix}", began.encode())
        (place / _PIECES).mkdir()
        sync_folder(place)
        return int(place.name)

    def add_file(
        self, draft: str, arrived: Path, name: str, changed: float | None = None
    ) -> DraftSound:
        """Move a file that has arrived whole into a draft; `changed` is its own time of change (seconds since
        1970), which tells when it was recorded. The very same file again is not added twice."""
        sha256, size = sha256_of_file(arrived), arrived.stat().st_size
        for one in self.sounds(draft):
            same = one.file is not None and one.size == size
            if same and one.file is not None and sha256_of_file(one.file) == sha256:
                return one
        if changed is not None:
            os.utime(arrived, (changed, changed))
        place = self._new_place(draft)
        arrived.rename(place / name)
        sync_folder(place)
        return DraftSound(int(place.name), name, size, place / name)

    def add_piece(self, draft: str, number: int, piece: int, arrived: Path) -> None:
        """Put a piece that has arrived into its recording. The very same piece again changes nothing; another
        one under its number is refused."""
        place = self._pieces(draft, number)
        target = place / f"{piece:06}"
        try:
            os.link(arrived, target)
        except FileExistsError:
            if sha256_of_file(target) != sha256_of_file(arrived):
                raise InputError(
                    f"Piece {piece} of this recording is stored already, and is another",
                    "Start a new recording",
                ) from None
        sync_folder(place)

    def end_recording(self, draft: str, number: int, pieces: int) -> DraftSound:
        """Join the pieces of a recording into its file; done already, it changes nothing. Raises InputError
        where a piece is missing."""
        for one in self.sounds(draft):
            if one.number == number and one.file is not None:
                return one
        stored = self._stored(draft, number)
        if stored != list(range(1, pieces + 1)):
            missing = next((n for n in range(1, pieces + 1) if n not in stored), pieces + 1)
            raise InputError(
                f"Piece {missing} of {pieces} has not arrived", "Send it again, then end"
            )
        return self._join(draft, number, stored)

    def join_unended(self, draft: str) -> None:
        """Join what a crash of the browser left in pieces, as far as it goes without a gap."""
        for one in self.sounds(draft):
            if one.file is None:
                stored = self._stored(draft, one.number)
                whole = [n for n in stored if set(range(1, n)) <= set(stored)]
                if whole:
                    self._join(draft, one.number, whole)
                else:
                    self.remove(draft, one.number)

    def remove(self, draft: str, number: int) -> None:
        """Take one recording away for good."""
        place = self._folder(draft) / _SOUNDS / f"{number:02}"
        self._known(draft, number)
        gone = self._library.arriving / f"gone-{draft}-{number}-{time.time_ns()}"
        place.rename(gone)
        sync_folder(place.parent)
        shutil.rmtree(gone, ignore_errors=True)

    def drop(self, draft: str) -> None:
        """Take a whole draft away: its recordings are in the inspection now, or nobody wants them."""
        gone = self._library.arriving / f"gone-{draft}-{time.time_ns()}"
        self._folder(draft).rename(gone)
        sync_folder(self._library.drafts)
        shutil.rmtree(gone, ignore_errors=True)

    def tidy(self) -> None:
        """At the start: what was cut off while it arrived was never acknowledged and is sent again."""
        for path in self._library.arriving.iterdir():
            if path.is_dir():
                shutil.rmtree(path, ignore_errors=True)
            else:
                path.unlink(missing_ok=True)

    def _join(self, draft: str, number: int, pieces: list[int]) -> DraftSound:
        place = self._pieces(draft, number).parent
        suffix = next(iter(place.glob(".suffix.*"))).suffix
        name = f"recorded-{number:02}{suffix}"
        aside = place / f".{name}.{time.time_ns()}"
        with aside.open("xb") as joined:
            for piece in pieces:
                with (place / _PIECES / f"{piece:06}").open("rb") as part:
                    shutil.copyfileobj(part, joined, _BLOCK)
            joined.flush()
            os.fsync(joined.fileno())
        aside.rename(place / name)
        sync_folder(place)
        shutil.rmtree(place / _PIECES, ignore_errors=True)
        return DraftSound(number, name, (place / name).stat().st_size, place / name)

    def _stored(self, draft: str, number: int) -> list[int]:
        place = self._pieces(draft, number)
        return sorted(int(one.name) for one in place.glob("[0-9]*"))

    def _pieces(self, draft: str, number: int) -> Path:
        place = self._folder(draft) / _SOUNDS / f"{number:02}" / _PIECES
        if not place.is_dir():
            raise NotThereError("This recording is not open", "Start a new recording")
        return place

    def _known(self, draft: str, number: int) -> None:
        if number not in {one.number for one in self.sounds(draft)}:
            raise NotThereError("There is no such recording", "Load the page again")

    def _new_place(self, draft: str) -> Path:
        home = self._folder(draft) / _SOUNDS
        number = 1 + max((int(one.name) for one in home.iterdir()), default=0)
        while True:
            try:
                (home / f"{number:02}").mkdir()
            except OSError as error:
                if error.errno != errno.EEXIST:
                    raise
                number += 1
            else:
                sync_folder(home)
                return home / f"{number:02}"

    def _folder(self, draft: str) -> Path:
        if not self.exists(draft):
            raise NotThereError("There is no such inspection", "Go back to the list")
        return self._library.drafts / draft

    def _read(self, draft: str, name: str) -> bytes:
        try:
            return (self._folder(draft) / name).read_bytes()
        except FileNotFoundError:
            raise NotThereError("There is no such inspection", "Go back to the list") from None
