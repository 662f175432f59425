"""Pictures belong to the inspection: kept untouched, sealed, moved along the sound only by a person's decision."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.photos.taken import picture
from tests.record.sealed import as_if_sealed, faults_of
from tests.record.walked import BY, Walked, contents

from spokenfor.errors import InputError
from spokenfor.models import ClockSource, NotPlaced, Photo, PhotoClock, RecordingClock
from spokenfor.photos.exif import read_photos
from spokenfor.photos.place import place_photos
from spokenfor.record.entries import Action
from spokenfor.record.folder import extended, open_inspection
from spokenfor.record.keep import keep
from spokenfor.record.outcome import Reviewed
from spokenfor.record.review import Decision, decide
from spokenfor.record.reviewed import reviewed
from spokenfor.record.seal import Seal, seal

STARTS = ("2026-05-03T09:00:00", "2026-05-03T10:00:00")


@pytest.fixture
def pictured(check: Walked, tmp_path: Path) -> Walked:
    """Three pictures: on the first recording, with no time, before the walk."""
    camera = tmp_path / "camera"
    photos = [
        picture(camera / "nose <b>.jpg", "2026:05:03 09:00:06"),
        picture(camera / "no time.jpg", colour=(1, 2, 3)),
        picture(camera / "before.jpg", "2026:05:03 08:59:58"),
    ]
    clocks = [RecordingClock(started=one, source=ClockSource.GIVEN) for one in STARTS]
    check.result.photo_clock = PhotoClock(recordings=clocks, offset=0, zone="+00:00")
    check.result.photos = place_photos(
        read_photos(photos), check.result.photo_clock, check.result, check.transcript
    )
    return replace(check, asked=replace(check.asked, photos=photos))


@pytest.fixture
def folder(pictured: Walked, tmp_path: Path) -> Path:
    pictured.keep(tmp_path / "r07")
    return tmp_path / "r07"


def state(folder: Path) -> Reviewed:
    inspection = open_inspection(folder)
    return reviewed(inspection.result, inspection.log.entries)


def photo(folder: Path, name: str) -> Photo:
    return next(one for one in state(folder).result.photos if one.id == name)


def do(folder: Path, action: Action, subject: str, **fields: object) -> None:
    decide(folder, Decision(action, subject, BY, **fields))  # type: ignore[arg-type]


def test_they_are_kept_untouched_and_named_in_the_report(folder: Path, pictured: Walked) -> None:
    inspection = open_inspection(folder)
    assert [one.path for one in inspection.settings.photos] == [
        "photos/nose _b_.jpg", "photos/no time.jpg", "photos/before.jpg",
    ]  # fmt: skip
    for kept, given in zip(inspection.settings.photos, pictured.asked.photos, strict=True):
        assert (folder / kept.path).read_bytes() == given.read_bytes()
        assert (folder / kept.path).stat().st_mtime == given.stat().st_mtime
    places = [(one.id, one.at, one.not_placed) for one in inspection.result.photos]
    assert places == [
        ("p1", 6.0, None),
        ("p2", None, NotPlaced.NO_TIME),
        ("p3", None, NotPlaced.OUTSIDE),
    ]


def test_the_page_shows_each_with_its_name_escaped(folder: Path) -> None:
    page = (folder / "report.html").read_text()
    section = page.split('<section id="photos"')[1].split("</section>")[0]
    assert section.count("data:image/jpeg;base64,/9j/") == 3
    assert "nose &lt;b&gt;.jpg" in section and "<b>.jpg" not in section
    assert 'href="photos/nose%20_b_.jpg"' in section
    assert section.count("Not placed:") == 2
    assert "the camera wrote no time into it" in section and "outside the recordings" in section


def test_the_picture_on_the_page_carries_no_place_or_camera(folder: Path) -> None:
    import base64
    import io
    import re

    from PIL import Image

    for one in re.findall(r"data:image/jpeg;base64,([^\"]+)", (folder / "report.html").read_text()):
        assert not Image.open(io.BytesIO(base64.b64decode(one))).getexif()


def test_a_decision_shifts_all_and_can_be_taken_back(folder: Path) -> None:
    before = (folder / "report.json").read_bytes()
    do(folder, Action.SHIFT_PHOTOS, "photos", seconds=4)
    do(folder, Action.SHIFT_PHOTOS, "photos", seconds=-1.5)
    assert (photo(folder, "p1").at, photo(folder, "p3").at) == (8.5, 0.5)
    assert photo(folder, "p2").not_placed is NotPlaced.NO_TIME
    moves = [(one.subject, one.before, one.after) for one in state(folder).photo_moves]
    assert moves == [
        ("p1", (0, 6.0), (0, 10.0)), ("p3", None, (0, 2.0)),
        ("p1", (0, 10.0), (0, 8.5)), ("p3", (0, 2.0), (0, 0.5)),
    ]  # fmt: skip
    do(folder, Action.REOPEN, "photos", why="the clocks were right")
    assert (photo(folder, "p1").at, photo(folder, "p3").not_placed) == (6.0, NotPlaced.OUTSIDE)
    assert (folder / "report.json").read_bytes() == before


def test_one_is_placed_by_hand_and_stays_there(folder: Path) -> None:
    do(folder, Action.PLACE_PHOTO, "p2", place="2@3.5")
    do(folder, Action.SHIFT_PHOTOS, "photos", seconds=1)
    placed = photo(folder, "p2")
    assert (placed.recording, placed.at, placed.not_placed, placed.taken) == (1, 3.5, None, None)
    assert placed.said is not None and placed.said.recording == 1


@pytest.mark.parametrize(
    ("action", "subject", "fields", "says"),
    [
        (Action.PLACE_PHOTO, "p2", {"place": "3@1"}, "no second of the recordings"),
        (Action.PLACE_PHOTO, "p2", {"place": "1@99999"}, "no second of the recordings"),
        (Action.PLACE_PHOTO, "p2", {"place": "nose"}, "no second of the recordings"),
        (Action.PLACE_PHOTO, "p9", {"place": "1@1"}, "no item, finding or statement 'p9'"),
        (Action.PLACE_PHOTO, "nose-cone", {"place": "1@1"}, "does not fit 'nose-cone'"),
        (Action.SHIFT_PHOTOS, "p1", {"seconds": 1.0}, "does not fit 'p1'"),
        (Action.ACCEPT, "p1", {}, "does not fit 'p1', which is a photo"),
    ],
)
def test_what_does_not_fit(action: Action, subject: str, fields, says: str, folder: Path) -> None:
    with pytest.raises(InputError, match=says):
        do(folder, action, subject, **fields)


def test_they_are_sealed_and_any_change_is_named(folder: Path) -> None:
    do(folder, Action.PLACE_PHOTO, "p2", place="2@3.5")
    bag = seal(folder, Seal(BY))
    assert faults_of(bag) == []
    assert (
        "picture p2: not placed became recording 2, 3.5 s"
        in (bag / "data/sign-off.txt").read_text()
    )
    path = bag / "data/photos/before.jpg"
    path.write_bytes(path.read_bytes() + b"\0")
    assert any("data/photos/before.jpg" in one for one in faults_of(bag))
    path.unlink()
    assert any("data/photos/before.jpg is missing" in one for one in faults_of(bag))


def test_settings_that_name_a_picture_outside_the_bag(folder: Path) -> None:
    bag = seal(folder, Seal(BY))
    settings = bag / "data/settings.json"
    whole = settings.read_text()
    settings.write_text(whole.replace("photos/before.jpg", "../../secret"))
    as_if_sealed(bag)
    with pytest.raises(InputError, match=r"settings\.json: the path .* is not safe"):
        faults_of(bag)
    settings.write_text(whole.replace("photos/before.jpg", "photos/no time.jpg"))
    as_if_sealed(bag)
    assert faults_of(bag) == ["data/photos/no time.jpg is not a picture of the report"]


def test_added_recordings_keep_them(folder: Path, pictured: Walked) -> None:
    asked = extended(folder, [])
    assert [one.name for one in asked.photos] == ["nose _b_.jpg", "no time.jpg", "before.jpg"]
    assert asked.photo_clock == pictured.result.photo_clock
    do(folder, Action.PLACE_PHOTO, "p2", place="2@3.5")
    keep(folder, asked, pictured.result, pictured.transcript, embed=False)
    assert photo(folder, "p2").at == 3.5
    assert len(list((folder / "photos").iterdir())) == 3


def test_a_picture_changed_during_the_check_is_noticed(pictured: Walked, tmp_path: Path) -> None:
    pictured.asked.photos[0].write_bytes(b"another")
    with pytest.raises(InputError, match="picture was changed during the check"):
        pictured.keep(tmp_path / "r07")
    assert not (tmp_path / "r07").exists()


def test_without_pictures_there_is_no_section(kept_once: Path) -> None:
    assert 'id="photos"' not in (kept_once / "report.html").read_text()
    assert contents(kept_once)
    assert open_inspection(kept_once).result.photo_clock is None
