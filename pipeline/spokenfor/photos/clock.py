"""When did each recording begin, by the wall clock?"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.models import ClockSource, PhotoClock, Recording, RecordingClock

_EARLIEST = 1990
"""A recorder whose clock was never set writes 1904 or 1970."""
_TIME_ONLY = re.compile(r"\d\d[:-]\d\d[:-]\d\d")


def photo_clock(
    recordings: Sequence[Recording],
    sounds: Sequence[Path],
    *,
    started: Sequence[str] = (),
    offset: float | None = None,
    known: PhotoClock | None = None,
) -> PhotoClock:
    """The clock of each recording: as `started` gives it (ISO 8601, in order, "" for
    one that is not given), as it was `known` before, as its
    metadata say, or the time of the file less its length (a recorder closes the file when it stops: common
    practice). Raises InputError for a time that cannot be read, or more of them than recordings."""
    check_started(started, len(recordings))
    files = sounds if len(sounds) == len(recordings) else ()
    before = known.recordings if known else []
    clocks: list[RecordingClock] = []
    for number, recording in enumerate(recordings):
        if number < len(started) and started[number]:
            clock = RecordingClock(started=_given(started[number]), source=ClockSource.GIVEN)
        elif number < len(before):
            clock = before[number]
        elif number < len(files):
            clock = _of_file(files[number], recording.duration)
        else:
            clock = RecordingClock(started=None, source=ClockSource.UNKNOWN)
        clocks.append(clock)
    return PhotoClock(
        recordings=clocks,
        offset=offset if offset is not None else known.offset if known else 0.0,
        zone=known.zone if known else _zone_here(clocks),
    )


def check_started(started: Sequence[str], recordings: int) -> None:
    """Raises InputError, before the long work, for a time that cannot be read, or too many of them."""
    if len(started) > recordings:
        raise InputError(
            f"{len(started)} times of starting for {recordings} recordings",
            "Give --started once for each recording, in their order",
        )
    for one in started:
        if one:
            _given(one)


def _given(text: str) -> str:
    try:
        if ":" not in text:
            raise ValueError("a date without a time of day")
        return _written(datetime.fromisoformat(text.strip()))
    except ValueError as error:
        raise InputError(
            f"'{text}' is no date and time", "Write it as 2026-05-03T09:12:00"
        ) from error


def _of_file(path: Path, duration: float) -> RecordingClock:
    stated = _metadata_start(path)
    if stated is not None:
        return RecordingClock(started=_written(stated), source=ClockSource.METADATA)
    closed = datetime.fromtimestamp(path.stat().st_mtime, UTC)
    start = closed - timedelta(seconds=duration)
    return RecordingClock(started=_written(start), source=ClockSource.FILE_TIME)


def _metadata_start(path: Path) -> datetime | None:
    """What the file says of its own making: FFmpeg's `creation_time` (of mp4, mov, matroska: UTC), or `date`
    and time of day of a Broadcast Wave's bext chunk (EBU Tech 3285, from memory: local time)."""
    import av

    try:
        with av.open(str(path.resolve()), metadata_errors="ignore") as container:
            tags = {name.lower(): value for name, value in container.metadata.items()}
            for stream in container.streams.audio:
                tags = {name.lower(): value for name, value in stream.metadata.items()} | tags
    except (av.error.FFmpegError, ValueError):
        return None
    made = tags.get("creation_time", "")
    if _TIME_ONLY.fullmatch(made):
        made = f"{tags.get('date', '')}T{made.replace('-', ':')}"
    try:
        moment = datetime.fromisoformat(made)
    except ValueError:
        return None
    return moment if moment.year >= _EARLIEST else None


def _written(moment: datetime) -> str:
    """ISO 8601 to the hundredth of a second: the clocks are no better."""
    hundredths = moment.microsecond // 10_000
    whole = moment.replace(microsecond=0)
    zone = whole.strftime("%z")
    zone = f"{zone[:3]}:{zone[3:5]}" if zone else ""
    fraction = f".{hundredths:02}" if hundredths else ""
    return f"{whole.replace(tzinfo=None).isoformat()}{fraction}{zone}"


def _zone_here(clocks: Sequence[RecordingClock]) -> str:
    """The offset of this machine's local time on the day of the first recording."""
    first = next((one.started for one in clocks if one.started), None)
    moment = datetime.fromisoformat(first) if first else datetime.now(UTC)
    zone = moment.astimezone().strftime("%z")
    return f"{zone[:3]}:{zone[3:5]}"
