"""One inspection in two recordings, checked once for all tests of the command."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from tests.cli.command import Run, piece, spokenfor


@dataclass(frozen=True)
class Checked:
    """A run of `spokenfor check`, the recordings it was given and the folder of its reports."""

    run: Run
    sounds: list[Path]
    out: Path

    @property
    def report(self) -> dict[str, Any]:
        return json.loads((self.out / "report.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def checked(tmp_path_factory: pytest.TempPathFactory) -> Checked:
    """The nose; then, in a second recording, tail rotor and right main gear with a leak; --strict."""
    folder = tmp_path_factory.mktemp("inspection")
    sounds = [
        piece(folder / "walk-1.wav", "two-parts-1", 4.9, 16.9),
        piece(folder / "walk-2.wav", "two-parts-2", 17.0, 37.5),
    ]
    run = spokenfor(
        "check",
        *sounds,
        *("--asset", "R-11", "--by", "Sample voice", "--out", folder / "out", "--strict"),
        folder=folder,
    )
    return Checked(run, sounds, folder / "out")
