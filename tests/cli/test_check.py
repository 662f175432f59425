"""`spokenfor check` from the command to its five files, on sound and on captions made elsewhere."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import webvtt
from jsonschema import Draft202012Validator
from tests.cli.command import contents, piece, spokenfor, write_wav
from tests.cli.conftest import Checked

from spokenfor.packs.load import load_pack, vocabulary_root
from spokenfor.reporting.json_form import report_schema
from spokenfor.samples import samples_folder

FILES = ["findings.csv", "items.csv", "log.jsonl", "pack", "report.html", "report.json"]
FILES += ["settings.json", "transcript.json", "transcript.vtt"]
PACK = "helicopter-light-twin"
STARTED = re.compile(r'("started": ")[^"]+(")')
ONLY_STARTED = r"\1the same\2"

# The sentence, and the line of the sheet it must become.
SAID = [
    ("Starting at the nose.", {}),
    ("Nose cone is secure.", {"nose.nose-cone": "satisfactory"}),
    ("Landing light is cracked.", {"nose.landing-light": "defect"}),
    ("Left windscreen, no cracks.", {"nose.windscreen.left": "satisfactory"}),
    ("Down to the nose gear.", {}),
    ("Checking the nose oleo for leaks.", {"nose-gear.nose-oleo": "looked_for"}),
    ("I could not see the nose tyre, not inspected.", {"nose-gear.nose-tyre": "not_inspected"}),
]
TWO_LINES = "- zone: nose\n  lines: [{component: nose-cone}, {component: landing-light}]\n"
EXPECTED = {item: status for _, lines in SAID for item, status in lines.items()}


def statuses(report: dict[str, Any]) -> dict[str, str]:
    return {item["id"]: item["status"] for item in report["items"]}


def report_of(out: Path) -> dict[str, Any]:
    return json.loads((out / "report.json").read_text(encoding="utf-8"))


def captions(form: str) -> str:
    """The sentences as captions, three seconds each, half a second in."""
    point = "." if form == "vtt" else ","
    text = "WEBVTT\n\n" if form == "vtt" else ""
    for number, (sentence, _) in enumerate(SAID):
        begins, ends = f"00:00:{3 * number:02}{point}500", f"00:00:{3 * number + 3:02}{point}000"
        text += f"{number + 1}\n{begins} --> {ends}\n{sentence}\n\n"
    return text


def visible(out: Path) -> list[str]:
    """What a person sees in the folder; the lock that two processes need is hidden."""
    return sorted(path.name for path in out.iterdir() if not path.name.startswith("."))


def test_the_inspection_folder_and_nothing_else(checked: Checked) -> None:
    assert visible(checked.out) == sorted([*FILES, "recordings"])
    assert all((checked.out / name).stat().st_size > 0 for name in FILES)
    kept = [checked.out / "recordings" / sound.name for sound in checked.sounds]
    assert [one.read_bytes() for one in kept] == [one.read_bytes() for one in checked.sounds]
    assert checked.run.stderr == ""


def test_the_terminal_says_what_matters_and_where_the_report_is(checked: Checked) -> None:
    lines = checked.run.stdout.splitlines()
    assert len(lines) <= 11
    assert lines[-1] == f"Report: {checked.out / 'report.html'}"
    assert "Found: 1 defect, 0 remarks" in lines
    assert any("main oleo, right: leak" in line for line in lines)


def test_report_json_validates_against_the_shipped_schema(checked: Checked) -> None:
    # JSON Schema 2020-12, by the reference implementation in Python.
    faults = Draft202012Validator(report_schema()).iter_errors(checked.report)
    assert [fault.message for fault in faults] == []


def test_strict_gives_4_where_there_is_a_defect(checked: Checked) -> None:
    assert checked.run.status == 4


def test_a_second_run_gives_the_same_report(checked: Checked, tmp_path: Path) -> None:
    """Byte for byte but for the time it was made, from another folder and without --strict: status 0."""
    for sound in checked.sounds:
        shutil.copyfile(sound, tmp_path / sound.name)
    names = [sound.name for sound in checked.sounds]
    run = spokenfor(
        "check", *names, "--asset", "R-11", "--by", "Sample voice", "--out", "b", folder=tmp_path
    )
    assert (run.status, run.stderr) == (0, "")
    first, second = (
        STARTED.subn(ONLY_STARTED, (out / "report.json").read_bytes().decode())
        for out in (checked.out, tmp_path / "b")
    )
    assert first[1] == 1
    assert first == second
    for name in ("items.csv", "findings.csv", "transcript.vtt"):
        assert (checked.out / name).read_bytes() == (tmp_path / "b" / name).read_bytes()


def test_several_recordings_are_one_inspection(checked: Checked) -> None:
    report = checked.report
    assert [one["file"] for one in report["recordings"]] == ["walk-1.wav", "walk-2.wav"]
    assert [one["sha256"] for one in report["recordings"]] == [
        hashlib.sha256(sound.read_bytes()).hexdigest() for sound in checked.sounds
    ]
    by_id = {item["id"]: item for item in report["items"]}
    nose, oleo = by_id["nose.nose-cone"], by_id["right-main-gear.main-oleo.right"]
    assert (nose["status"], nose["evidence"][0]["recording"]) == ("satisfactory", 0)
    assert (oleo["status"], oleo["evidence"][0]["recording"]) == ("defect", 1)
    assert (report["inspection"]["asset"], report["inspection"]["by"]) == ("R-11", "Sample voice")


def test_transcript_is_read_back_by_another_library(checked: Checked) -> None:
    """webvtt-py; times run on through the recordings, words lie inside the sound."""
    cues = webvtt.read(str(checked.out / "transcript.vtt")).captions
    text = " ".join(cue.text for cue in cues)
    assert "Nose cone is secure" in text and "oleo is leaking" in text
    times = [(cue.start_in_seconds, cue.end_in_seconds) for cue in cues]
    assert times == sorted(times)
    assert times[-1][1] <= sum(one["duration"] for one in checked.report["recordings"]) + 1


@pytest.fixture(scope="module")
def walk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Twenty-two seconds of sound that somebody else is said to have written down."""
    folder = tmp_path_factory.mktemp("captioned")
    return piece(folder / "walk.wav", "two-parts-1", 5, 27)


@pytest.mark.parametrize("form", ["vtt", "srt"])
@pytest.mark.parametrize("sound", [True, False], ids=["with sound", "without"])
def test_captions_give_the_statuses_that_their_words_say(
    form: str, sound: bool, walk: Path, tmp_path: Path
) -> None:
    file = tmp_path / f"walk.{form}"
    file.write_text(captions(form), encoding="utf-8")
    before = contents(walk.parent)
    sounds = [walk] if sound else []
    run = spokenfor("check", *sounds, "--transcript", file, "--out", "out", folder=tmp_path)
    assert (run.status, run.stderr) == (0, "")
    report = report_of(tmp_path / "out")
    found = statuses(report)
    assert {item: found[item] for item in EXPECTED} == EXPECTED
    rest = {status for item, status in found.items() if item not in EXPECTED}
    assert rest <= {"not_mentioned", "unheard"}
    cues = webvtt.read(str(tmp_path / "out" / "transcript.vtt")).captions
    heard = [cue.text for cue in cues if not cue.text.startswith("[unheard")]
    assert heard == [sentence for sentence, _ in SAID]
    source = walk if sound else file
    (recording,) = report["recordings"]
    assert recording["sha256"] == hashlib.sha256(source.read_bytes()).hexdigest()
    assert (recording["sample_rate"] > 0) is sound
    assert contents(walk.parent) == before


@pytest.mark.parametrize(
    ("said", "status"),
    [
        ("Nose cone is secure. Landing light is clean.", 0),
        ("Nose cone is secure. Landing light.", 3),
    ],
    ids=["all covered", "one only named"],
)
def test_strict_status(said: str, status: int, tmp_path: Path) -> None:
    shutil.copytree(vocabulary_root() / PACK, tmp_path / "small")
    (tmp_path / "small" / "sheet.yaml").write_text(TWO_LINES)
    (tmp_path / "walk.vtt").write_text(f"WEBVTT\n\n00:00:00.500 --> 00:00:03.000\n{said}\n")
    typed = ("check", "--transcript", "walk.vtt", "--pack", "./small", "--strict")
    run = spokenfor(*typed, folder=tmp_path)
    assert (run.status, run.stderr) == (status, "")
    assert visible(tmp_path / "inspection") == sorted([*FILES, "captions"])


@pytest.fixture(scope="module")
def silent(tmp_path_factory: pytest.TempPathFactory) -> Checked:
    """Five seconds with a microphone that was not on."""
    folder = tmp_path_factory.mktemp("silent")
    sound = write_wav(folder / "walk.wav", np.zeros(16_000 * 5))
    run = spokenfor("check", sound, "--out", folder / "out", folder=folder)
    return Checked(run, [sound], folder / "out")


def test_a_silent_recording_covers_nothing(silent: Checked) -> None:
    assert (silent.run.status, silent.run.stderr) == (0, "")
    assert set(statuses(silent.report).values()) == {"not_mentioned"}
    assert silent.report["recordings"][0]["quality"]["speech_seconds"] == 0
    assert silent.report["findings"] == silent.report["statements"] == []


def test_the_terminal_says_that_nobody_was_heard_on_a_silent_recording(silent: Checked) -> None:
    assert "no speech" in silent.run.stdout.lower()


def test_noise_alone_is_unheard_never_unmentioned(tmp_path: Path) -> None:
    noise = np.random.default_rng(3).standard_normal(16_000 * 6) * 3000
    write_wav(tmp_path / "walk.wav", np.clip(noise, -32768, 32767))
    run = spokenfor("check", "walk.wav", "--out", "out", folder=tmp_path)
    assert (run.status, run.stderr) == (0, "")
    report = report_of(tmp_path / "out")
    assert set(statuses(report).values()) == {"unheard"}
    assert {stretch["reason"] for stretch in report["unheard"]} == {"too_noisy"}
    assert report["coverage"]["required_covered"] == 0
    assert "Unheard: 0:06" in run.stdout


def test_a_cut_wav_is_done_and_its_lost_tail_is_unheard(tmp_path: Path) -> None:
    """The header promises twelve seconds, a copy broke off after seven."""
    whole = piece(tmp_path / "whole.wav", "two-parts-1", 4.9, 16.9)
    (tmp_path / "walk.wav").write_bytes(whole.read_bytes()[: 44 + 7 * 32_000])
    run = spokenfor("check", "walk.wav", "--out", "out", folder=tmp_path)
    assert (run.status, run.stderr) == (0, "")
    report = report_of(tmp_path / "out")
    (lost,) = (one for one in report["unheard"] if one["reason"] == "missing_sound")
    assert (lost["start"], lost["end"]) == (7.0, 12.0)
    found = statuses(report)
    zone = {item.id for item in load_pack(PACK).items if item.zone == "nose"}
    assert found["nose.nose-cone"] == "satisfactory"
    assert {found[item] for item in zone} <= {"satisfactory", "named", "unheard"}
    assert not {found[item] for item in found if item not in zone} & {"satisfactory", "defect"}


def test_a_cut_opus_is_done_and_its_lost_tail_is_unheard(tmp_path: Path) -> None:
    """RFC 3533: the last page of a whole Ogg stream carries the end-of-stream flag."""
    whole = (samples_folder() / "two-parts-1.opus").read_bytes()
    (tmp_path / "walk.opus").write_bytes(whole[:20_000])
    run = spokenfor("check", "walk.opus", "--out", "out", folder=tmp_path)
    assert (run.status, run.stderr) == (0, "")
    report = report_of(tmp_path / "out")
    assert "missing_sound" in {one["reason"] for one in report["unheard"]}


def test_a_side_that_was_said_is_never_turned_into_the_other(tmp_path: Path) -> None:
    """As heard on a bundled recording, where "right main gear" came out as "right main deer"."""
    said = (
        "Nose cone is secure.",
        "And the right main deer, tire, no cutters.",
        "Break is secure.",
        "The oleo is leaking.",
    )
    cues = [f"00:00:0{2 * n}.500 --> 00:00:0{2 * n + 1}.900\n{one}" for n, one in enumerate(said)]
    (tmp_path / "walk.vtt").write_text("\n\n".join(["WEBVTT", *cues]) + "\n", encoding="utf-8")
    run = spokenfor("check", "--transcript", "walk.vtt", "--out", "out", folder=tmp_path)
    assert run.status == 0, run.stderr
    found = statuses(report_of(tmp_path / "out"))
    left = {status for item, status in found.items() if item.startswith("left-main-gear.")}
    assert left <= {"not_mentioned", "unheard"}
