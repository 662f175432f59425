"""The command of the workbench. Thin; everything heavy is imported when it runs."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def add_commands(app: typer.Typer) -> None:
    """Add the command of the workbench to the command line."""
    app.command()(serve)


def serve(
    root: Annotated[
        Path, typer.Argument(metavar="ROOT", help="Folder that holds the inspections, or will.")
    ],
    host: Annotated[
        str, typer.Option(help="Address to listen on; by default this machine alone.")
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option(help="Port; 0 takes any that is free.", max=65535)] = 8437,
    key: Annotated[Path | None, typer.Option(help="Signing key for what is sealed here.")] = None,
) -> None:
    """Open the workbench: record, check, review, seal and verify in a browser on this machine."""
    from spokenfor.web.serve import serve as serve_folder

    signer = None
    if key is not None:
        from spokenfor.record.commands import asked_private_key

        signer = asked_private_key(key)
    serve_folder(root, host, port, signer, typer.echo)
