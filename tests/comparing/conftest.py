"""Walks on disk: the walk of tests/reporting as several people might have made it."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.comparing.made_walks import later, learner, teacher, write_walk
from tests.reporting.conftest import sounds  # noqa: F401

from spokenfor.comparing.comparison import Comparison, compare_walks
from spokenfor.comparing.reading_walks import read_walk


@pytest.fixture(scope="session")
def walks(tmp_path_factory: pytest.TempPathFactory, sounds: list[Path]) -> dict[str, Path]:  # noqa: F811
    """Folders: a learner's walk, the same learner a week later, and a teacher's."""
    top = tmp_path_factory.mktemp("walks")
    made = {"first": learner(), "second": later(), "teacher": teacher()}
    return {name: write_walk(top / name, result, sounds) for name, result in made.items()}


@pytest.fixture(scope="session")
def compared(walks: dict[str, Path]) -> Comparison:
    """The learner's two walks, given in the wrong order, against the teacher's."""
    return compare_walks(
        [read_walk(walks["second"]), read_walk(walks["first"])], read_walk(walks["teacher"])
    )
