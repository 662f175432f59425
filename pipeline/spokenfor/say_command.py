"""The command `pack say`, thin over say.py."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from spokenfor.errors import InputError


def add_command(pack_app: typer.Typer) -> None:
    """Add `say` to the pack commands."""
    pack_app.command("say")(pack_say)


def pack_say(
    name: Annotated[str, typer.Argument(help="Pack name or folder.")],
    voice: Annotated[
        str | None,
        typer.Option(help="Voice: hibari, piper or espeak; by default the best there is."),
    ] = None,
    every_label: Annotated[
        bool, typer.Option("--every-label", help="Say the other names (altLabel) too.")
    ] = False,
    out: Annotated[
        Path | None,
        typer.Option(help="File for the table (csv); by default heard.csv in the pack."),
    ] = None,
    model: Annotated[str | None, typer.Option(help="Whisper weights: name or folder.")] = None,
) -> None:
    """Speak the names of a pack and hear them: which are heard at once, after second hearing, or not."""
    from spokenfor.packs.heard import table_lines
    from spokenfor.packs.load import load_pack, pack_names
    from spokenfor.say import say_terms, write_heard
    from spokenfor.voices import PLAIN, installed

    pack = load_pack(name)
    chosen = next(
        (
            one
            for one in PLAIN
            if (voice or one.engine) == one.engine and (voice or installed(one.engine))
        ),
        None,
    )
    if chosen is None:
        raise InputError(
            f"There is no voice '{voice}'" if voice else "No synthetic voice is installed",
            "Install hibari-tts or piper-tts (PyPI) or espeak-ng (Debian), or give one of these with --voice",
        )
    if out is not None and out.exists():
        raise InputError(f"{out}: is there already", "Give another name")
    heard = say_terms(pack, chosen, every_label=every_label, model=model)
    typer.echo("\n".join(table_lines(heard, f"{chosen.engine} {chosen.name}")))
    if out is not None or name not in pack_names():
        typer.echo(f"written to {write_heard(pack, heard, f'{chosen.engine} {chosen.name}', out)}")
