"""The commands of review: each puts one decision of a person into the log."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from spokenfor.errors import InputError

review_app = typer.Typer(
    help="Review an inspection: who decided what, when and why.", rich_markup_mode=None
)
ByOption = Annotated[str, typer.Option(help="Name of the person who decides.")]
WhyOption = Annotated[str | None, typer.Option(help="Why.")]
ReasonOption = Annotated[str, typer.Option("--why", help="Why; it must be said.")]
SubjectArgument = Annotated[
    str, typer.Argument(help="Id of an item, finding or statement, as in report.json.")
]
PassageArgument = Annotated[
    str, typer.Argument(help="Id of a statement, finding or item, or RECORDING@SECONDS.")
]


@review_app.callback(invoke_without_command=True)
def review(
    context: typer.Context,
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder of the inspection.")],
) -> None:
    """Review an inspection. Without an action: what is still to be decided, and what was; at a terminal, then
    its page for the browser."""
    context.obj = folder
    if context.invoked_subcommand is None:
        listed(context)
        page = context.command.get_command(context, "page")  # type: ignore[attr-defined]
        if page is not None and sys.stdin.isatty() and sys.stdout.isatty():
            typer.echo()
            try:
                with page.make_context("page", [], parent=context) as opened:
                    page.invoke(opened)
            except InputError as error:  # the list was what was asked for
                typer.echo(f"No page for the browser: {error}", err=True)


@review_app.command("list")
def listed(context: typer.Context) -> None:
    """What is still to be decided, and what was."""
    from spokenfor.record.review_lines import review_lines

    for line in review_lines(context.obj):
        say(line)


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


@review_app.command("shift-photos", context_settings={"ignore_unknown_options": True})
def shift_photos(
    context: typer.Context,
    seconds: Annotated[float, typer.Argument(help="Seconds to add to the time of every picture.")],
    by: ByOption,
    why: WhyOption = None,
) -> None:
    """Move all pictures along the sound: the clocks of camera and recorder differed."""
    _decide(context, "shift_photos", ["photos"], by=by, why=why, seconds=seconds)


@review_app.command("place-photo")
def place_photo(
    context: typer.Context,
    photo: Annotated[str, typer.Argument(help="Id of the picture, as in report.json.")],
    place: Annotated[str, typer.Argument(help="RECORDING@SECONDS; recordings count from 1.")],
    by: ByOption,
    why: WhyOption = None,
) -> None:
    """Put one picture at a second of sound."""
    _decide(context, "place_photo", [photo], by=by, why=why, place=place)


@review_app.command("reopen")
def reopen(
    context: typer.Context,
    subject: Annotated[str, typer.Argument(help="What was decided; or: inspection, if sealed.")],
    by: ByOption,
    why: ReasonOption,
) -> None:
    """Take decisions back; they stay in the log. A sealed inspection takes no other decision before this."""
    _decide(context, "reopen", [subject], by=by, why=why)


def _decide(context: typer.Context, action: str, subjects: list[str], **fields: Any) -> None:
    from spokenfor.record.derived import write_derived
    from spokenfor.record.entries import Action
    from spokenfor.record.review import Decision, decide_all

    decisions = [Decision(Action(action), subject, **fields) for subject in subjects]
    for entry in decide_all(context.obj, decisions):
        typer.echo(f"Entry {entry.number}: {entry.action.value} {entry.subject}, {entry.by}")
    try:
        write_derived(context.obj)
    except InputError as error:
        typer.echo(f"The decision is kept; the pages made from it are not: {error}", err=True)


def say(line: str) -> None:
    """Print what may come from somebody else's bag or captions: what is not printable moves no cursor."""
    typer.echo("".join(one if one.isprintable() else "\ufffd" for one in line))
