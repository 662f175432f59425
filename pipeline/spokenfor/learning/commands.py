"""The command pack learn: each proposal is shown with its count, and taken only with a person's yes."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from spokenfor.errors import InputError
from spokenfor.packs.wording import counted

if TYPE_CHECKING:
    from spokenfor.learning.proposals import Proposal


def add_commands(pack_app: typer.Typer) -> None:
    """Add learn to the commands of packs."""
    pack_app.command("learn")(learn)


def learn(
    folders: Annotated[
        list[Path], typer.Argument(metavar="DIR...", help="Folders of reviewed inspections.")
    ],
    pack: Annotated[
        str | None,
        typer.Option(help="Pack to add to: a folder of your own, or a name with --into."),
    ] = None,
    into: Annotated[
        Path | None, typer.Option(help="New folder for a copy of the pack, which is added to.")
    ] = None,
    clips: Annotated[
        Path | None, typer.Option(help="New folder for the sound behind each proposal.")
    ] = None,
    yes_to: Annotated[
        list[str] | None,
        typer.Option(metavar="ID", help="Take this proposal without asking; may be repeated."),
    ] = None,
) -> None:
    """Propose labels from what reviewers corrected and placed; nothing is written without a yes."""
    from spokenfor.learning.clips import write_clips
    from spokenfor.learning.into_yaml import add_labels
    from spokenfor.learning.proposals import decided_in, proposals
    from spokenfor.packs.copying import copy_pack
    from spokenfor.packs.load import load_pack, vocabulary_root

    name, decided, sounds = decided_in(folders)
    target = load_pack(pack or name)
    found = proposals(target, decided)
    open_ones = {one.id: one for one in found if one.refused is None}
    for wanted in yes_to or []:
        if wanted not in open_ones:
            raise InputError(f"There is no proposal '{wanted}' to say yes to", "See the list")
    if not found:
        typer.echo(f"{len(decided)} decisions of reviewers; they teach the pack no new label")
        return
    cut = write_clips(found, sounds, clips) if clips is not None else {}
    taken = _asked(found, yes_to, cut)
    if not taken:
        typer.echo("Nothing was written")
        return
    own = target.folder
    if into is not None:
        own = copy_pack(str(target.folder), into)
    elif own.is_relative_to(vocabulary_root()) and "/" not in (pack or ""):
        raise InputError(
            f"'{target.head.name}' ships with spokenfor and is not changed",
            "Give --into the name of a folder for a copy, or --pack a folder of your own",
        )
    labels: dict[tuple[str, str], list[str]] = {}
    for one in taken:
        labels.setdefault((one.component, one.field), []).append(one.heard)
    add_labels(own, target.common, labels)
    typer.echo(f"{counted(len(taken), 'label')} added to {own}")


_ASKED = {"hiddenLabel": "mis-hearing (hiddenLabel)", "altLabel": "name (altLabel)"}


def _asked(
    found: list[Proposal], yes_to: list[str] | None, clips: dict[str, list[Path]]
) -> list[Proposal]:
    taken = []
    for one in found:
        times = counted(one.count, "passage")
        how = "for" if one.field == "hiddenLabel" else "as another name of"
        typer.echo(f"{one.id}  '{one.heard}' {how} '{', '.join(one.labels)}', {times}")
        for clip in clips.get(one.id, ()):
            typer.echo(f"  listen: {clip}")
        if one.refused is not None:
            typer.echo(f"  not proposed: {one.refused}")
        elif yes_to is not None:
            if one.id in yes_to:
                typer.echo("  yes, as given")
                taken.append(one)
        elif sys.stdin.isatty():
            if typer.confirm(f"  Add it as a {_ASKED[one.field]}?", default=False):
                taken.append(one)
        else:
            typer.echo(f"  to take it: --yes-to {one.id}")
    return taken
