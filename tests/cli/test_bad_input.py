"""Bad input: one clear line, status 2, the sound untouched, nothing half-written left behind."""

from __future__ import annotations

import os
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import pytest
from tests.cli.bad_commands import BAD, Bad
from tests.cli.command import Run, assert_one_line, contents, piece, spokenfor
from tests.cli.prepared import CAPTIONS, holds

ROWS = [pytest.param(bad, id=bad.name) for bad in BAD]


@dataclass(frozen=True)
class Attempt:
    """A bad command, run, and what stood in its folder before and after."""

    run: Run
    before: dict[str, tuple[str, int]]
    after: dict[str, tuple[str, int]]


@pytest.fixture(scope="module")
def attempts(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[dict[str, Future[Attempt]]]:
    """Every bad command that is asked for, two at a time: they spend their time starting up."""
    callspecs = [getattr(item, "callspec", None) for item in request.session.items]
    asked = {
        spec.params["bad"].name: spec.params["bad"]
        for spec in callspecs
        if spec is not None and isinstance(spec.params.get("bad"), Bad)
    }
    with ThreadPoolExecutor(2) as pool:
        yield {
            name: pool.submit(attempt, bad, tmp_path_factory.mktemp("bad"))
            for name, bad in asked.items()
        }


def attempt(bad: Bad, folder: Path) -> Attempt:
    bad.prepare(folder)
    before = contents(folder)
    out = ("--out", "out") if bad.typed[0] in ("check", "demo") and len(bad.typed) > 1 else ()
    run = spokenfor(*bad.typed[:1], *out, *bad.typed[1:], folder=folder)
    return Attempt(run, before, contents(folder))


@pytest.mark.parametrize("bad", ROWS)
def test_bad_input_is_one_line_and_leaves_all_as_it_was(
    bad: Bad, attempts: dict[str, Future[Attempt]]
) -> None:
    tried = attempts[bad.name].result()
    assert tried.after == tried.before
    assert_one_line(tried.run, bad.says)


def test_a_colon_in_the_name_of_a_recording_is_no_fault(tmp_path: Path) -> None:
    piece(tmp_path / "2024-05-01T10:30.wav", "two-parts-1", 5, 9.5)
    holds("walk.vtt", CAPTIONS)(tmp_path)
    run = spokenfor("check", "2024-05-01T10:30.wav", "--transcript", "walk.vtt", folder=tmp_path)
    assert run.status == 0, run.stderr


def test_a_name_that_is_not_utf8_is_no_fault(tmp_path: Path) -> None:
    """A card written under Latin-1 gives such names."""
    name = os.fsdecode(b"caf\xe9.wav")
    piece(tmp_path / name, "two-parts-1", 5, 9.5)
    holds("walk.vtt", CAPTIONS)(tmp_path)
    run = spokenfor("check", name, "--transcript", "walk.vtt", folder=tmp_path)
    assert run.status == 0, run.stderr[-300:]
