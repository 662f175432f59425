"""The five files reach the folder whole or not at all."""

import os
import resource
import subprocess
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote

import pytest

from spokenfor.errors import InputError
from spokenfor.models import Result, Transcript
from spokenfor.reporting.write import write_reports

NAMES = {"report.json", "report.html", "items.csv", "findings.csv", "transcript.vtt"}


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def one_line(error: pytest.ExceptionInfo[InputError]) -> str:
    assert "\n" not in str(error.value)
    return str(error.value)


def test_the_five_files_are_written_and_the_page_is_returned(
    result: Result, transcript: Transcript, sounds: list[Path], tmp_path: Path
):
    page = write_reports(result, transcript, sounds, tmp_path / "new" / "folder")
    assert page == tmp_path / "new" / "folder" / "report.html"
    assert set(contents(page.parent)) == NAMES


def test_two_runs_give_the_same_bytes(
    result: Result, transcript: Transcript, sounds: list[Path], tmp_path: Path
):
    write_reports(result, transcript, sounds, tmp_path / "a")
    write_reports(result.model_copy(deep=True), transcript, sounds, tmp_path / "b")
    assert contents(tmp_path / "a") == contents(tmp_path / "b")


def test_small_sound_is_embedded_and_large_or_unwanted_sound_is_linked(
    result: Result, transcript: Transcript, sounds: list[Path], tmp_path: Path
):
    def embedded(paths: list[Path], embed: bool | None = None) -> list[bool]:
        page = write_reports(result, transcript, paths, tmp_path / "out", embed=embed)
        sources = page.read_text().split(' src="')[1:]
        return [one.startswith("data:audio/wav;base64,UklGR") for one in sources]

    large = [tmp_path / "large.wav", tmp_path / "second.wav"]
    large[0].write_bytes(b"RIFF" + bytes(3_000_000))
    large[1].write_bytes(b"RIFF0")
    assert embedded(sounds) == [True, True]
    assert embedded(sounds, embed=False) == [False, False]
    assert embedded(large) == [False, False]
    assert embedded(large, embed=True) == [True, True]


def test_linked_sound_leads_to_the_very_file(
    result: Result, transcript: Transcript, tmp_path: Path
):
    names = ["a:b #1 50%.wav", os.fsdecode(b"latin-1 \xe9 & 'quote'.wav")]
    for name in names:
        (tmp_path / name).write_bytes(b"RIFF")
    page = write_reports(
        result, transcript, [tmp_path / name for name in names], tmp_path / "out", embed=False
    )
    links = [part.split('"')[0] for part in page.read_text().split(' src="')[1:]]
    assert [
        (page.parent / unquote(link, errors="surrogateescape")).resolve() for link in links
    ] == [(tmp_path / name).resolve() for name in names]
    assert not any(set(link) & set(":#?&'") for link in links)


def test_with_fewer_files_than_recordings_they_are_matched_by_name(
    result: Result, transcript: Transcript, sounds: list[Path], tmp_path: Path
):
    page = write_reports(result, transcript, sounds[1:], tmp_path / "out", embed=False)
    assert page.read_text().count("<audio") == 1
    assert '<audio id="sound-1"' in page.read_text()


@pytest.fixture
def short_files() -> Iterator[None]:
    """No file may grow beyond 20 kB: a write breaks off half way, as on a full disk."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, hard))
    yield
    resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_a_write_that_breaks_off_leaves_nothing(
    result: Result, transcript: Transcript, tmp_path: Path, short_files: None
):
    with pytest.raises(InputError) as error:
        write_reports(result, transcript, [], tmp_path / "out")
    assert "cannot be written" in one_line(error)
    assert list(tmp_path.iterdir()) == []


def test_a_write_that_breaks_off_leaves_the_older_report_whole(
    result: Result, transcript: Transcript, tmp_path: Path, request: pytest.FixtureRequest
):
    write_reports(result, transcript, [], tmp_path)
    older = contents(tmp_path)
    result.inspection.asset = "another"
    request.getfixturevalue("short_files")
    with pytest.raises(InputError):
        write_reports(result, transcript, [], tmp_path)
    assert contents(tmp_path) == older


@pytest.fixture
def mounted(tmp_path: Path) -> Iterator[Path]:
    """A disk of 64 kB. Mounting one takes a privilege that not every machine gives."""
    disk = tmp_path / "disk"
    disk.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)], capture_output=True
    )
    if made.returncode != 0:
        if os.environ.get("CI"):
            pytest.fail(f"cannot mount a small disk: {made.stderr.decode()}")
        pytest.skip("cannot mount a small disk here: not privileged")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_a_full_disk_is_said_in_one_line_and_left_clean(
    result: Result, transcript: Transcript, mounted: Path
):
    with pytest.raises(InputError) as error:
        write_reports(result, transcript, [], mounted)
    assert "no space left on device" in one_line(error)
    assert "Free some space" in error.value.mend
    assert list(mounted.iterdir()) == []


def test_a_read_only_disk_is_said_in_one_line(
    result: Result, transcript: Transcript, mounted: Path
):
    subprocess.run(["mount", "-o", "remount,ro", str(mounted)], check=True)
    with pytest.raises(InputError) as error:
        write_reports(result, transcript, [], mounted / "out")
    assert "read-only" in one_line(error)


def test_a_file_in_place_of_the_folder(result: Result, transcript: Transcript, tmp_path: Path):
    (tmp_path / "out").write_text("mine")
    with pytest.raises(InputError) as error:
        write_reports(result, transcript, [], tmp_path / "out")
    assert "cannot be written" in one_line(error)
    assert (tmp_path / "out").read_text() == "mine"


def test_a_folder_in_place_of_a_file_changes_nothing_else(
    result: Result, transcript: Transcript, tmp_path: Path
):
    write_reports(result, transcript, [], tmp_path)
    (tmp_path / "items.csv").unlink()
    (tmp_path / "items.csv").mkdir()
    older = (tmp_path / "report.json").read_bytes()
    result.inspection.asset = "another"
    with pytest.raises(InputError) as error:
        write_reports(result, transcript, [], tmp_path)
    assert "Move that folder away" in one_line(error)
    assert (tmp_path / "report.json").read_bytes() == older
    assert {path.name for path in tmp_path.iterdir()} == NAMES


def test_sound_that_is_gone_is_said_in_one_line(
    result: Result, transcript: Transcript, tmp_path: Path
):
    gone = [tmp_path / "gone\n1.wav", tmp_path / "gone 2.wav"]
    with pytest.raises(InputError) as error:
        write_reports(result, transcript, gone, tmp_path / "out", embed=True)
    assert "cannot be read" in one_line(error)
    assert not (tmp_path / "out").exists()
