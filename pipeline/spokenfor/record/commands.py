"""The commands of the record: seal, verify, hand-over, key. Thin over the functions that the web calls too."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from spokenfor.record.review_commands import review_app, say

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

NOT_AS_SEALED = 1
"""Exit status of `verify` where the bag is not what was sealed, or the replay differs (as of cmp(1))."""

key_app = typer.Typer(help="Signing keys.", no_args_is_help=True, rich_markup_mode=None)


def add_commands(app: typer.Typer) -> None:
    """Add the commands of the record to the command line."""
    app.add_typer(review_app, name="review")
    app.add_typer(key_app, name="key")
    app.command()(seal)
    app.command()(verify)
    app.command("hand-over")(hand_over)


def seal(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder of the inspection.")],
    by: Annotated[str, typer.Option(help="Name of the person who signs.")],
    licence: Annotated[str | None, typer.Option(help="Their licence number.")] = None,
    key: Annotated[Path | None, typer.Option(help="Signing key, made by key new.")] = None,
    despite: Annotated[
        str | None, typer.Option(help="Reason to seal although points are undecided; it is shown.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder of the bag, by default beside DIR.")
    ] = None,
) -> None:
    """Seal a reviewed inspection as a signed bag (BagIt). A record, not a release to service."""
    from spokenfor.record.seal import Seal
    from spokenfor.record.seal import seal as seal_inspection
    from spokenfor.record.sign_off import RECORD_ONLY

    signer = asked_private_key(key) if key is not None else None
    bag = seal_inspection(folder, Seal(by, licence, signer, despite), out)
    if signer is None:
        typer.echo("Not signed: damage will show, a forgery will not. Give --key to sign.")
    else:
        from spokenfor.record.keys import fingerprint

        typer.echo(f"Signed with key {fingerprint(signer.public_key())}")
    typer.echo(RECORD_ONLY)
    typer.echo(f"Sealed: {_printable(bag)}")


def verify(
    bag: Annotated[Path, typer.Argument(metavar="BAG", help="Sealed bag: folder, .zip or .tar.")],
    replay: Annotated[
        bool, typer.Option("--replay", help="Check the sealed sound again and show differences.")
    ] = False,
    key: Annotated[
        Path | None, typer.Option(help="Public key that you know the signer by.")
    ] = None,
    model: Annotated[
        str | None, typer.Option(help="Whisper weights for --replay: name or folder.")
    ] = None,
) -> None:
    """Check a sealed bag: files, log, signature, pack. Exit status 1 where anything is not as sealed."""
    from spokenfor.record.verify import opened
    from spokenfor.record.verify import verify as verify_bag

    expected = None
    if key is not None:
        from spokenfor.record.keys import public_key_file

        expected = public_key_file(key)
    with opened(bag) as inner:
        found = verify_bag(inner, expected)
        for word, lines in (
            ("ok   ", found.facts),
            ("note ", found.doubts),
            ("WRONG", found.faults),
        ):
            for line in lines:
                say(f"{word} {line}")
        if found.faults:
            raise typer.Exit(NOT_AS_SEALED)
        if replay:
            _replay(inner, model)


def hand_over(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder of the inspection.")],
) -> None:
    """Write the reviewed page and the forms for the maintenance office into DIR."""
    from spokenfor.record.derived import write_derived
    from spokenfor.record.folder import DERIVED

    write_derived(folder)
    for name in DERIVED:
        typer.echo(f"Written: {_printable(folder / name)}")


@key_app.command("new")
def key_new(
    path: Annotated[Path, typer.Argument(metavar="FILE", help="File for the new key.")],
    protect: Annotated[
        bool, typer.Option("--protect", help="Ask for a passphrase that the key is locked with.")
    ] = False,
) -> None:
    """Make a signing key (Ed25519) and, in FILE.pub, its public half to give to the auditor."""
    from spokenfor.record.keys import fingerprint, new_key, public_key_file

    passphrase = (
        typer.prompt("Passphrase", hide_input=True, confirmation_prompt=True) if protect else None
    )
    public = new_key(path, passphrase)
    typer.echo(f"Signing key {_printable(path)}: keep it to yourself")
    typer.echo(f"Public key  {_printable(public)}: give it to whoever will verify")
    typer.echo(f"Its digits  {fingerprint(public_key_file(public))}")


def asked_private_key(path: Path) -> Ed25519PrivateKey:
    """The signing key of a file; its passphrase is asked for where it has one. Raises InputError."""
    from spokenfor.record.keys import LockedKeyError, private_key

    try:
        return private_key(path)
    except LockedKeyError:
        return private_key(path, typer.prompt("Passphrase of the key", hide_input=True))


def _replay(bag: Path, model: str | None) -> None:
    from spokenfor.check import Request, check
    from spokenfor.models import Result, Transcript
    from spokenfor.record.folder import Extended
    from spokenfor.record.replay import replay

    def again(asked: Extended) -> tuple[Result, Transcript]:
        return check(
            Request(
                sounds=asked.sounds,
                pack=asked.pack,
                asset=asked.asset,
                by=asked.by,
                model=asked.model,
                captions=asked.captions,
                photos=asked.photos,
                photo_clock=asked.photo_clock,
            )
        )

    outcome = replay(bag, again, model)
    for line in outcome.versions:
        say(f"note  {line}")
    if not outcome.differences:
        say("ok    checked again: the same report, transcript and review, byte for byte")
        return
    for line in outcome.differences:
        say(line)
    say("WRONG checked again, and it differs: see the lines above")
    raise typer.Exit(NOT_AS_SEALED)


def _printable(path: Path) -> str:
    return str(path).encode("utf-8", "surrogateescape").decode("utf-8", "replace")
