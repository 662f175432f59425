"""The command `find`: words, and findings that come back, in all inspections below a folder."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from spokenfor.errors import InputError


def add_commands(app: typer.Typer) -> None:
    """Add `find` to the command line."""
    app.command()(find)


def find(
    root: Annotated[Path, typer.Argument(help="Folder that holds inspections and sealed bags.")],
    words: Annotated[
        list[str] | None, typer.Argument(help="Words to look for; all must be there.")
    ] = None,
    asset: Annotated[str | None, typer.Option(help="Only this machine.")] = None,
    since: Annotated[
        str | None, typer.Option(metavar="DATE", help="Made on this day or later (2026-05-03).")
    ] = None,
    until: Annotated[
        str | None, typer.Option(metavar="DATE", help="Made on this day or before.")
    ] = None,
    repeats: Annotated[
        bool, typer.Option("--repeats", help="Findings that came back on the same machine.")
    ] = False,
    limit: Annotated[int, typer.Option(min=1, help="How many places to show.")] = 50,
    as_json: Annotated[bool, typer.Option("--json", help="As JSON, for other programs.")] = False,
    rebuild: Annotated[
        bool, typer.Option("--rebuild", help="Make the index anew; it is only a cache.")
    ] = False,
) -> None:
    """Look for words, or findings that came back, in all inspections below a folder."""
    from spokenfor.record import search, search_lines
    from spokenfor.record.search_hits import Scope
    from spokenfor.record.search_repeats import repeats as look_for_repeats

    scope = Scope(
        asset,
        search.day(since) if since is not None else None,
        search.day(until, last=True) if until is not None else None,
    )
    if repeats:
        if words:
            raise InputError("--repeats takes no words", "Leave them out, or leave --repeats out")
        came_back, notes = look_for_repeats(root, scope, rebuild=rebuild)
        lines = [search_lines.repeats_json(came_back, notes)] if as_json else None
        lines = lines or list(search_lines.repeat_lines(came_back))
    else:
        answer = search.find(root, words or [], scope, limit=limit, rebuild=rebuild)
        notes = answer.notes
        lines = [search_lines.answer_json(answer)] if as_json else None
        lines = lines or list(search_lines.answer_lines(answer))
    for note in notes:
        typer.echo(f"spokenfor: {note}", err=True)
    for line in lines:
        typer.echo(line)
