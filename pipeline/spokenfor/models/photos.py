"""Pictures taken on the walk, and the clocks by which they stand beside what was being said."""

from __future__ import annotations

from enum import StrEnum

from spokenfor.models.base import Model, Seconds
from spokenfor.models.reading import Evidence


class ClockSource(StrEnum):
    """How it is known when a recording began."""

    GIVEN = "given"
    METADATA = "metadata"
    FILE_TIME = "file_time"
    UNKNOWN = "unknown"


class NotPlaced(StrEnum):
    """Why a picture stands beside no second of sound."""

    NO_TIME = "no_time"
    NO_START = "no_start"
    OUTSIDE = "outside"
    UNREADABLE = "unreadable"


class RecordingClock(Model):
    """When a recording began: ISO 8601, with the offset from UTC where it is known; None: not known."""

    started: str | None
    source: ClockSource


class PhotoClock(Model):
    """The clocks of the recordings, in their order; `offset` seconds are added to the time of every picture;
    `zone` ("+02:00") is the offset from UTC taken for pictures whose camera wrote none."""

    recordings: list[RecordingClock]
    offset: Seconds
    zone: str


class Photo(Model):
    """A picture. `taken` is what the camera wrote, ISO 8601; width and height in pixels, 0 where it cannot be
    read here. `at` seconds of `recording` is when it was taken, `said` the words nearest to that and `item`
    the line they speak of: a picture alone ticks nothing. `not_placed` says why there is no such second."""

    id: str
    file: str
    sha256: str
    width: int
    height: int
    taken: str | None
    recording: int | None = None
    at: Seconds | None = None
    said: Evidence | None = None
    item: str | None = None
    not_placed: NotPlaced | None = None
