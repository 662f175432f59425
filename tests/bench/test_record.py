"""The long runs of the record: 100 kills at random moments, kills all along the work, 1,000 flips, an hour of sound."""

from __future__ import annotations

import random
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.record.killed import STEPS, Scene, every_so_many_calls, random_moments, scene
from tests.record.sealed import faults_of, flip, seal_signed
from tests.record.walked import Walked, sha256, walked, write_sound

from spokenfor.errors import InputError
from spokenfor.record.keys import private_key
from spokenfor.record.seal import Seal, seal

MOMENTS, STRIDE, FLIPS = 100, 7, 1000
HOUR_OF_WAV = 3600 * 16_000 * 2
AT_MOST = 10.0
"""Seconds for sealing and verifying 60 minutes of sound without replay."""


@pytest.fixture(scope="module")
def ready() -> Iterator[Scene]:
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as top:
        yield scene(Path(top))


def table(title: str, reached: list[list[str]]) -> None:
    killed = [done for done in reached if len(done) < len(STEPS)]
    last = Counter(done[-1] if done else "nothing yet" for done in killed)
    print(f"\n{title}: {len(killed)} kills, by the last step done before")
    for step in ("nothing yet", *STEPS[:-1]):
        print(f"  {step:<12} {last[step]}")


def test_kills_at_random_moments(ready: Scene) -> None:
    table("random moments", random_moments(ready, MOMENTS, 2))


def test_kills_all_along_the_work(ready: Scene) -> None:
    table(f"every {STRIDE}th call", every_so_many_calls(ready, STRIDE))


def test_kills_between_any_two_renames(ready: Scene) -> None:
    table("every rename", every_so_many_calls(ready, 1, ("os.rename",)))


def test_flips(tmp_path: Path) -> None:
    """Half of them in a signed bag, half in one without a signature."""
    walked(tmp_path / "phone").keep(tmp_path / "r07")
    signed = seal_signed(tmp_path / "r07", tmp_path / "key")
    unsigned = seal(tmp_path / "r07", Seal("A. Engineer", "L-2207"))
    chance = random.Random(3)
    flipped: Counter[str] = Counter()
    missed = []
    for number in range(FLIPS):
        bag = (signed, unsigned)[number % 2]
        files = sorted(path for path in bag.rglob("*") if path.is_file())
        path = chance.choice(files)
        data = path.read_bytes()
        offset, bit = chance.randrange(len(data)), chance.randrange(8)
        flip(path, offset, bit)
        name = path.relative_to(bag).as_posix()
        try:
            named = any(name in fault for fault in faults_of(bag))
        except InputError as error:
            named = name in str(error)
        if not named:
            missed.append((name, offset, bit))
        path.write_bytes(data)
        flipped["/".join(name.split("/")[:2])] += 1
    print(f"\n{FLIPS} flips, {len(missed)} not named")
    for name, count in sorted(flipped.items()):
        print(f"  {name:<28} {count}")
    assert missed == []


def test_an_hour_of_sound(tmp_path: Path) -> None:
    check = hour(tmp_path)
    begin = time.perf_counter()
    check.keep(tmp_path / "r07")
    kept = time.perf_counter()
    seal_signed(tmp_path / "r07", tmp_path / "key")
    sealed = time.perf_counter()
    bag = seal(tmp_path / "r07", Seal("A. Engineer", "L-2207", private_key(tmp_path / "key")))
    again = time.perf_counter()
    assert faults_of(bag) == []
    verified = time.perf_counter()
    print("\n60 minutes of 16 kHz wav (115 MB), seconds")
    print(
        f"  keep   {kept - begin:.2f}\n  seal   {again - sealed:.2f}\n  verify {verified - again:.2f}"
    )
    assert verified - sealed < AT_MOST


def hour(top: Path) -> Walked:
    """The walk with an hour of sound as its first recording (noise: nothing here decodes it)."""
    write_sound(top / "noise", size=1 << 20)
    check = walked(top / "phone")
    first = check.asked.sounds[0]
    block = (top / "noise").read_bytes()
    with first.open("wb") as file:
        for _ in range(-(-HOUR_OF_WAV // len(block))):
            file.write(block)
    check.result.recordings[0].sha256 = sha256(first)
    return check
