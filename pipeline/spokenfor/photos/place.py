"""Beside which second of sound, and which words, does a picture stand?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from spokenfor.models import (
    ClockSource,
    Evidence,
    NotPlaced,
    Photo,
    PhotoClock,
    RecordingClock,
    Result,
    Segment,
    Transcript,
)
from spokenfor.photos.exif import PhotoFile

NEAR = 20.0
"""Seconds between a picture and the words it is shown beside, at most; our own choice."""


def place_photos(
    files: Sequence[PhotoFile], clock: PhotoClock, result: Result, transcript: Transcript
) -> list[Photo]:
    """Each picture beside its second of sound, in the order given; one with no time, or outside the
    recordings, is listed as not placed. `p1`, `p2`... are counted anew in each check."""
    return [
        _photo(f"p{number}", file, clock, result, transcript.segments)
        for number, file in enumerate(files, start=1)
    ]


def _photo(
    name: str, file: PhotoFile, clock: PhotoClock, result: Result, segments: Sequence[Segment]
) -> Photo:
    photo = Photo(
        id=name,
        file=file.file,
        sha256=file.sha256,
        width=file.width,
        height=file.height,
        taken=file.taken.isoformat(timespec="milliseconds") if file.taken else None,
    )
    if file.taken is None:
        photo.not_placed = NotPlaced.NO_TIME if file.width else NotPlaced.UNREADABLE
        return photo
    if all(one.started is None for one in clock.recordings):
        photo.not_placed = NotPlaced.NO_START
        return photo
    place_by_clock(photo, clock, result)
    beside(photo, result, segments)
    return photo


def place_by_clock(photo: Photo, clock: PhotoClock, result: Result) -> None:
    """Set `recording` and `at` of a picture with a time, or say that it lies outside. Where recordings
    overlap, the one that began last has it."""
    if photo.taken is None:
        return
    taken = datetime.fromisoformat(photo.taken)
    places = []
    for number, (one, recording) in enumerate(
        zip(clock.recordings, result.recordings, strict=True)
    ):
        if one.started is None:
            continue
        at = round(_seconds(taken, one, clock.zone) + clock.offset, 2)
        if 0 <= at <= recording.duration:
            places.append((at, number))
    photo.at, photo.recording = min(places) if places else (None, None)
    photo.not_placed = None if places else NotPlaced.OUTSIDE


def beside(photo: Photo, result: Result, segments: Sequence[Segment] = ()) -> None:
    """Set `said` and `item` of a placed picture: the statement nearest to it, else the words nearest to it."""
    photo.said = photo.item = None
    if photo.recording is None or photo.at is None:
        return
    statements = [
        (one.evidence, one.item)
        for one in result.statements
        if one.evidence.recording == photo.recording
    ]
    words: list[tuple[Evidence, str | None]] = [
        (
            Evidence(
                recording=one.recording, start=one.start, end=one.end, heard=one.text, text=one.text
            ),
            None,
        )
        for one in segments
        if one.recording == photo.recording
    ]
    for said in (statements, words):
        near = [(_apart(one, photo.at), -one.start, at) for at, (one, _) in enumerate(said)]
        if near and min(near)[0] <= NEAR:
            evidence, item = said[min(near)[2]]
            photo.said, photo.item = evidence.model_copy(), item
            return


def _seconds(taken: datetime, clock: RecordingClock, zone: str) -> float:
    """Seconds from the start of a recording to a picture. A start that a person gave, or that carries no
    zone, is a wall clock: it is held against the wall clock of the camera unless both carry a zone."""
    start = datetime.fromisoformat(clock.started or "")
    if taken.tzinfo is None and start.tzinfo is not None and clock.source is not ClockSource.GIVEN:
        taken = datetime.fromisoformat(f"{taken.isoformat()}{zone}")
    if taken.tzinfo is None or start.tzinfo is None:
        taken, start = taken.replace(tzinfo=None), start.replace(tzinfo=None)
    return (taken - start).total_seconds()


def _apart(evidence: Evidence, at: float) -> float:
    return max(0.0, evidence.start - at, at - evidence.end)
