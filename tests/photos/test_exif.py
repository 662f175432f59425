"""The time that a camera wrote into a picture. Tags: Exif 2.32 (CIPA DC-008)."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest
from PIL import ExifTags
from tests.photos.taken import FRACTION, TAKEN, ZONE, picture

from spokenfor.errors import InputError
from spokenfor.photos.exif import photo_paths, read_photos, taken_at

MOMENT = datetime(2026, 5, 3, 9, 12, 30)


def test_the_tag_numbers_are_those_of_another_list() -> None:
    """Pillow's own list of Exif tags."""
    assert ExifTags.Base.DateTimeOriginal == TAKEN
    assert ExifTags.Base.SubsecTimeOriginal == FRACTION
    assert ExifTags.Base.OffsetTimeOriginal == ZONE
    assert ExifTags.IFD.Exif == 0x8769


@pytest.mark.parametrize(
    ("taken", "fraction", "zone", "means"),
    [
        ("2026:05:03 09:12:30", None, None, MOMENT),
        ("2026:05:03 09:12:30", "5", None, MOMENT + timedelta(seconds=0.5)),
        ("2026:05:03 09:12:30", "07 ", None, MOMENT + timedelta(seconds=0.07)),
        ("2026:05:03 09:12:30", None, "+02:00", MOMENT.replace(tzinfo=timezone(timedelta(hours=2)))),
        ("2026:05:03 09:12:30", None, "-03:30", MOMENT.replace(tzinfo=timezone(-timedelta(hours=3.5)))),
        ("2026:05:03 09:12:30", "x", "local", MOMENT),
        ("2026:05:03 09:12:30", None, "+99:00", MOMENT),
        ("0000:00:00 00:00:00", None, None, None),
        ("    :  :     :  :  ", None, None, None),
        ("2026:02:30 09:12:30", None, None, None),
        ("yesterday", None, None, None),
        (None, "5", "+02:00", None),
    ],
)  # fmt: skip
def test_what_the_camera_wrote(taken, fraction, zone, means, tmp_path: Path) -> None:
    path = picture(tmp_path / "one.jpg", taken, fraction=fraction, zone=zone)
    (photo,) = read_photos([path])
    assert photo.taken == means
    assert (photo.width, photo.height) == (64, 48)


@pytest.mark.parametrize("suffix", [".jpg", ".png", ".webp"])
def test_several_forms(suffix: str, tmp_path: Path) -> None:
    (photo,) = read_photos([picture(tmp_path / f"one{suffix}", "2026:05:03 09:12:30")])
    assert photo.taken == MOMENT


def test_a_form_that_cannot_be_opened_still_tells_its_time(tmp_path: Path) -> None:
    """As HEIC does: the Exif block lies somewhere in a file that Pillow does not open."""
    whole = picture(tmp_path / "one.jpg", "2026:05:03 09:12:30").read_bytes()
    block = whole[whole.index(b"Exif\0\0") :]
    (tmp_path / "one.heic").write_bytes(b"\0\0\0\x18ftypheic" + bytes(500) + block)
    (photo,) = read_photos([tmp_path / "one.heic"])
    assert (photo.taken, photo.width) == (MOMENT, 0)


@pytest.mark.parametrize("data", [b"", b"\xff\xd8\xff", b"GIF89a", b"Exif\0\0II*\0" + b"\xff" * 40])
def test_what_is_no_picture_is_kept_without_a_time(data: bytes, tmp_path: Path) -> None:
    (tmp_path / "one.jpg").write_bytes(data)
    (photo,) = read_photos([tmp_path / "one.jpg"])
    assert (photo.taken, photo.width, photo.file) == (None, 0, "one.jpg")


def test_a_folder_gives_its_pictures_by_name(tmp_path: Path) -> None:
    for name in ("b.jpg", "a.PNG", "notes.txt"):
        picture(tmp_path / "dcim" / name) if name != "notes.txt" else (
            tmp_path / "dcim/notes.txt"
        ).write_text("x")
    named = picture(tmp_path / "single.jpg")
    assert [one.name for one in photo_paths([tmp_path / "dcim", named])] == [
        "a.PNG",
        "b.jpg",
        "single.jpg",
    ]


def test_the_same_bytes_twice_are_one_picture(tmp_path: Path) -> None:
    one, two = picture(tmp_path / "one.jpg"), picture(tmp_path / "two.jpg")
    assert [photo.file for photo in read_photos([one, two, one])] == ["one.jpg"]


def test_what_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    with pytest.raises(InputError, match="holds no pictures"):
        photo_paths([tmp_path / "empty"])
    with pytest.raises(InputError, match="There is no picture"):
        photo_paths([tmp_path / "absent.jpg"])


def test_tags_of_any_kind_do_no_harm() -> None:
    for value in (b"2026:05:03 09:12:30\0", 3, None, ("x",), b"\xff\xfe"):
        taken_at({TAKEN: value, ZONE: value, FRACTION: value})
    assert taken_at({TAKEN: b"2026:05:03 09:12:30\0"}) == MOMENT
