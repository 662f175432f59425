"""Beside which second of sound a picture stands, by the two clocks."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path

import av
import numpy as np
import pytest
from tests.cli.command import write_wav
from tests.photos.taken import picture
from tests.reporting.spoken_walk import make_result, make_transcript

from spokenfor.errors import InputError
from spokenfor.models import (
    ClockSource,
    NotPlaced,
    Photo,
    PhotoClock,
    Recording,
    RecordingClock,
    Result,
)
from spokenfor.photos.clock import photo_clock
from spokenfor.photos.exif import read_photos
from spokenfor.photos.place import NEAR, place_photos


def given(
    *started: str | None, source: ClockSource = ClockSource.GIVEN, offset: float = 0.0
) -> PhotoClock:
    clocks = [RecordingClock(started=one, source=source) for one in started]
    return PhotoClock(recordings=clocks, offset=offset, zone="+02:00")


def placed(path: Path, clock: PhotoClock) -> Photo:
    (photo,) = place_photos(read_photos([path]), clock, make_result(), make_transcript())
    return photo


@pytest.fixture
def at_0910(tmp_path: Path) -> Path:
    return picture(tmp_path / "one.jpg", "2026:05:03 09:10:12")


NINE, TEN_PAST = "2026-05-03T09:00:00", "2026-05-03T09:10:00"
METADATA = ClockSource.METADATA


@pytest.mark.parametrize(
    ("zone", "clock", "second"),
    [
        (None, given(TEN_PAST, "2026-05-03T09:20:00"), 12.0),
        (None, given(NINE, TEN_PAST), 12.0),
        (None, given(None, TEN_PAST), 12.0),
        ("+02:00", given(TEN_PAST, None), 12.0),
        (None, given(TEN_PAST + "+05:00", None), 12.0),
        ("+02:00", given("2026-05-03T07:10:00+00:00", None, source=METADATA), 12.0),
        (None, given("2026-05-03T07:10:00+00:00", None, source=METADATA), 12.0),
        (None, given(TEN_PAST, None, source=METADATA), 12.0),
        (None, given("2026-05-03T09:10:42", None, offset=45), 15.0),
        (None, given("2026-05-03T09:09:52", None, offset=-5.5), 14.5),
    ],
    ids=[
        "first recording", "second recording", "first not known", "camera with a zone, wall clock given",
        "zone given, camera without", "both with a zone", "camera without a zone: this machine's",
        "recorder without a zone", "camera behind", "camera fast",
    ],
)  # fmt: skip
def test_the_second(zone: str | None, clock: PhotoClock, second: float, tmp_path: Path) -> None:
    photo = placed(picture(tmp_path / "p.jpg", "2026:05:03 09:10:12", zone=zone), clock)
    which = next(n for n, one in enumerate(clock.recordings) if one.started not in (None, NINE))
    assert (photo.recording, photo.at, photo.not_placed) == (which, second, None)


@pytest.mark.parametrize(
    ("taken", "clock", "why"),
    [
        (None, given(TEN_PAST, None), NotPlaced.NO_TIME),
        ("2026:05:03 09:10:12", given(None, None), NotPlaced.NO_START),
        ("2026:05:03 09:09:59", given(TEN_PAST, None), NotPlaced.OUTSIDE),
        ("2026:05:03 11:10:12", given(TEN_PAST, NINE), NotPlaced.OUTSIDE),
        ("1970:01:01 00:00:00", given(TEN_PAST, None), NotPlaced.OUTSIDE),
    ],
)
def test_never_lost(taken: str | None, clock: PhotoClock, why: NotPlaced, tmp_path: Path) -> None:
    photo = placed(picture(tmp_path / "p.jpg", taken), clock)
    assert (photo.not_placed, photo.recording, photo.at, photo.said, photo.item) == (
        why,
        None,
        None,
        None,
        None,
    )
    assert photo.file == "p.jpg"


def test_what_was_being_said_then(at_0910: Path) -> None:
    """The statement nearest in time, and its line; far from any word, none."""
    result: Result = make_result()
    statement = next(one for one in result.statements if one.item and one.evidence.recording == 0)
    start = datetime(2026, 5, 3, 9, 10, 12).timestamp() - statement.evidence.start
    clock = given(datetime.fromtimestamp(start).isoformat(), None)
    photo = placed(at_0910, clock)
    assert photo.said == statement.evidence
    assert photo.item == statement.item
    result.statements.clear()
    (photo,) = place_photos(read_photos([at_0910]), clock, result, make_transcript())
    assert photo.said is not None and photo.item is None
    bare = make_transcript()
    bare.segments = [one for one in bare.segments if one.start > (photo.at or 0) + NEAR]
    (photo,) = place_photos(read_photos([at_0910]), clock, result, bare)
    assert photo.said is None and photo.at is not None


def test_a_picture_ticks_nothing(at_0910: Path) -> None:
    before = make_result()
    result = make_result()
    place_photos(read_photos([at_0910]), given(TEN_PAST, None), result, make_transcript())
    assert result == before


RECORDING = Recording(file="walk.wav", sha256="", duration=5.0, sample_rate=16_000, channels=1)


def clock_of(path: Path, **options) -> RecordingClock:
    (clock,) = photo_clock([RECORDING], [path], **options).recordings
    return clock


def test_the_time_of_the_file_less_its_length(tmp_path: Path) -> None:
    path = write_wav(tmp_path / "walk.wav", np.zeros(16_000 * 5))
    closed = datetime(2026, 5, 3, 7, 10, 5, tzinfo=UTC).timestamp()
    os.utime(path, (closed, closed))
    clock = clock_of(path)
    assert (clock.started, clock.source) == ("2026-05-03T07:10:00+00:00", ClockSource.FILE_TIME)


def test_what_the_recorder_wrote_into_the_file(tmp_path: Path) -> None:
    path = tmp_path / "walk.m4a"
    with av.open(str(path), "w", format="mp4") as file:
        file.metadata["creation_time"] = "2026-05-03T07:10:00.000000Z"
        stream = file.add_stream("aac", rate=16_000)
        frame = av.AudioFrame.from_ndarray(
            np.zeros((1, 1024), np.float32), format="fltp", layout="mono"
        )
        frame.sample_rate = 16_000
        file.mux(stream.encode(frame))
        file.mux(stream.encode(None))
    clock = clock_of(path)
    assert (clock.started, clock.source) == ("2026-05-03T07:10:00+00:00", METADATA)


def bext_wav(path: Path, day: bytes, time: bytes) -> Path:
    """A Broadcast Wave (EBU Tech 3285, from memory): description 256, originator 32, its reference 32, date 10,
    time 8, then what does not matter here."""
    write_wav(path, np.zeros(16_000))
    data = path.read_bytes()
    chunk = bytes(320) + day + time + bytes(602 - 338)
    path.write_bytes(data[:36] + b"bext" + len(chunk).to_bytes(4, "little") + chunk + data[36:])
    return path


def test_a_broadcast_wave_says_when_it_began(tmp_path: Path) -> None:
    clock = clock_of(bext_wav(tmp_path / "walk.wav", b"2026-05-03", b"09:10:00"))
    assert (clock.started, clock.source) == ("2026-05-03T09:10:00", METADATA)


def test_given_goes_before_known_before_the_file(tmp_path: Path) -> None:
    path = write_wav(tmp_path / "walk.wav", np.zeros(16_000))
    known = given(TEN_PAST, offset=7)
    assert (
        photo_clock([RECORDING], [path], started=[NINE], known=known).recordings[0].started == NINE
    )
    again = photo_clock([RECORDING, RECORDING], [path, path], started=["", NINE], known=known)
    assert [one.started for one in again.recordings] == [TEN_PAST, NINE]
    assert (again.offset, again.zone) == (7, "+02:00")
    assert photo_clock([RECORDING], [path], known=known, offset=0).offset == 0
    assert photo_clock([RECORDING], []).recordings[0].source is ClockSource.UNKNOWN


@pytest.mark.parametrize("text", ["yesterday", "2026-05-03", "09:10", "2026-13-03T09:10:00", ""])
def test_a_time_that_cannot_be_read(text: str) -> None:
    if text:
        with pytest.raises(InputError, match="no date and time"):
            photo_clock([RECORDING], [], started=[text])
    with pytest.raises(InputError, match="2 times of starting for 1 recordings"):
        photo_clock([RECORDING], [], started=[NINE, NINE])
