"""When was a picture taken, by what the camera wrote into it?

Exif 2.32 (CIPA DC-008): DateTimeOriginal 0x9003, SubSecTimeOriginal 0x9291 and OffsetTimeOriginal 0x9011 in the
Exif IFD 0x8769 (tag numbers as in Pillow's ExifTags; section numbers of the standard were not at hand).
"""

from __future__ import annotations

import hashlib
import os
import re
import warnings
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from spokenfor.errors import InputError

SUFFIXES = {
    *(".jpg", ".jpeg", ".jpe", ".png", ".webp", ".tif", ".tiff", ".heic", ".heif", ".avif", ".bmp"),
    *(".gif", ".dng"),
}
"""What a folder of pictures is searched for; a file that is named itself may be called anything."""

_EXIF_IFD, _TAKEN, _FRACTION, _ZONE = 0x8769, 0x9003, 0x9291, 0x9011
_TAKEN_FORM = re.compile(r"\d{4}:\d\d:\d\d \d\d:\d\d:\d\d")
_ZONE_FORM = re.compile(r"([+-])(\d\d):(\d\d)")
_SEARCHED = 4 << 20
"""Bytes in which the Exif block of a form that Pillow does not open (HEIC) is looked for."""
_BLOCKS = (b"Exif\0\0II*\0", b"Exif\0\0MM\0*")


@dataclass(frozen=True)
class PhotoFile:
    """A picture as read: pixels (0: not readable here), and the moment, with a zone where the camera wrote
    one, None where it wrote no time."""

    file: str
    sha256: str
    width: int
    height: int
    taken: datetime | None


def photo_paths(given: Sequence[Path]) -> list[Path]:
    """The pictures in folders and files given; those of a folder by name. Raises InputError where there is
    no such file, or no picture in a folder."""
    found: list[Path] = []
    for path in given:
        if path.is_dir():
            inside = sorted(
                one for one in path.iterdir() if one.suffix.lower() in SUFFIXES and one.is_file()
            )
            if not inside:
                raise InputError(f"'{path}' holds no pictures", "Give the folder they are in")
            found += inside
        elif path.is_file():
            found.append(path)
        else:
            raise InputError(f"There is no picture '{path}'", "Check the name")
    return found


def read_photos(paths: Sequence[Path]) -> list[PhotoFile]:
    """Read each picture once; the same bytes given twice are one. The files are only read.

    Raises InputError for a file that cannot be read at all; one that is no picture comes back without pixels.
    """
    photos: dict[str, PhotoFile] = {}
    for path in paths:
        try:
            with path.open("rb") as file:
                sha256 = hashlib.file_digest(file, "sha256").hexdigest()
        except OSError as error:
            reason = (error.strerror or "unknown reason").lower()
            raise InputError(f"{path} cannot be read: {reason}", "Check who may read it") from error
        if sha256 not in photos:
            width, height, tags = _opened(path)
            name = os.fsencode(path.name).decode("utf-8", "replace")
            photos[sha256] = PhotoFile(name, sha256, width, height, taken_at(tags))
    return list(photos.values())


def taken_at(tags: Mapping[int, Any]) -> datetime | None:
    """The moment in the Exif tags, None where there is none or it is no moment ("0000:00:00 00:00:00")."""
    match = _TAKEN_FORM.match(_text(tags.get(_TAKEN)))
    if match is None:
        return None
    digits = re.match(r"\d*", _text(tags.get(_FRACTION)))
    fraction = f"{digits[0] if digits else ''}000000"[:6]
    try:
        moment = datetime.strptime(match[0], "%Y:%m:%d %H:%M:%S")
    except ValueError:
        return None
    moment = moment.replace(microsecond=int(fraction))
    zone = _ZONE_FORM.fullmatch(_text(tags.get(_ZONE)))
    if zone is None:
        return moment
    offset = timedelta(hours=int(zone[2]), minutes=int(zone[3]))
    if offset >= timedelta(hours=24):
        return moment
    return moment.replace(tzinfo=timezone(-offset if zone[1] == "-" else offset))


def _opened(path: Path) -> tuple[int, int, Mapping[int, Any]]:
    from PIL import Image

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(path) as image:
                width, height = image.size
                return width, height, dict(image.getexif().get_ifd(_EXIF_IFD))
    except Exception:  # whatever a damaged or hostile picture makes the library raise
        return 0, 0, _searched(path)


def _searched(path: Path) -> Mapping[int, Any]:
    """The Exif block of a picture that Pillow does not open, wherever it lies."""
    from PIL import Image

    with path.open("rb") as file:
        data = file.read(_SEARCHED)
    at = max(data.find(one) for one in _BLOCKS)
    if at < 0:
        return {}
    exif = Image.Exif()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            exif.load(data[at:])
            return dict(exif.get_ifd(_EXIF_IFD))
    except Exception:  # as above
        return {}


def _text(value: Any) -> str:
    text = value.decode("ascii", "replace") if isinstance(value, bytes) else str(value or "")
    return text.strip(" \0")
