"""A check becomes a folder of plain files, whole or not at all, with the recordings as they were."""

from __future__ import annotations

import json
import os
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from tests.record.walked import PACK, Walked, contents, sha256, walked, with_more, write_sound

from spokenfor.errors import InputError
from spokenfor.models import Verdict
from spokenfor.packs.load import load_pack, vocabulary_root
from spokenfor.record.durable import ASIDE, COMMITTED
from spokenfor.record.entries import Action
from spokenfor.record.folder import extended, open_inspection
from spokenfor.record.keep import keep, transcript_json
from spokenfor.record.review import Decision, decide
from spokenfor.record.settings import plain_name
from spokenfor.reporting.json_form import report_json

SAID = "Coming back to the tail skid, condition good."


def test_the_folder_holds_everything_that_was_used(check: Walked, tmp_path: Path) -> None:
    folder = tmp_path / "r07"
    os.utime(check.asked.sounds[0], ns=(0, 1_700_000_000_123_456_789))
    check.keep(folder)
    inspection = open_inspection(folder)
    assert report_json(inspection.result) == report_json(check.result)
    assert transcript_json(inspection.transcript) == transcript_json(check.transcript)
    for sound in check.asked.sounds:
        kept = folder / "recordings" / sound.name
        assert kept.read_bytes() == sound.read_bytes()
        assert kept.stat().st_mtime_ns == sound.stat().st_mtime_ns
    settings = inspection.settings
    assert [one.sha256 for one in settings.recordings] == [
        sha256(one) for one in check.asked.sounds
    ]
    assert load_pack(str(folder / settings.pack_path)).sha256 == settings.pack.sha256
    assert settings.versions["pydantic"] and settings.asset == "R-07"
    assert [one.action for one in inspection.log.entries] == [Action.CHECK]
    assert (folder / "report.json").read_text() == report_json(check.result)
    assert 'src="recordings/left%20side.wav"' in (folder / "report.html").read_text()
    assert not any(path.name in (ASIDE, COMMITTED) for path in folder.iterdir())


def test_a_recording_that_is_in_the_folder_stays_where_it_is(tmp_path: Path) -> None:
    out = tmp_path / "r07"
    check = walked(out)
    nodes = [path.stat().st_ino for path in check.asked.sounds]
    check.keep(out)
    assert [path.stat().st_ino for path in check.asked.sounds] == nodes
    assert not (out / "recordings").exists()
    assert [one.path for one in open_inspection(out).settings.recordings] == [
        "left side.wav",
        "right side.wav",
    ]
    assert 'src="left%20side.wav"' in (out / "report.html").read_text()


def test_recordings_of_one_name_do_not_meet(tmp_path: Path) -> None:
    check = walked(tmp_path / "phone", ("monday/walk.wav", "tuesday/walk.wav"))
    check.keep(tmp_path / "r07")
    kept = [one.path for one in open_inspection(tmp_path / "r07").settings.recordings]
    assert kept == ["recordings/walk.wav", "recordings/2/walk.wav"]
    assert [sha256(tmp_path / "r07" / one) for one in kept] == [
        sha256(s) for s in check.asked.sounds
    ]


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("walk 1.wav", "walk 1.wav"),
        ("50% done?.wav", "50_ done_.wav"),
        ("a:b*c|d.wav", "a_b_c_d.wav"),
        ("line\nfeed.wav", "line_feed.wav"),
        ("aux.wav", "_aux.wav"),
        ("COM1.wav", "_COM1.wav"),
        (" .hidden. ", "hidden"),
        ("...", "_"),
        ("é" * 200 + ".wav", "é" * 73 + ".wav"),
    ],
)
def test_names_that_every_disk_and_bag_can_hold(name: str, kept: str) -> None:
    assert plain_name(name) == kept


def test_a_name_that_no_bag_can_hold_is_kept_in_the_report(tmp_path: Path) -> None:
    names = (os.fsdecode(b"latin \xe9 50%.wav"), "right.wav")
    check = walked(tmp_path / "phone", names)
    check.result.recordings[0].file = "latin \ufffd 50%.wav"
    check.keep(tmp_path / "r07")
    first = open_inspection(tmp_path / "r07").settings.recordings[0]
    assert (first.file, first.path) == ("latin \ufffd 50%.wav", "recordings/latin \ufffd 50_.wav")


def test_recordings_added_later_extend_the_inspection(
    folder: Path, check: Walked, tmp_path: Path
) -> None:
    first = open_inspection(folder)
    decide(folder, Decision(Action.ADD_NOTE, "inspection", "B. Engineer", words="tail boom next"))
    sound = write_sound(tmp_path / "phone/later.wav", 7)
    asked = extended(folder, [sound])
    assert asked.sounds[:2] == [folder / one.path for one in first.settings.recordings]
    assert load_pack(asked.pack).sha256 == first.settings.pack.sha256
    more = with_more(check, sound, SAID, "tail-skid", Verdict.SATISFACTORY)
    keep(folder, asked, more.result, more.transcript, embed=False)
    again = open_inspection(folder)
    assert [one.path for one in again.settings.recordings] == [
        "recordings/left side.wav",
        "recordings/right side.wav",
        "recordings/later.wav",
    ]
    assert again.settings.inspection == first.settings.inspection
    assert [one.action for one in again.log.entries] == [
        Action.CHECK,
        Action.ADD_NOTE,
        Action.CHECK,
    ]
    assert (folder / "earlier/1/report.json").read_text() == report_json(check.result)
    assert {path.name for path in (folder / "earlier/1").iterdir()} == {
        "report.json",
        "transcript.json",
        "settings.json",
    }


def test_a_recording_is_not_added_twice(folder: Path, check: Walked, tmp_path: Path) -> None:
    copy = tmp_path / "copy.wav"
    copy.write_bytes(check.asked.sounds[0].read_bytes())
    with pytest.raises(InputError, match=r"already in the inspection as recordings/left side\.wav"):
        extended(folder, [copy])


def test_another_walk_does_not_mix_with_what_people_decided(folder: Path, tmp_path: Path) -> None:
    other = walked(tmp_path / "other", ("x.wav", "y.wav"))
    other.asked.sounds[0].write_bytes(b"another walk")
    other.result.recordings[0].sha256 = sha256(other.asked.sounds[0])
    other.keep(folder)
    assert (folder / "recordings/left side.wav").exists()
    decide(folder, Decision(Action.ACCEPT, "nose-cone", "B. Engineer"))
    before = contents(folder)
    with pytest.raises(InputError, match="holds an inspection of other recordings"):
        walked(tmp_path / "third", ("p.wav", "q.wav")).keep(folder)
    assert contents(folder) == before


def test_a_recording_changed_during_the_check_is_noticed(check: Walked, tmp_path: Path) -> None:
    check.asked.sounds[1].write_bytes(b"still recording")
    with pytest.raises(InputError, match="changed while it was being checked"):
        check.keep(tmp_path / "r07")
    assert not (tmp_path / "r07").exists()


def test_a_pack_changed_during_the_check_is_noticed(check: Walked, tmp_path: Path) -> None:
    mine = tmp_path / "vocab" / PACK
    shutil.copytree(vocabulary_root() / PACK, mine)
    shutil.copytree(vocabulary_root() / "common", tmp_path / "vocab/common")
    assert load_pack(str(mine)).sha256 == check.result.inspection.pack.sha256
    asked = replace(check.asked, pack=str(mine))
    keep(tmp_path / "first", asked, check.result, check.transcript, embed=False)
    with (mine / "sheet.yaml").open("a") as file:
        file.write("# a line of the sheet, while the engineer walks\n")
    with pytest.raises(InputError, match=f"The pack '{PACK}' was changed while it was being used"):
        keep(tmp_path / "second", asked, check.result, check.transcript, embed=False)
    assert not (tmp_path / "second").exists()


def test_captions_without_sound_are_kept(captions_folder: Path) -> None:
    kept = open_inspection(captions_folder).settings.captions
    assert kept is not None and kept.path == "captions/walk.vtt"
    with pytest.raises(InputError, match="made from captions"):
        extended(captions_folder, [])


@pytest.mark.parametrize("name", ["recordings", "transcript.json", "pack"])
def test_what_is_in_the_way_is_found_before_anything_changes(
    name: str, check: Walked, tmp_path: Path
) -> None:
    out = tmp_path / "r07"
    out.mkdir()
    if name.endswith(".json"):
        (out / name).mkdir()
    else:
        (out / name).write_text("mine")
    with pytest.raises(InputError, match="in the way"):
        check.keep(out)
    assert [path.name for path in out.iterdir()] == [name]


def test_a_folder_that_holds_no_inspection(tmp_path: Path) -> None:
    for wrong in (tmp_path, tmp_path / "absent"):
        with pytest.raises(InputError, match="holds no inspection"):
            open_inspection(wrong)


@pytest.mark.parametrize("name", ["report.json", "settings.json", "transcript.json"])
def test_a_damaged_file_is_named(name: str, folder: Path) -> None:
    tree = json.loads((folder / name).read_text())
    (folder / name).write_text(json.dumps({**tree, "unknown": 1}))
    with pytest.raises(InputError, match=f"{name} is not what a check wrote"):
        open_inspection(folder)
