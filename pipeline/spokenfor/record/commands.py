"""The commands of the record: review, seal, verify, key. Thin over the functions that the web calls too."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

NOT_AS_SEALED = 1
"""Exit status of `verify` where the bag is not what was sealed, or the replay differs (as of cmp(1))."""

review_app = typer.Typer(
    help="Review an inspection: who decided what, when and why.", rich_markup_mode=None
)
key_app = typer.Typer(help="Signing keys.", no_args_is_help=True, rich_markup_mode=None)

ByOption = Annotated[str, typer.Option(help="Name of the person who decides.")]
WhyOption = Annotated[str | None, typer.Option(help="Why.")]
ReasonOption = Annotated[str, typer.Option("--why", help="Why; it must be said.")]
SubjectArgument = Annotated[
    str, typer.Argument(help="Id of an item, finding or statement, as in report.json.")
]
PassageArgument = Annotated[
    str, typer.Argument(help="Id of a statement, finding or item, or RECORDING@SECONDS.")
]


def add_commands(app: typer.Typer) -> None:
    """Add the commands of the record to the command line."""
    app.add_typer(review_app, name="review")
    app.add_typer(key_app, name="key")
    app.command()(seal)
    app.command()(verify)


@review_app.callback(invoke_without_command=True)
def review(
    context: typer.Context,
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder of the inspection.")],
) -> None:
    """Review an inspection. Without an action: what is still to be decided, and what was."""
    context.obj = folder
    if context.invoked_subcommand is None:
        from spokenfor.record.review_lines import review_lines

        for line in review_lines(folder):
            _say(line)


@review_app.command("accept")
def accept(
    context: typer.Context,
    subjects: Annotated[list[str], typer.Argument(help="Ids of items or findings.")],
    by: ByOption,
    why: WhyOption = None,
) -> None:
    """Accept items or findings as they stand."""
    _decide(context, "accept", subjects, by=by, why=why)


@review_app.command("change-status")
def change_status(
    context: typer.Context,
    subject: SubjectArgument,
    status: Annotated[str, typer.Argument(help="Status of the item, or verdict of the finding.")],
    by: ByOption,
    why: ReasonOption,
) -> None:
    """Change where an item stands, or what a finding is (satisfactory: it is none)."""
    _decide(context, "change_status", [subject], by=by, why=why, status=status)


@review_app.command("place-finding")
def place_finding(
    context: typer.Context,
    finding: Annotated[str, typer.Argument(help="Id of the finding.")],
    item: Annotated[str, typer.Argument(help="Id of the item it belongs to.")],
    by: ByOption,
    why: WhyOption = None,
) -> None:
    """Place a finding on an item of the sheet."""
    _decide(context, "place_finding", [finding], by=by, why=why, item=item)


@review_app.command("correct-words")
def correct_words(
    context: typer.Context,
    passage: PassageArgument,
    words: Annotated[str, typer.Argument(help="What was really said.")],
    by: ByOption,
    why: WhyOption = None,
) -> None:
    """Correct the words of a passage; what was heard stays beside it, no status changes by this."""
    _decide(context, "correct_words", [passage], by=by, why=why, words=words)


@review_app.command("correct-time")
def correct_time(
    context: typer.Context,
    passage: PassageArgument,
    start: Annotated[float, typer.Argument(help="Seconds in the recording at which it starts.")],
    end: Annotated[float, typer.Argument(help="Seconds in the recording at which it ends.")],
    by: ByOption,
    why: WhyOption = None,
) -> None:
    """Correct the seconds of sound behind a passage."""
    _decide(context, "correct_time", [passage], by=by, why=why, start=start, end=end)


@review_app.command("add-note")
def add_note(
    context: typer.Context,
    subject: Annotated[
        str, typer.Argument(help="Id of an item, finding, statement, or: inspection.")
    ],
    text: Annotated[str, typer.Argument(help="The note.")],
    by: ByOption,
) -> None:
    """Add a note to an item, a finding or the whole inspection."""
    _decide(context, "add_note", [subject], by=by, words=text)


@review_app.command("reopen")
def reopen(
    context: typer.Context,
    subject: Annotated[str, typer.Argument(help="What was decided; or: inspection, if sealed.")],
    by: ByOption,
    why: ReasonOption,
) -> None:
    """Take decisions back; they stay in the log. A sealed inspection takes no other decision before this."""
    _decide(context, "reopen", [subject], by=by, why=why)


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

    signer = _private_key(key) if key is not None else None
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
                _say(f"{word} {line}")
        if found.faults:
            raise typer.Exit(NOT_AS_SEALED)
        if replay:
            _replay(inner, model)


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


def _decide(context: typer.Context, action: str, subjects: list[str], **fields: Any) -> None:
    from spokenfor.record.entries import Action
    from spokenfor.record.review import Decision, decide_all

    decisions = [Decision(Action(action), subject, **fields) for subject in subjects]
    for entry in decide_all(context.obj, decisions):
        typer.echo(f"Entry {entry.number}: {entry.action.value} {entry.subject}, {entry.by}")


def _private_key(path: Path) -> Ed25519PrivateKey:
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
        _say(f"note  {line}")
    if not outcome.differences:
        _say("ok    checked again: the same report, transcript and review, byte for byte")
        return
    for line in outcome.differences:
        _say(line)
    _say("WRONG checked again, and it differs: see the lines above")
    raise typer.Exit(NOT_AS_SEALED)


def _say(line: str) -> None:
    """Print what may come from somebody else's bag or captions: what is not printable moves no cursor."""
    typer.echo("".join(one if one.isprintable() else "\ufffd" for one in line))


def _printable(path: Path) -> str:
    return str(path).encode("utf-8", "surrogateescape").decode("utf-8", "replace")
