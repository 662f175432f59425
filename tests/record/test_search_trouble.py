"""find where things are broken: one line for each, and the rest is found."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from pathlib import Path

import pytest
from tests.cli.command import PIPELINE, as_anybody, spokenfor
from tests.record.fleet import kept
from tests.record.walked import contents

from spokenfor.errors import InputError
from spokenfor.record import search_index
from spokenfor.record.search import Answer, find
from spokenfor.record.search_index import index_file


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    top = tmp_path_factory.mktemp("fleet") / "root"
    for number in range(4):
        kept(top, f"r{number}", "R-07", number, ("f2", "f3"))
    return top


@pytest.fixture
def root(built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return Path(shutil.copytree(built, tmp_path / "root"))


def paths(answer: Answer) -> list[str]:
    return [place.path for place, _ in answer.found]


ALL = ["r3", "r2", "r1", "r0"]


def cut_off(folder: Path) -> None:
    report = folder / "report.json"
    report.write_bytes(report.read_bytes()[:1000])


def no_transcript(folder: Path) -> None:
    (folder / "transcript.json").unlink()


def log_changed(folder: Path) -> None:
    log = folder / "log.jsonl"
    log.write_bytes(log.read_bytes().replace(b"check", b"chuck"))


def deep_json(folder: Path) -> None:
    (folder / "settings.json").write_text("[" * 100_000)


def report_is_a_pipe(folder: Path) -> None:
    (folder / "report.json").unlink()
    os.mkfifo(folder / "report.json")


def report_is_a_folder(folder: Path) -> None:
    (folder / "report.json").unlink()
    (folder / "report.json").mkdir()


@pytest.mark.parametrize(
    "spoil",
    [cut_off, no_transcript, log_changed, deep_json, report_is_a_pipe, report_is_a_folder],
)
@pytest.mark.parametrize("known", [True, False], ids=["known before", "new"])
def test_a_broken_folder_among_good_ones(root: Path, spoil, known: bool) -> None:  # type: ignore[no-untyped-def]
    if known:
        find(root, ["weeping"])
    spoil(root / "r2")
    for _ in range(2):
        answer = find(root, ["weeping"])
        assert paths(answer) == ["r3", "r1", "r0"]
        (note,) = answer.notes
        assert note.startswith("'r2' is not searched: ") and "\n" not in note
    shutil.rmtree(root / "r2")
    shutil.copytree(root / "r1", root / "r2")
    assert find(root, ["weeping"]).notes == []


def test_the_command_says_it_in_one_line(root: Path, tmp_path: Path) -> None:
    cut_off(root / "r2")
    run = spokenfor("find", root, "weeping", folder=tmp_path)
    assert run.status == 0
    assert run.stderr.count("\n") == 1 and run.stderr.startswith("spokenfor: 'r2' is not searched")
    assert "3 places in 3 inspections" in run.stdout


@pytest.mark.parametrize(
    "damage",
    [
        lambda data: b"not an index at all",
        lambda data: b"",
        lambda data: data[: len(data) // 2],
        lambda data: data[:4096] + b"\xff" * (len(data) - 4096),
        lambda data: data[:100] + bytes(len(data) - 100),
    ],
    ids=["text", "empty", "half", "overwritten", "zeroed"],
)
def test_a_damaged_index_is_made_anew(root: Path, damage) -> None:  # type: ignore[no-untyped-def]
    find(root, ["weeping"])
    file = index_file(root)
    file.write_bytes(damage(file.read_bytes()))
    for name in ("-wal", "-shm"):
        file.with_name(file.name + name).unlink(missing_ok=True)
    answer = find(root, ["weeping"])
    assert (paths(answer), answer.notes) == (ALL, [])


def test_an_index_of_another_form_is_made_anew(root: Path) -> None:
    find(root, ["weeping"])
    with sqlite3.connect(index_file(root)) as database:
        database.execute("PRAGMA user_version = 99")
        database.execute("DROP TABLE lines")
    database.close()
    assert paths(find(root, ["weeping"])) == ALL


def test_rebuild_and_delete(root: Path) -> None:
    find(root, ["weeping"])
    with sqlite3.connect(index_file(root)) as database:
        database.execute("DELETE FROM said")
    database.close()
    assert paths(find(root, ["weeping"])) == []
    assert paths(find(root, ["weeping"], rebuild=True)) == ALL
    shutil.rmtree(index_file(root).parent)
    assert paths(find(root, ["weeping"])) == ALL


def test_nothing_is_written_below_root(root: Path, tmp_path: Path) -> None:
    before = contents(root)
    for path in [root, *root.rglob("*")]:
        path.chmod(0o555 if path.is_dir() else 0o444)
    try:
        run = spokenfor("find", root, "weeping", folder=tmp_path, before=as_anybody())
        assert (run.status, run.stderr) == (0, "")
        assert "4 places in 4 inspections" in run.stdout
    finally:
        for path in [root, *root.rglob("*")]:
            path.chmod(0o755 if path.is_dir() else 0o644)
    assert contents(root) == before


def test_where_no_index_can_be_kept(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    answer = find(root, ["weeping"])
    assert paths(answer) == ALL
    (note,) = answer.notes
    assert note.startswith("the index could not be kept")


def test_links_are_not_followed(root: Path, tmp_path: Path) -> None:
    outside = kept(tmp_path / "outside", "r9", "R-09", 3)
    (root / "linked").symlink_to(outside, target_is_directory=True)
    (root / "loop").symlink_to(root, target_is_directory=True)
    (root / "dangling").symlink_to(tmp_path / "nowhere")
    answer = find(root, ["weeping"])
    assert (paths(answer), answer.notes) == (ALL, [])
    report = root / "r1" / "report.json"
    report.unlink()
    report.symlink_to(outside / "report.json")
    answer = find(root, ["weeping"])
    assert paths(answer) == ["r3", "r2", "r0"]
    assert answer.notes == ["'r1' is not searched: report.json is a link, which is not followed"]


def test_names_that_are_no_unicode(root: Path) -> None:
    (root / "r3").rename(os.fsdecode(os.fsencode(root) + b"/r\xff\n3"))
    assert paths(find(root, ["weeping"])) == ["r\ufffd\ufffd3", "r2", "r1", "r0"]


def test_unicode_in_words_and_query(root: Path, tmp_path: Path) -> None:
    kept(root, "\u00fcber/\u4e2d\u6587", "\u00d6-\u0416 1", 9)
    for typed in ("\u00d6-\u0416", "o-\u0436", "O\u0308-\u0416"):
        assert paths(find(root, [typed])) == ["\u00fcber/\u4e2d\u6587"]


def test_two_processes_at_once(root: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "spokenfor", "find", str(root), "weeping"]
    environment = {**os.environ, "PYTHONPATH": str(PIPELINE)}
    running = [
        subprocess.Popen(
            command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )
        for _ in range(4)
    ]
    answers = [one.communicate(timeout=120) for one in running]
    assert [one.returncode for one in running] == [0] * 4
    assert {err for _, err in answers} == {""}
    assert len({out for out, _ in answers}) == 1
    assert "4 places in 4 inspections" in answers[0][0]
    with sqlite3.connect(index_file(root)) as database:
        assert database.execute("SELECT count(*) FROM inspections").fetchone() == (4,)
    database.close()


def _held(file: Path) -> sqlite3.Connection:
    """Another that has just made the file and not let go."""
    file.parent.mkdir(parents=True, exist_ok=True)
    other = sqlite3.connect(file, isolation_level=None, check_same_thread=False)
    other.execute("BEGIN IMMEDIATE")
    return other


def test_waits_while_another_makes_the_file(root: Path) -> None:
    other = _held(index_file(root))
    letting_go = threading.Timer(0.4, other.close)
    letting_go.start()
    answer = find(root, ["weeping"])
    letting_go.join()
    assert (paths(answer), answer.notes) == (ALL, [])


def test_another_that_does_not_let_go(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search_index, "WAIT", 0.2)
    with closing(_held(index_file(root))), pytest.raises(InputError, match="Another process"):
        find(root, ["weeping"])


def test_no_folder(root: Path) -> None:
    for wrong in (root / "nowhere", root / "r1" / "report.json"):
        with pytest.raises(InputError, match="is no folder"):
            find(wrong, ["weeping"])
