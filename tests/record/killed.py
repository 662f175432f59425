"""Kill -9 in the middle of keeping, reviewing, handing over and sealing, and what must be true afterwards.

A child process works and says after each step that it is done; it is killed at a random moment, or by itself at
its n-th call on the file system (audit events of Python, sys.addaudithook).
"""

from __future__ import annotations

import os
import random
import select
import shutil
import signal
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.record.walked import BY, Walked, walked, with_more, write_sound

from spokenfor.models import Verdict
from spokenfor.record.derived import write_derived
from spokenfor.record.durable import ASIDE, COMMITTED
from spokenfor.record.entries import Action
from spokenfor.record.folder import extended, is_inspection, open_inspection
from spokenfor.record.keep import keep
from spokenfor.record.review import Decision, decide
from spokenfor.record.seal import Seal, seal
from spokenfor.record.verify import verify

_EVENTS = ("open", "os.", "shutil.", "fcntl.")
Say = Callable[[str], None]


@dataclass(frozen=True)
class Scene:
    """A check made beforehand, and the folder to work in."""

    check: Walked
    later: Path
    top: Path

    @property
    def folder(self) -> Path:
        return self.top / "r07"


def scene(top: Path) -> Scene:
    later = write_sound(top / "phone/later.wav", 9)
    return Scene(walked(top / "phone"), later, top)


def cleared(one: Scene) -> Scene:
    """The scene before any work was done; the recordings were only read."""
    for path in one.top.iterdir():
        if path.name != "phone":
            shutil.rmtree(path)
    return one


def work(one: Scene, say: Say) -> None:
    """An inspection from check to seal, a step at a time."""
    one.check.keep(one.folder)
    say("checked")
    for number in range(3):
        decide(one.folder, Decision(Action.ADD_NOTE, "inspection", BY, words=f"note {number}"))
        say(f"note {number}")
    asked = extended(one.folder, [one.later])
    more = with_more(one.check, one.later, "Tail skid good.", "tail-skid", Verdict.SATISFACTORY)
    keep(one.folder, asked, more.result, more.transcript, embed=False)
    say("added")
    decide(one.folder, Decision(Action.ACCEPT, "nose-cone", BY))
    say("accepted")
    write_derived(one.folder)
    seal(one.folder, Seal(BY), one.top / "bag")
    say("sealed")


STEPS = ("checked", "note 0", "note 1", "note 2", "added", "accepted", "sealed")


def killed(one: Scene, after: float | int, events: tuple[str, ...] = _EVENTS) -> list[str]:
    """Run the work in a child and kill it after so many seconds (float) or calls (int) of the kinds named;
    return the steps that it said were done. All of them: it came to its end first."""
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(read)
            if isinstance(after, int):
                _kill_at_call(after, events)
            work(one, lambda step: _say(write, step))
            os._exit(0)
        except BaseException as error:
            _say(write, f"failed: {error!r}")
            os._exit(1)
    os.close(write)
    if isinstance(after, float):
        time.sleep(after)
        os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return "".join(_read_all(read)).splitlines()


def _kill_at_call(number: int, events: tuple[str, ...]) -> None:
    left = [number]

    def count(event: str, arguments: object) -> None:
        if event.startswith(events):
            left[0] -= 1
            if left[0] == 0:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(count)


def _say(write: int, step: str) -> None:
    os.write(write, f"{step}\n".encode())


def _read_all(read: int) -> Iterator[str]:
    while select.select([read], [], [], 0)[0] and (data := os.read(read, 65536)):
        yield data.decode()
    os.close(read)


def assert_nothing_lost(one: Scene, done: list[str]) -> None:
    """The folder opens; what was said to be done is there; the originals are untouched; the work goes on."""
    assert not any(step.startswith("failed") for step in done), done
    sounds = [path.read_bytes() for path in (*one.check.asked.sounds, one.later)]
    assert sounds[0].startswith(b"RIFF") and sounds[2].startswith(b"RIFF")
    if is_inspection(one.folder):
        assert_holds(one, done, sounds)
    else:
        assert done == []
    go_on(one)


def assert_holds(one: Scene, done: list[str], sounds: list[bytes]) -> None:
    inspection = open_inspection(one.folder)
    assert not (one.folder / ASIDE).exists()
    assert not (one.folder / COMMITTED).exists()
    kept = [one.folder / row.path for row in inspection.settings.recordings]
    assert [path.read_bytes() for path in kept] == sounds[: len(kept)]
    assert len(inspection.result.recordings) == len(kept) >= (3 if "added" in done else 2)
    entries = inspection.log.entries
    notes = {entry.words for entry in entries if entry.action is Action.ADD_NOTE}
    assert notes >= {step for step in done if step.startswith("note")}
    checks = [entry for entry in entries if entry.action is Action.CHECK]
    assert len(checks) == inspection.settings.checks
    assert "accepted" not in done or any(entry.action is Action.ACCEPT for entry in entries)
    if "sealed" in done:
        assert (one.top / "bag").is_dir()
    if (one.top / "bag").exists():
        assert verify(one.top / "bag").faults == []


def go_on(one: Scene) -> None:
    """The next run: check (if need be), decide, seal."""
    if not is_inspection(one.folder):
        one.check.keep(one.folder)
    entries = open_inspection(one.folder).log.entries
    if entries[-1].action is not Action.SEAL:
        decide(one.folder, Decision(Action.ADD_NOTE, "inspection", BY, words="after the crash"))
    bag = seal(one.folder, Seal(BY))
    assert verify(bag).faults == []
    shutil.rmtree(bag)


def random_moments(one: Scene, count: int, seed: int) -> list[list[str]]:
    """Kill so many times at random moments before the work is over; return what was done by then."""
    for _ in range(2):  # the first run also imports
        begin = time.monotonic()
        work(cleared(one), lambda step: None)
        length = time.monotonic() - begin
    chance = random.Random(seed)
    reached: list[list[str]] = []
    while len(reached) < count:
        done = killed(cleared(one), chance.uniform(0.0, length))
        assert_nothing_lost(one, done)
        if len(done) < len(STEPS):
            reached.append(done)
    return reached


def every_so_many_calls(
    one: Scene, stride: int, events: tuple[str, ...] = _EVENTS
) -> list[list[str]]:
    """Kill at call 1, 1 + stride, ... until the work comes to its end first."""
    reached: list[list[str]] = []
    while not reached or len(reached[-1]) < len(STEPS):
        done = killed(cleared(one), 1 + stride * len(reached), events)
        assert_nothing_lost(one, done)
        reached.append(done)
    return reached
