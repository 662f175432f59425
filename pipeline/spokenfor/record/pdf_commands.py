"""The command `pdf`: the archive copy of an inspection."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def add_commands(app: typer.Typer) -> None:
    """Add `pdf` to the command line."""
    app.command()(pdf)


def pdf(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder of the inspection.")],
    out: Annotated[
        Path | None, typer.Option(help="File to write, by default report.pdf in DIR.")
    ] = None,
) -> None:
    """Write the archive copy of an inspection (PDF/A-2b)."""
    from spokenfor.record.archive_copy import write_archive_copy
    from spokenfor.terminal import printable

    typer.echo(f"Archive copy: {printable(str(write_archive_copy(folder, out)))}")
