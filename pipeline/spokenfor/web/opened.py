"""What does a page need of one inspection or sealed bag: its files, its review, and where the sound is?"""

from __future__ import annotations

from collections import OrderedDict
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from threading import Lock
from typing import Any, Literal

from spokenfor.comparing.reading_walks import walk_of
from spokenfor.comparing.walks import Walk
from spokenfor.errors import InputError
from spokenfor.record.bag import PAYLOAD, refuse_unsafe
from spokenfor.record.durable import unfinished
from spokenfor.record.folder import Inspection, open_inspection, read_inspection
from spokenfor.record.log import LOG_FILE, read_log
from spokenfor.record.outcome import Reviewed
from spokenfor.record.reviewed import reviewed
from spokenfor.record.settings import SETTINGS_FILE
from spokenfor.record.subjects import INSPECTION
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.page import page_contents
from spokenfor.reporting.thumbnails import Picture, photo_lines
from spokenfor.reporting.timeline import Timeline
from spokenfor.web.bags import bag_folder
from spokenfor.web.library import Library, NotThereError

Kind = Literal["inspections", "bags"]
_REMEMBERED = 12


@dataclass(frozen=True)
class Opened:
    """One inspection as its pages show it; `kind` and `id` are the first two parts of their addresses."""

    kind: Kind
    id: str
    folder: Path
    inspection: Inspection

    @property
    def base(self) -> str:
        return f"/{self.kind}/{self.id}"

    @property
    def read_only(self) -> bool:
        """Whether no decision can be taken here: in a bag, and while a seal stands."""
        return self.kind == "bags" or self.review.sealed is not None

    @cached_property
    def review(self) -> Reviewed:
        return reviewed(self.inspection.result, self.inspection.log.entries)

    @cached_property
    def called(self) -> dict[str, str]:
        """What each item and finding is called, and the whole."""
        result = self.review.result
        labels = Labels(result)
        return {
            INSPECTION: "this inspection",
            **{one.id: one.label for one in result.items},
            **{one.id: labels.finding(one) for one in [*result.findings, *self.review.dismissed]},
        }

    @cached_property
    def sound(self) -> dict[int, str]:
        """The address of each recording that can be played."""
        rows = self.inspection.settings.recordings
        return {number: f"{self.base}/sound/{number}" for number in range(len(rows))}

    @cached_property
    def timeline(self) -> Timeline:
        return Timeline(self.review.result.recordings, self.sound)

    @cached_property
    def walk(self) -> Walk:
        """The walk as trainers look at it."""
        return walk_of(self.inspection, self.folder, self.review)

    @cached_property
    def contents(self) -> dict[str, Any]:
        """What the report's own templates show, of the reviewed result."""
        result = self.review.result
        contents = page_contents(result, self.inspection.transcript, self.sound)
        addresses = [f"{self.base}/photos/{number}" for number in range(len(result.photos))]
        shown = {
            one.id: Picture(address, address)
            for one, address in zip(result.photos, addresses, strict=True)
        }
        contents["photos"] = photo_lines(result, shown, self.timeline)
        return contents

    def recording(self, number: int) -> tuple[str, Path]:
        """SHA-256 and file of a recording. Raises NotThereError."""
        rows = self.inspection.settings.recordings
        if not 0 <= number < len(rows):
            raise NotThereError("There is no such recording", "Load the page again")
        return rows[number].sha256, inside(self.folder, rows[number].path)

    def photo(self, number: int) -> Path:
        """The file of a photo. Raises NotThereError."""
        rows = self.inspection.settings.photos
        if not 0 <= number < len(rows):
            raise NotThereError("There is no such photo", "Load the page again")
        return inside(self.folder, rows[number].path)


class Shelf:
    """Opens inspections and bags; the last few are remembered as long as their files do not change."""

    def __init__(self, library: Library) -> None:
        self._library = library
        self._lock = Lock()
        self._kept: OrderedDict[tuple[str, str], tuple[list[tuple[int, int]], Opened]] = (
            OrderedDict()
        )

    def open(self, kind: Kind, name: str) -> Opened:
        """Raises NotThereError, or InputError for what cannot be read."""
        if kind == "bags":
            folder = bag_folder(self._library, name) / PAYLOAD
        else:
            folder = self._library.inspection(name)
            if unfinished(folder):
                open_inspection(folder)
        stamp = _stamps(folder)
        with self._lock:
            known = self._kept.get((kind, name))
            if known is not None and known[0] == stamp:
                self._kept.move_to_end((kind, name))
                return known[1]
        if known is not None and known[0][:-1] == stamp[:-1]:  # somebody decided, no more
            inspection = replace(known[1].inspection, log=read_log(folder))
        else:
            inspection = read_inspection(folder)
        opened = Opened(kind, name, folder, inspection)
        with self._lock:
            self._kept[(kind, name)] = (stamp, opened)
            while len(self._kept) > _REMEMBERED:
                self._kept.popitem(last=False)
        return opened

    def prepare(self, name: str) -> None:
        """Open an inspection ahead of the person who waits for its check, so that its first page is there at
        once. What cannot be opened is told when it is asked for."""
        with suppress(InputError):
            _ = self.open("inspections", name).contents

    def known(self, name: str, folder: Path) -> Opened | None:
        """An inspection that was opened a short while ago, if its files are still those."""
        with self._lock:
            known = self._kept.get(("inspections", name))
        return known[1] if known is not None and known[0] == _stamps(folder) else None


def inside(folder: Path, path: str) -> Path:
    """A file below a folder by the path that the folder's own settings give, which may be a forger's.
    Raises NotThereError where it leads elsewhere."""
    try:
        refuse_unsafe(path, SETTINGS_FILE)
        found = (folder / path).resolve(strict=True)
    except (OSError, InputError):
        raise NotThereError(
            "The file is not in its folder", "Restore it from a copy or a sealed bag"
        ) from None
    if not found.is_relative_to(folder.resolve()) or not found.is_file():
        raise NotThereError("The file is not in its folder", "Restore it from a copy")
    return found


def _stamps(folder: Path) -> list[tuple[int, int]]:
    """Time of change and size of the files that are read; the log last."""
    found = []
    for name in ("report.json", "transcript.json", SETTINGS_FILE, LOG_FILE):
        try:
            state = (folder / name).stat()
        except OSError:
            found.append((0, 0))
        else:
            found.append((state.st_mtime_ns, state.st_size))
    return found
