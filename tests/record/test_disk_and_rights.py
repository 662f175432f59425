"""A full disk and a folder that may not be written to: one clear line, nothing lost, nothing left behind."""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from tests.cli.command import as_anybody
from tests.record.walked import BY, Walked, contents, walked, write_sound

from spokenfor.errors import InputError
from spokenfor.record.entries import Action
from spokenfor.record.folder import open_inspection
from spokenfor.record.keep import keep
from spokenfor.record.review import Decision, decide
from spokenfor.record.review_lines import review_lines
from spokenfor.record.seal import Seal, seal

TOP = Path(__file__).resolve().parents[2]


def with_little_room(work: Callable[[], object], size: int) -> str:
    """Do the work in a child whose files may not grow over `size` bytes (RLIMIT_FSIZE, setrlimit(2)), as on a
    disk with a quota; return the one line that it ended with."""
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))
        try:
            work()
            os.write(write, b"no error")
        except InputError as error:
            os.write(write, str(error).encode())
        except BaseException as error:
            os.write(write, repr(error).encode())
        os._exit(0)
    os.close(write)
    os.waitpid(child, 0)
    with os.fdopen(read) as said:
        return said.read()


def without_rights(script: str, *arguments: Path) -> str:
    """Run a script as somebody who is bound by the rights of files; return the one line it ended with."""
    done = subprocess.run(
        [*as_anybody(), sys.executable, "-c", SCRIPT + script, *map(str, arguments)],
        cwd=TOP,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


SCRIPT = """
import sys
from pathlib import Path
from tests.record.walked import BY, walked
from spokenfor.errors import InputError
from spokenfor.record.entries import Action
from spokenfor.record.review import Decision, decide
from spokenfor.record.review_lines import review_lines
from spokenfor.record.seal import Seal, seal
folder = Path(sys.argv[1])
def tried(work):
    try:
        work()
        print("no error")
    except InputError as error:
        print(error)
"""


@pytest.fixture
def read_only(folder: Path) -> Iterator[Path]:
    (folder / "log.jsonl").chmod(0o444)
    (folder / ".lock").unlink(missing_ok=True)
    folder.chmod(0o555)
    yield folder
    folder.chmod(0o755)


def assert_one_line(said: str, what: str, why: str) -> None:
    assert said.startswith(what), said
    assert why in said
    assert said.strip().count("\n") == 0


@pytest.mark.parametrize("size", [1000, 20_000])
def test_no_room_for_a_first_check(size: int, check: Walked, tmp_path: Path) -> None:
    said = with_little_room(lambda: check.keep(tmp_path / "r07"), size)
    assert_one_line(said, "The report cannot be written to", "(file too large), what stood there")
    assert str(tmp_path / "r07") in said and ".being" not in said
    assert not (tmp_path / "r07").exists()


def test_no_room_for_a_second_check(folder: Path, check: Walked, tmp_path: Path) -> None:
    before = contents(folder)
    large = write_sound(tmp_path / "large.wav", size=200_000)
    check.asked.sounds.append(large)
    said = with_little_room(lambda: check.keep(folder), 100_000)
    assert_one_line(said, "The report cannot be written to", "file too large")
    assert contents(folder) == before
    assert decide(folder, Decision(Action.ACCEPT, "nose-cone", BY)).number == 2


@pytest.mark.parametrize("size", [500, 20_000])
def test_no_room_for_the_bag(size: int, folder: Path) -> None:
    before = contents(folder.parent)
    said = with_little_room(lambda: seal(folder, Seal(BY)), size)
    assert_one_line(said, "The sealed bag cannot be written to", "file too large")
    assert contents(folder.parent) == before
    assert open_inspection(folder).log.entries[-1].action is Action.CHECK
    assert sorted(path.name for path in folder.parent.iterdir()) == ["r07"]


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 256 KiB, mounted for this test."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(disk)]
    if subprocess.run(mount, capture_output=True, check=False).returncode != 0:
        pytest.skip("no right to mount a small disk; the limit on a file's size stands in for it")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_a_disk_that_is_really_full(small_disk: Path, tmp_path: Path) -> None:
    check = walked(tmp_path / "phone")
    with pytest.raises(InputError, match="no space left on device") as error:
        check.keep(small_disk / "r07")
    assert error.value.mend == "Free some space, or give another folder"
    assert list(small_disk.iterdir()) == []
    check.keep(tmp_path / "r07")
    with pytest.raises(InputError, match="no space left on device"):
        seal(tmp_path / "r07", Seal(BY), small_disk / "bag")
    assert list(small_disk.iterdir()) == []
    assert open_inspection(tmp_path / "r07").log.entries[-1].action is Action.CHECK


def test_a_folder_that_may_not_be_written_to(read_only: Path, tmp_path: Path) -> None:
    before = contents(read_only)
    says = f"cannot be written to '{read_only}' (permission denied"
    said = without_rights(
        "tried(lambda: walked(Path(sys.argv[2])).keep(folder))", read_only, tmp_path / "phone"
    )
    assert_one_line(said, "The report", says)
    said = without_rights(
        "tried(lambda: decide(folder, Decision(Action.ACCEPT, 'nose-cone', BY)))", read_only
    )
    assert_one_line(said, "The decision", says)
    said = without_rights(
        "tried(lambda: seal(folder, Seal(BY), Path(sys.argv[2])))", read_only, tmp_path / "b"
    )
    assert "permission denied" in said and said.count("\n") == 1
    assert contents(read_only) == before


def test_it_can_still_be_read(read_only: Path) -> None:
    said = without_rights("print(review_lines(folder)[0])", read_only)
    assert said == "To be decided: nothing\n"


def test_a_recording_that_may_not_be_read(check: Walked, tmp_path: Path) -> None:
    check.asked.sounds[0].unlink()
    with pytest.raises(InputError, match=r"left side\.wav cannot be read: no such file"):
        keep(tmp_path / "r07", check.asked, check.result, check.transcript, embed=False)
    assert not (tmp_path / "r07").exists()


def test_review_lines_say_what_is_open(check: Walked, tmp_path: Path) -> None:
    check.result.items[0].listen = True
    check.keep(tmp_path / "r07")
    decide(tmp_path / "r07", Decision(Action.ADD_NOTE, "inspection", BY, words="rain"))
    lines = review_lines(tmp_path / "r07")
    assert lines[0] == "To be decided: 1"
    assert lines[1].startswith("  nose-cone  Nose cone: listen; 'Starting at the nose. Nose cone")
    assert lines[1].endswith("at rec 1, 0:01")
    assert lines[-1].endswith("A. Engineer: add_note inspection -> rain")
