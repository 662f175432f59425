"""`pack import` as a user runs it."""

from __future__ import annotations

from pathlib import Path

from typer.testing import CliRunner

from spokenfor.cli import app


def imported(sheet: Path, folder: Path, *options: str, typed: str = "") -> str:
    """What `pack import` says; the pack goes to `folder`."""
    done = CliRunner().invoke(
        app, ["pack", "import", str(sheet), "--out", str(folder), *options], input=typed
    )
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.output
