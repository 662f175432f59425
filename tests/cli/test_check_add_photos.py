"""check --photos and --add from the command: the engineer goes back for what was skipped."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from tests.cli.command import assert_one_line, contents, piece, spokenfor
from tests.cli.prepared import CAPTIONS, holds
from tests.photos.taken import picture

NAME = ("--by", "A. Engineer")


def report(folder: Path) -> dict[str, Any]:
    return json.loads((folder / "out/report.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def walked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The nose, with two pictures."""
    folder = tmp_path_factory.mktemp("photos")
    piece(folder / "walk-1.wav", "two-parts-1", 4.9, 16.9)
    picture(folder / "camera/nose.jpg", "2026:05:03 09:12:03")
    picture(folder / "camera/unset.jpg")
    typed = ("check", "walk-1.wav", "--photos", "camera", "--started", "2026-05-03T09:12:00")
    run = spokenfor(*typed, "--out", "out", "--asset", "R-07", folder=folder)
    assert (run.status, run.stderr) == (0, "")
    assert "Photos: 1 placed, 1 not placed" in run.stdout.splitlines()
    return folder


def test_a_picture_beside_the_words(walked: Path) -> None:
    nose, unset = report(walked)["photos"]
    assert (nose["file"], nose["recording"], nose["at"]) == ("nose.jpg", 0, 3.0)
    assert "Nose cone" in nose["said"]["text"] and nose["item"] == "nose.nose-cone"
    assert (unset["file"], unset["not_placed"]) == ("unset.jpg", "no_time")


def test_recordings_and_pictures_are_added(walked: Path) -> None:
    piece(walked / "walk-2.wav", "two-parts-2", 17.0, 29.0)
    picture(walked / "late.jpg", "2026:05:03 09:59:55")
    first = report(walked)
    typed = ("check", "walk-2.wav", "--add", "--out", "out", "--photos", "late.jpg")
    given = ("--started", "2026-05-03T10:00:00", "--photo-offset", "6")
    run = spokenfor(*typed, *given, folder=walked)
    assert (run.status, run.stderr) == (0, "")
    again = report(walked)
    assert [one["file"] for one in again["recordings"]] == ["walk-1.wav", "walk-2.wav"]
    assert again["inspection"]["asset"] == "R-07"
    places = [(one["file"], one["recording"], one["at"]) for one in again["photos"]]
    assert places == [("nose.jpg", 0, 9.0), ("unset.jpg", None, None), ("late.jpg", 1, 1.0)]
    assert json.loads((walked / "out/earlier/1/report.json").read_text()) == first
    assert_one_line(
        spokenfor("check", "walk-2.wav", "--add", "--out", "out", folder=walked),
        "'walk-2.wav' is already in the inspection as recordings/walk-2.wav",
    )


def test_a_replay_gives_the_same_pictures(walked: Path) -> None:
    sealed = spokenfor("seal", "out", *NAME, "--despite", "a test", folder=walked)
    assert sealed.status == 0, sealed.stderr
    run = spokenfor("verify", "out-sealed", "--replay", folder=walked)
    assert run.stdout.splitlines()[-1].startswith("ok    checked again"), run.stdout
    assert_one_line(
        spokenfor("check", "walk-1.wav", "--out", "out", folder=walked), "was sealed by A. Engineer"
    )


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--photos", "absent.jpg"), "There is no picture 'absent.jpg'"),
        (("--photos", "empty"), "'empty' holds no pictures"),
        (("--photos", "one.jpg", "--started", "ten"), "'ten' is no date and time"),
        (("--photos", "one.jpg", "--started", "2026-05-03T09:00", "--started", "2026-05-03T09:00"), "2 times of starting for 1 recordings"),
        (("--photos", "one.jpg", "--photo-offset", "soon"), "Input should be a valid number"),
        (("--add",), "Captions cannot be added"),
    ],
)  # fmt: skip
def test_what_cannot_be_used(arguments: tuple[str, ...], says: str, tmp_path: Path) -> None:
    holds("walk.vtt", CAPTIONS)(tmp_path)
    picture(tmp_path / "one.jpg", "2026:05:03 09:12:03")
    (tmp_path / "empty").mkdir()
    before = contents(tmp_path)
    assert_one_line(
        spokenfor("check", "--transcript", "walk.vtt", *arguments, folder=tmp_path), says
    )
    assert contents(tmp_path) == before


def test_nothing_to_add_to(tmp_path: Path) -> None:
    picture(tmp_path / "one.jpg")
    run = spokenfor("check", "--add", "--photos", "one.jpg", folder=tmp_path)
    assert_one_line(run, "'inspection' holds no inspection")
    assert_one_line(spokenfor("check", "--add", folder=tmp_path), "Nothing was given to add")
