"""Kill -9 at any moment: the folder opens, nothing accepted is lost, the next run goes on."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.record.killed import STEPS, Scene, every_so_many_calls, random_moments, scene

MOMENTS, STRIDE = 20, 31


@pytest.fixture(scope="module")
def ready() -> Iterator[Scene]:
    """In memory where there is such a disk: a killed process, other than a power cut, loses nothing that it
    has written, so waiting for the disk shows nothing here."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as top:
        yield scene(Path(top))


def test_random_moments(ready: Scene) -> None:
    reached = random_moments(ready, MOMENTS, 11)
    assert len({len(done) for done in reached}) > 2, "the moments must fall into several steps"


def test_every_so_many_calls_on_the_file_system(ready: Scene) -> None:
    """Deterministic: each stage of keeping, deciding and sealing is cut short somewhere."""
    reached = every_so_many_calls(ready, STRIDE)
    assert len(reached) > 10
    assert reached[-1] == list(STEPS), "the last run came to its end"


def test_between_any_two_files_that_are_moved_into_place(ready: Scene) -> None:
    """After the moment of commitment the files move one by one; every other gap is tried."""
    reached = every_so_many_calls(ready, 2, ("os.rename",))
    assert len(reached) > 12
    assert reached[-1] == list(STEPS)
