"""Each entry follows from the one before; a torn line is set aside; whatever was done to the log is named."""

from __future__ import annotations

import json
import os
import resource
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.record.walked import Walked, contents, sha256

from spokenfor.errors import InputError
from spokenfor.record.digests import canonical, sha256_hex
from spokenfor.record.entries import NOTHING, Action, Entry, entry_after, entry_of, faults, line_of
from spokenfor.record.folder import open_inspection
from spokenfor.record.log import read_log, split
from spokenfor.record.review import Decision, decide, decide_all

BY = "B. Engineer"


def note(folder: Path, text: str, by: str = BY) -> Entry:
    return decide(folder, Decision(Action.ADD_NOTE, "inspection", by, words=text))


def chain(count: int) -> list[bytes]:
    """Lines of a log of notes."""
    entries: list[Entry] = []
    for number in range(count):
        fields: dict[str, Any] = {
            "at": "2030-01-02T03:04:05Z",
            "by": BY,
            "action": Action.ADD_NOTE,
            "subject": "inspection",
            "words": f"note {number}",
        }
        entries.append(entry_after(entries[-1] if entries else None, **fields))
    return [line_of(entry)[:-1] for entry in entries]


def test_an_entry_says_who_when_why_and_holds_the_hash_of_the_one_before(folder: Path) -> None:
    why = "played it three times"
    decide(folder, Decision(Action.ACCEPT, "nose-cone", BY, why=why))
    first, second = (json.loads(line) for line in (folder / "log.jsonl").read_bytes().splitlines())
    assert first["previous"] == NOTHING
    assert first["about"]["digest"] == sha256(folder / "report.json")
    assert second["previous"] == first["sha256"]
    assert (second["by"], second["why"], second["at"][-1], second["number"]) == (BY, why, "Z", 2)
    without = {name: value for name, value in second.items() if name != "sha256"}
    assert second["sha256"] == sha256_hex(canonical(without))


def swap(lines: list[bytes]) -> None:
    lines[2], lines[3] = lines[3], lines[2]


def rewrite(lines: list[bytes]) -> None:
    """As somebody would who knows how the hashes are made, but not how to stop."""
    entry = entry_of(lines[2])
    fields = entry.model_dump(exclude={"number", "previous", "sha256"}) | {"words": "other"}
    lines[2] = line_of(entry_after(entry_of(lines[1]), **fields))[:-1]


@pytest.mark.parametrize(
    ("damage", "named"),
    [
        (lambda lines: lines.pop(2), ["entry 3 is missing"]),
        (lambda lines: lines.pop(0), ["entry 1 is missing"]),
        (swap, ["entry 3 is out of order, on line 4"]),
        (
            lambda lines: lines.insert(3, lines[1]),
            ["line 4 is a second entry 2: one of the two was added"],
        ),
        (rewrite, ["entry 4 does not follow from the line before: one was changed"]),
        (
            lambda lines: lines.__setitem__(2, lines[2].replace(b"note 2", b"note 9")),
            ["entry 3 was changed: its SHA-256 is another"],
        ),
        (
            lambda lines: lines.__setitem__(2, lines[2].replace(b'"by"', b' "by"')),
            ["entry 3 was rewritten: it is not in canonical form"],
        ),
        (lambda lines: lines.__setitem__(2, b"{"), ["entry 3 is not JSON"]),
        (lambda lines: lines.__setitem__(2, b"[" * 100_000), ["entry 3 is not JSON"]),
        (lambda lines: lines.__setitem__(2, b'{"number":3}'), ["entry 3 is not an entry"]),
        (lambda lines: lines.__setitem__(2, b"\xff"), ["entry 3 is not JSON"]),
    ],
)
def test_whatever_was_done_to_the_log_is_named(
    damage: Callable[[list[bytes]], object], named: list[str]
) -> None:
    lines = chain(6)
    assert faults(lines) == []
    damage(lines)
    assert faults(lines) == named


def test_a_broken_log_takes_no_decision(folder: Path) -> None:
    note(folder, "one")
    note(folder, "two")
    data = (folder / "log.jsonl").read_bytes()
    (folder / "log.jsonl").write_bytes(data.replace(b'"one"', b'"uno"'))
    before = contents(folder)
    with pytest.raises(InputError, match=r"log\.jsonl: entry 2 was changed"):
        note(folder, "three")
    assert contents(folder) == before


@pytest.mark.parametrize("cut", [1, 40, 200])
def test_a_torn_last_line_is_set_aside_and_the_log_says_so(folder: Path, cut: int) -> None:
    note(folder, "kept")
    whole = (folder / "log.jsonl").read_bytes()
    torn = note_line(folder)[:-cut] if cut > 1 else note_line(folder)[: len(note_line(folder)) - 2]
    (folder / "log.jsonl").write_bytes(whole + torn)
    log = read_log(folder)
    assert (len(log.entries), log.torn) == (2, torn)
    added = note(folder, "after the crash")
    entries = read_log(folder).entries
    assert [one.action for one in entries[2:]] == [Action.SET_ASIDE, Action.ADD_NOTE]
    assert (folder / entries[2].subject).read_bytes() == torn
    assert added.number == 4
    assert (folder / "log.jsonl").read_bytes().startswith(whole)


def note_line(folder: Path) -> bytes:
    last = read_log(folder).last
    fields: dict[str, Any] = {
        "at": "2030-01-02T03:04:05Z",
        "by": BY,
        "action": Action.ADD_NOTE,
        "subject": "inspection",
        "words": "the power went off while this was being written",
    }
    return line_of(entry_after(last, **fields))


def test_blocks_of_zeros_after_a_power_cut_are_set_aside(folder: Path) -> None:
    with (folder / "log.jsonl").open("ab") as file:
        file.write(bytes(300))
    note(folder, "after")
    assert [one.action for one in read_log(folder).entries] == [
        Action.CHECK,
        Action.SET_ASIDE,
        Action.ADD_NOTE,
    ]


def test_a_last_line_that_lacks_only_its_line_feed_is_kept(folder: Path) -> None:
    note(folder, "whole")
    path = folder / "log.jsonl"
    path.write_bytes(path.read_bytes()[:-1])
    assert note(folder, "next").number == 3
    assert faults(split(path.read_bytes())[0]) == []
    assert not (folder / "set-aside").exists()


def test_a_torn_line_set_aside_before_a_second_crash_is_still_told(folder: Path) -> None:
    """Killed after the line was kept and cut off, before the log could say so."""
    torn = b'{"number":2,"by":"B'
    (folder / "set-aside").mkdir()
    (folder / f"set-aside/log-{sha256_hex(torn)}.txt").write_bytes(torn)
    note(folder, "next")
    assert [one.action for one in read_log(folder).entries][1:] == [
        Action.SET_ASIDE,
        Action.ADD_NOTE,
    ]
    note(folder, "and on")
    assert len(read_log(folder).entries) == 4


def test_a_torn_line_survives_the_next_check(folder: Path, check: Walked) -> None:
    with (folder / "log.jsonl").open("ab") as file:
        file.write(b'{"about":')
    check.keep(folder)
    actions = [one.action for one in open_inspection(folder).log.entries]
    assert actions == [Action.CHECK, Action.SET_ASIDE, Action.CHECK]


def test_several_decisions_are_written_or_none(folder: Path) -> None:
    before = contents(folder)
    with pytest.raises(InputError, match="no item, finding or statement 'nose-con'"):
        decide_all(
            folder,
            [Decision(Action.ACCEPT, one, BY) for one in ("nose-cone", "nose-con")],
        )
    assert contents(folder) == before


def test_a_disk_that_is_full_leaves_the_log_as_it_was(folder: Path) -> None:
    """RLIMIT_FSIZE (setrlimit(2)) stands for the full disk: the write stops in the middle of the line."""
    note(folder, "kept")
    before = (folder / "log.jsonl").read_bytes()
    child = os.fork()
    if child == 0:
        import signal

        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        size = len(before) + 100
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))
        try:
            note(folder, "lost" * 100)
        except InputError as error:
            os._exit(0 if "cannot be written to" in str(error) else 3)
        os._exit(4)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    assert (folder / "log.jsonl").read_bytes() == before
    assert note(folder, "the disk has room again").number == 3


@pytest.mark.parametrize("by", ["", "   ", "x" * 201, "A\x1b[2JB", "A. \u202eEngineer"])
def test_a_name_must_be_a_name(by: str, folder: Path) -> None:
    with pytest.raises(InputError, match="The name is empty, over 200 characters, or cannot"):
        note(folder, "text", by)


def test_text_that_is_not_unicode_is_refused(folder: Path) -> None:
    with pytest.raises(InputError):
        note(folder, "a \ud800 b")
    assert note(folder, "a b").number == 2
