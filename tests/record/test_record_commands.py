"""review, seal, verify and key as a person types them: exit status, one line for an error, no traceback."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.at_terminal import typed
from tests.cli.command import Run, assert_one_line, spokenfor
from tests.record.walked import Walked

from spokenfor.record.folder import open_inspection

NAME = ("--by", "A. Engineer")


@pytest.fixture
def run(check: Walked, tmp_path: Path):
    check.result.items[0].listen = True
    check.result.findings[0].item = None
    check.keep(tmp_path / "r07")
    return lambda *arguments: spokenfor(*arguments, folder=tmp_path)


def lines(run: Run) -> list[str]:
    assert (run.status, run.stderr) == (0, ""), run
    return run.stdout.splitlines()


def test_from_review_to_a_verified_bag(run, tmp_path: Path) -> None:
    assert lines(run("review", "r07"))[0] == "To be decided: 2"
    assert_one_line(
        run("seal", "r07", *NAME), "2 points undecided: nose-cone (listen), f1 (unplaced)"
    )
    did = [
        run("review", "r07", "accept", "nose-cone", "tail-skid", *NAME),
        run(
            "review", "r07", "place-finding", "f1", "tail-skid", *NAME, "--why", "said at the tail"
        ),
        run("review", "r07", "change-status", "tail-skid", "defect", *NAME, "--why", "worn"),
        run("review", "r07", "correct-words", "nose-cone", "Nose cone, good.", *NAME),
        run("review", "r07", "correct-time", "nose-cone", "1.5", "5", *NAME),
        run("review", "r07", "add-note", "inspection", "rain", "--by", "B. Engineer"),
        run("review", "r07", "reopen", "tail-skid", *NAME, "--why", "two opinions"),
    ]
    assert [line for one in did for line in lines(one)] == [
        "Entry 2: accept nose-cone, A. Engineer",
        "Entry 3: accept tail-skid, A. Engineer",
        "Entry 4: place_finding f1, A. Engineer",
        "Entry 5: change_status tail-skid, A. Engineer",
        "Entry 6: correct_words nose-cone, A. Engineer",
        "Entry 7: correct_time nose-cone, A. Engineer",
        "Entry 8: add_note inspection, B. Engineer",
        "Entry 9: reopen tail-skid, A. Engineer",
    ]
    made = lines(run("key", "new", "mine"))
    digits = made[2].removeprefix("Its digits  ")
    sealed = lines(run("seal", "r07", *NAME, "--licence", "L-2207", "--key", "mine"))
    assert sealed[0] == f"Signed with key {digits}"
    assert "not a release to service" in sealed[1]
    assert sealed[2] == f"Sealed: {tmp_path / 'r07-sealed'}"
    found = lines(run("verify", "r07-sealed", "--key", "mine.pub"))
    assert all(line.startswith("ok    ") for line in found)
    assert digits in found[1] and "A. Engineer, licence L-2207" in found[1]
    (tmp_path / "r07-sealed/data/report.html").write_text("another")
    changed = run("verify", "r07-sealed")
    assert (changed.status, changed.stderr) == (1, "")
    assert "WRONG data/report.html was changed" in changed.stdout


def test_a_reason_in_place_of_decisions(run) -> None:
    assert lines(run("seal", "r07", *NAME, "--despite", "no time"))[0].startswith("Not signed")
    assert lines(run("verify", "r07-sealed"))[-1].startswith("note  sealed by A. Engineer")
    assert_one_line(run("review", "r07", "accept", "nose-cone", *NAME), "was sealed by A. Engineer")
    assert lines(run("review", "r07", "reopen", "inspection", *NAME, "--why", "more found"))


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("review", "nowhere"), "'nowhere' holds no inspection"),
        (("review", "r07", "accept", "keel", *NAME), "no item, finding or statement 'keel'"),
        (("review", "r07", "accept", "nose-cone"), "Missing parameter: by"),
        (
            ("review", "r07", "change-status", "nose-cone", "defect", *NAME),
            "Missing parameter: why",
        ),
        (("review", "r07", "approve", "nose-cone"), "No such command 'approve'"),
        (("seal", "nowhere", *NAME), "'nowhere' holds no inspection"),
        (("seal", "r07", *NAME, "--key", "absent"), "absent cannot be read: no such file"),
        (("verify", "nowhere"), "There is no 'nowhere'"),
        (("verify", "r07"), "'r07' is no sealed bag"),
        (("verify", "r07", "--key", "absent.pub"), "absent.pub cannot be read"),
        (("key", "new", "r07"), "'r07' exists already"),
        (("key", "new", "nowhere/mine"), "The key cannot be written to 'nowhere'"),
    ],
)
def test_one_line_for_what_cannot_be_used(arguments: tuple[str, ...], says: str, run) -> None:
    assert_one_line(run(*arguments), says)


def test_a_bag_does_not_move_the_cursor(run, tmp_path: Path) -> None:
    run("seal", "r07", *NAME, "--despite", "no time")
    info = tmp_path / "r07-sealed/bag-info.txt"
    info.write_bytes(info.read_bytes().replace(b"A. Engineer", b"A\x1b[2JB"))
    assert "\x1b" not in run("verify", "r07-sealed").stdout


def test_replay_on_the_command_line(captions_folder: Path, tmp_path: Path) -> None:
    sealed = spokenfor("seal", "heard", *NAME, "--despite", "captions", folder=tmp_path)
    assert sealed.status == 0, sealed.stderr
    done = spokenfor("verify", "heard-sealed", "--replay", folder=tmp_path)
    assert done.status == 0, done.stdout + done.stderr
    assert done.stdout.splitlines()[-1].startswith("ok    checked again: the same report")


def test_a_protected_key_asks_for_its_passphrase(run, tmp_path: Path) -> None:
    assert typed(tmp_path, ["key", "new", "mine", "--protect"], ["tail skid", "tail skid"]) == 0
    sealing = ["seal", "r07", *NAME, "--despite", "no time", "--key", "mine"]
    assert typed(tmp_path, sealing, ["tail boom"]) == 2
    assert typed(tmp_path, sealing, ["tail skid"]) == 0
    assert lines(run("verify", "r07-sealed", "--key", "mine.pub"))


def test_the_log_is_what_the_commands_say(run, tmp_path: Path) -> None:
    run("review", "r07", "add-note", "inspection", "  rain \n on the deck ", *NAME)
    entry = open_inspection(tmp_path / "r07").log.entries[-1]
    assert (entry.words, entry.by) == ("rain on the deck", "A. Engineer")
    assert lines(run("review", "r07"))[-1].endswith(
        "A. Engineer: add_note inspection -> rain on the deck"
    )
