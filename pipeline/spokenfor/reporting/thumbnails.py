"""How do pictures get into the page: small copies inside it, with a way to the file itself?"""

from __future__ import annotations

import base64
import io
import warnings
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from spokenfor.models import Photo, Result
from spokenfor.reporting.sound_source import linked
from spokenfor.reporting.timeline import Passage, Timeline

SIDE, QUALITY = 360, 72
"""Pixels of the longer side, and JPEG quality: about 15 kB each."""

NOT_PLACED_WORDS = {
    "no_time": "the camera wrote no time into it",
    "no_start": "nobody knows when the recordings began",
    "outside": "taken outside the recordings",
    "unreadable": "this form of picture cannot be read here, and no time was found in it",
}
CLOCK_WORDS = {
    "given": "as given",
    "metadata": "as the file says",
    "file_time": "the time of the file less its length",
    "unknown": "not known",
}


@dataclass(frozen=True)
class Picture:
    """What the page needs of a picture's file: the small copy as a data: address (None where the picture
    cannot be read) and the address of the file."""

    small: str | None
    address: str


@dataclass(frozen=True)
class PhotoLine:
    """A picture on the page, the passage around its second of sound, the label of the line it is beside."""

    photo: Photo
    picture: Picture | None
    passage: Passage | None
    taken: str
    label: str | None
    why: str | None


def pictures(photos: Sequence[Photo], files: Sequence[Path], out: Path) -> dict[str, Picture]:
    """The pictures by id; `files` in the order of `photos`, or none at all."""
    if len(files) != len(photos):
        return {}
    return {
        photo.id: Picture(thumbnail(path), linked(path, out))
        for photo, path in zip(photos, files, strict=True)
    }


def thumbnail(path: Path) -> str | None:
    """A small upright copy as a data: address (RFC 2397), None where the picture cannot be read. It carries
    none of the tags of the original: where the picture was taken stays in the file."""
    from PIL import Image, ImageOps

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(path) as image:
                image.draft("RGB", (2 * SIDE, 2 * SIDE))
                upright = ImageOps.exif_transpose(image).convert("RGB")
                upright.thumbnail((SIDE, SIDE))
                written = io.BytesIO()
                upright.save(written, "JPEG", quality=QUALITY)
    except Exception:  # whatever a damaged or hostile picture makes the library raise
        return None
    return f"data:image/jpeg;base64,{base64.b64encode(written.getvalue()).decode('ascii')}"


def photo_lines(
    result: Result, shown: Mapping[str, Picture], timeline: Timeline
) -> list[PhotoLine]:
    """Placed pictures in the order of their seconds, then those not placed."""
    labels = {item.id: item.label for item in result.items}
    ordered = sorted(
        result.photos, key=lambda one: (one.recording is None, one.recording or 0, one.at or 0.0)
    )
    return [
        PhotoLine(
            photo=one,
            picture=shown.get(one.id),
            passage=_passage(one, timeline),
            taken="Taken " + one.taken.replace("T", " ").replace(".000", "")
            if one.taken
            else "No time in the picture",
            label=labels.get(one.item) if one.item else None,
            why=NOT_PLACED_WORDS[one.not_placed.value] if one.not_placed else None,
        )
        for one in ordered
    ]


@dataclass(frozen=True)
class _Moment:
    recording: int
    start: float
    end: float


def _passage(photo: Photo, timeline: Timeline) -> Passage | None:
    """Three seconds before a picture and after it, within its recording."""
    if photo.recording is None or photo.at is None:
        return None
    length = timeline.recordings[photo.recording].duration
    start, end = max(0.0, photo.at - 3.0), min(length, photo.at + 3.0)
    return timeline.passage(_Moment(photo.recording, start, end))
