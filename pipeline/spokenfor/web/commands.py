"""The commands of the workbench. Thin; everything heavy is imported when they run."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from spokenfor.record.review_commands import review_app

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey


def add_commands(app: typer.Typer) -> None:
    """Add the commands of the workbench to the command line, one of them among those of review."""
    app.command()(serve)
    review_app.command("page")(review_page)


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
    from spokenfor.web.serve import serve_folder

    serve_folder(root, host, port, _signer(key), typer.echo)


def review_page(
    context: typer.Context,
    port: Annotated[int, typer.Option(help="Port; 0 takes any that is free.", max=65535)] = 0,
    key: Annotated[Path | None, typer.Option(help="Signing key for what is sealed here.")] = None,
) -> None:
    """Open the review in a browser on this machine: listen, decide with keys, seal."""
    from spokenfor.web.serve import serve_inspection

    serve_inspection(context.obj, port, _signer(key), typer.echo)


def _signer(key: Path | None) -> Ed25519PrivateKey | None:
    if key is None:
        return None
    from spokenfor.record.commands import asked_private_key

    return asked_private_key(key)
