"""The command of comparing: thin over the functions that the web calls too."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def add_commands(app: typer.Typer) -> None:
    """Add the command to the command line."""
    app.command()(compare)


def compare(
    folders: Annotated[
        list[Path] | None,
        typer.Argument(metavar="DIR...", help="Inspection folders or report.json files."),
    ] = None,
    reference: Annotated[
        Path | None, typer.Option(help="Walk that the others are held against.")
    ] = None,
    sound: Annotated[
        list[Path] | None,
        typer.Option(help="Folder of recordings, where they are not beside the report."),
    ] = None,
    out: Annotated[Path, typer.Option(help="Folder for the pages and tables.")] = Path("compared"),
) -> None:
    """Compare walks: pages for the trainer and each trainee, and CSV tables."""
    from spokenfor.comparing.comparison import compare_walks
    from spokenfor.comparing.reading_walks import read_walk
    from spokenfor.comparing.write import write_comparison
    from spokenfor.reporting.wording import counted

    places = sound or []
    walks = [read_walk(folder, places) for folder in folders or []]
    comparison = compare_walks(walks, read_walk(reference, places) if reference else None)
    pages = write_comparison(comparison, out)
    total = len(comparison.sheet.required)
    for walk in comparison.walks:
        _say(
            f"{walk.mark:<4}{walk.by}, {walk.asset}, {walk.when}: {comparison.covered[walk.mark]} of "
            f"{total} required items covered, "
            f"{counted(len(comparison.remarks[walk.mark]), 'wording remark')}"
        )
        _say(f"    {comparison.orders[walk.mark].words}")
    for caution in comparison.cautions(comparison.walks):
        _say(caution)
    if not any(walk.sounds for walk in comparison.walks):
        _say("No recording was found, so nothing can be played. Give its folder with --sound.")
    for page in pages:
        _say(f"Page: {page}")


def _say(line: str) -> None:
    """Print what may come from somebody else's report: what is not printable moves no cursor."""
    typer.echo("".join(one if one.isprintable() else "\ufffd" for one in line))
