"""Two people at one inspection: both decisions are kept, in one chain, or one of the two is told so."""

from __future__ import annotations

import multiprocessing
import os
import sys
import time
from multiprocessing.synchronize import Barrier
from pathlib import Path

import pytest
from tests.record.walked import Walked, contents

from spokenfor.errors import InputError
from spokenfor.record.entries import Action
from spokenfor.record.folder import open_inspection
from spokenfor.record.lock import locked
from spokenfor.record.log import read_log
from spokenfor.record.review import Decision, decide
from spokenfor.record.seal import Seal, seal
from spokenfor.record.verify import verify

FORK = multiprocessing.get_context("fork")
EACH = 12


def reviewer(folder: Path, by: str, start: Barrier) -> None:
    start.wait()
    for number in range(EACH):
        note = Decision(Action.ADD_NOTE, "inspection", by, words=f"{by} {number}")
        decide(folder, note)


def test_both_decisions_are_kept_in_one_chain(folder: Path) -> None:
    names = ["A. Engineer", "B. Engineer", "C. Engineer"]
    start = FORK.Barrier(len(names))
    people = [FORK.Process(target=reviewer, args=(folder, name, start)) for name in names]
    for one in people:
        one.start()
    for one in people:
        one.join(60)
    assert [one.exitcode for one in people] == [0, 0, 0]
    notes = [one.words for one in read_log(folder).entries if one.action is Action.ADD_NOTE]
    assert sorted(notes) == sorted(f"{name} {number}" for name in names for number in range(EACH))
    for name in names:
        own = [one for one in notes if one and one.startswith(name)]
        assert own == [f"{name} {number}" for number in range(EACH)]


def who_overlooks(folder: Path, by: str, seen: int, start: Barrier, told: Path) -> None:
    start.wait()
    try:
        decide(folder, Decision(Action.ACCEPT, "nose-cone", by), seen=seen)
    except InputError as error:
        told.write_text(str(error))


def test_of_two_decisions_on_what_both_saw_one_is_told(folder: Path, tmp_path: Path) -> None:
    seen = open_inspection(folder).log.entries[-1].number
    start = FORK.Barrier(2)
    told = [tmp_path / "a", tmp_path / "b"]
    people = [
        FORK.Process(target=who_overlooks, args=(folder, by, seen, start, path))
        for by, path in zip(("A. Engineer", "B. Engineer"), told, strict=True)
    ]
    for one in people:
        one.start()
    for one in people:
        one.join(60)
    said = [path.read_text() for path in told if path.exists()]
    assert len(said) == 1
    assert "has decided on 'nose-cone' meanwhile (accept)" in said[0]
    assert len(read_log(folder).entries) == 2


def checks_again(check: Walked, folder: Path, start: Barrier) -> None:
    start.wait()
    check.keep(folder)


def test_a_decision_made_while_the_check_is_kept_is_not_lost(folder: Path, check: Walked) -> None:
    start = FORK.Barrier(2)
    people = [
        FORK.Process(target=reviewer, args=(folder, "B. Engineer", start)),
        FORK.Process(target=checks_again, args=(check, folder, start)),
    ]
    for one in people:
        one.start()
    for one in people:
        one.join(60)
    assert [one.exitcode for one in people] == [0, 0]
    actions = [one.action for one in open_inspection(folder).log.entries]
    assert actions.count(Action.ADD_NOTE) == EACH
    assert actions.count(Action.CHECK) == 2


def test_decisions_while_it_is_sealed_are_in_the_bag_or_refused(folder: Path) -> None:
    start = FORK.Barrier(2)
    person = FORK.Process(target=reviewer, args=(folder, "B. Engineer", start))
    person.start()
    start.wait()
    time.sleep(0.05)
    bag = seal(folder, Seal("A. Engineer"))
    person.join(60)
    assert verify(bag).faults == []
    assert (bag / "data/log.jsonl").read_bytes() == (folder / "log.jsonl").read_bytes()
    assert read_log(folder).entries[-1].action is Action.SEAL


def holds(folder: Path, ready: Barrier) -> None:
    with locked(folder):
        ready.wait()
        time.sleep(30)


def test_who_waits_too_long_is_told_and_a_dead_holder_holds_nothing(folder: Path) -> None:
    ready = FORK.Barrier(2)
    holder = FORK.Process(target=holds, args=(folder, ready))
    holder.start()
    ready.wait()
    with pytest.raises(InputError, match="Another process is writing to"), locked(folder, 0.2):
        pass
    holder.kill()
    holder.join()
    with locked(folder, 1.0):
        pass


def test_a_lock_file_taken_away_by_its_holder_locks_nobody_out(tmp_path: Path) -> None:
    before = contents(tmp_path)
    with pytest.raises(RuntimeError), locked(tmp_path):
        raise RuntimeError
    assert contents(tmp_path) == before
    assert list(tmp_path.iterdir()) == []
    with locked(tmp_path), pytest.raises(InputError), locked(tmp_path, 0.1):
        pass


def test_a_lock_file_taken_away_while_somebody_takes_it(tmp_path: Path) -> None:
    """The holder before fails and takes its new lock file away, just as the next one asks for it: a lock on the
    file that is gone would keep nobody out."""
    child = os.fork()
    if child == 0:
        path = tmp_path / ".lock"
        asked = []

        def take_away(event: str, arguments: object) -> None:
            if event == "fcntl.flock" and not asked:
                asked.append(event)
                path.unlink()

        sys.addaudithook(take_away)
        with locked(tmp_path):
            os._exit(0 if asked and path.exists() else 1)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
