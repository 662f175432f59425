"""The command line: thin typer commands over the same functions that other programs call."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, NoReturn

import typer

from spokenfor.comparing.commands import add_commands as add_comparing
from spokenfor.errors import InputError
from spokenfor.learning import commands as learning
from spokenfor.record import pdf_commands, search_commands
from spokenfor.record.commands import add_commands

USAGE, UNCOVERED, DEFECTS, INTERRUPTED = 2, 3, 4, 130

# The root of typer's own errors; typer gives it no name, whether it carries click or depends on it.
UsageErrors: type[Exception] = next(
    one
    for one in typer.BadParameter.__mro__
    if one.__name__ == "ClickException" and issubclass(one, Exception)
)

app = typer.Typer(
    name="spokenfor",
    help="From a spoken walk-round inspection to a check sheet that shows the sound behind every line. "
    "An aid to record-keeping: it releases nothing to service.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
pack_app = typer.Typer(
    help="Trade vocabularies and check sheets.", no_args_is_help=True, rich_markup_mode=None
)
app.add_typer(pack_app, name="pack")

AssetOption = Annotated[
    str | None, typer.Option(help="Registration or fleet number of the machine.")
]
ByOption = Annotated[str | None, typer.Option(help="Name of the person who narrated.")]


@app.command()
def check(
    sounds: Annotated[
        list[Path] | None,
        typer.Argument(metavar="AUDIO...", help="Recordings, in the order made.", readable=False),
    ] = None,
    pack: Annotated[str, typer.Option(help="Pack name or folder.")] = "helicopter-light-twin",
    asset: AssetOption = None,
    by: ByOption = None,
    out: Annotated[Path, typer.Option(help="Folder for the reports.")] = Path("inspection"),
    model: Annotated[str | None, typer.Option(help="Whisper weights: name or folder.")] = None,
    transcript: Annotated[
        Path | None, typer.Option(help="WebVTT or SubRip file to read instead of transcribing.")
    ] = None,
    allow_network: Annotated[
        bool, typer.Option("--allow-network", help="Allow weights to be fetched from the hub.")
    ] = False,
    embed_sound: Annotated[
        bool | None,
        typer.Option(
            "--embed-sound/--link-sound",
            help="Put the sound into report.html, or link to it; by default small sound is put in.",
        ),
    ] = None,
    add: Annotated[
        bool,
        typer.Option("--add", help="Add the recordings to the inspection in --out, and check all."),
    ] = False,
    photos: Annotated[
        list[Path] | None,
        typer.Option(metavar="DIR|FILE", help="Pictures taken on the walk; may be repeated."),
    ] = None,
    started: Annotated[
        list[str] | None,
        typer.Option(
            metavar="TIME", help="When a recording began, as 2026-05-03T09:12:00; once for each."
        ),
    ] = None,
    photo_offset: Annotated[
        float | None,
        typer.Option(metavar="SECONDS", help="Added to the time of every picture."),
    ] = None,
    strict: Annotated[
        bool,
        typer.Option("--strict", help="Exit status 3 if items are left uncovered, 4 if defects."),
    ] = False,
) -> None:
    """Hear recordings, fill the check sheet, write the reports."""
    from spokenfor.check import Request
    from spokenfor.photos.exif import photo_paths
    from spokenfor.terminal import run_check

    request = Request(
        sounds=sounds or [],
        pack=pack,
        asset=asset,
        by=by,
        model=model,
        captions=transcript,
        allow_network=allow_network,
        photos=photo_paths(photos or []),
        started=started or [],
        photo_offset=photo_offset,
    )
    if add:
        from spokenfor.record.adding import added

        request = added(out, request)
    if not request.sounds and request.captions is None:
        raise InputError("No recording was given", "Give one or more sound files, or --transcript")
    result = run_check(request, out, embed_sound)
    if strict:
        from spokenfor.models import ItemStatus

        if any(item.status is ItemStatus.DEFECT for item in result.items):
            raise typer.Exit(DEFECTS)
        if result.coverage.required_covered < result.coverage.required_total:
            raise typer.Exit(UNCOVERED)


@app.command()
def demo(
    out: Annotated[Path, typer.Option(help="Folder for the reports.")] = Path("out/demo"),
    sample: Annotated[str, typer.Option(help="Which bundled recording.")] = "skipped-zone",
) -> None:
    """Run the main job on a bundled recording."""
    from spokenfor.check import Request
    from spokenfor.samples import sample_sounds
    from spokenfor.terminal import run_check

    request = Request(
        sounds=sample_sounds(sample), pack="helicopter-light-twin", asset="R-07", by="Sample voice"
    )
    run_check(request, out, None)


@pack_app.command("list")
def pack_list() -> None:
    """The packs that ship with spokenfor."""
    from spokenfor.packs.load import load_pack, pack_names

    for name in pack_names():
        pack = load_pack(name)
        typer.echo(
            f"{name}  {pack.head.version}  {pack.head.title}: "
            f"{len(pack.zones)} zones, {len(pack.items)} items"
        )


@pack_app.command("show")
def pack_show(
    name: Annotated[str, typer.Argument(help="Pack name or folder.")],
    json: Annotated[bool, typer.Option("--json", help="As JSON, for other programs.")] = False,
) -> None:
    """The check sheet of a pack, in walking order."""
    from spokenfor.packs.load import load_pack
    from spokenfor.packs.show import pack_json, pack_lines

    pack = load_pack(name)
    typer.echo(pack_json(pack) if json else "\n".join(pack_lines(pack)))


@pack_app.command("lint")
def pack_lint(path: Annotated[str, typer.Argument(help="Pack folder or name.")]) -> None:
    """Check a pack: every error by file and line, and what may be misheard or mistaken."""
    from spokenfor.packs.lint import lint
    from spokenfor.packs.load import load_pack

    remarks = lint(load_pack(path))
    for remark in remarks:
        typer.echo(remark)
    typer.echo(f"{path}: no errors, {len(remarks)} remark{'' if len(remarks) == 1 else 's'}")


@app.command()
def doctor() -> None:
    """Check that this machine has what the main job needs."""
    from spokenfor.terminal import doctor_lines

    lines, usable = doctor_lines()
    for line in lines:
        typer.echo(line)
    if not usable:
        raise typer.Exit(USAGE)


add_commands(app)
learning.add_commands(pack_app)
add_comparing(app)


@app.callback(invoke_without_command=True)
def version(
    show: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
) -> None:
    """Options that need no command."""
    if show:
        from spokenfor import __version__

        typer.echo(f"spokenfor {__version__}")
        raise typer.Exit


pdf_commands.add_commands(app)
search_commands.add_commands(app)


def run() -> None:
    """Entry point: a user's error is one line on stderr and exit status 2, never a traceback."""
    try:
        status = app(standalone_mode=False)
    except UsageErrors as error:
        if type(error).__name__ == "NoArgsIsHelpError":
            typer.echo(str(error))
            raise SystemExit(USAGE) from None
        _fail(f"{str(error).rstrip('.')}. See spokenfor --help.")
    except InputError as error:
        _fail(str(error))
    except (typer.Abort, KeyboardInterrupt):
        sys.stderr.write("spokenfor: stopped; the recordings are untouched.\n")
        raise SystemExit(INTERRUPTED) from None
    except BrokenPipeError:
        raise SystemExit(0) from None
    except OSError as error:
        name = f"{error.filename}: " if error.filename else ""
        _fail(
            f"{name}{error.strerror}. Check the disk and the permissions; the recordings are untouched."
        )
    except MemoryError:
        _fail("not enough memory. Close other programs or split the recording.")
    else:
        if status == INTERRUPTED:
            sys.stderr.write("spokenfor: stopped; the recordings are untouched.\n")
        raise SystemExit(status or 0)


def _fail(message: str) -> NoReturn:
    line = " ".join(message.encode("utf-8", "surrogateescape").decode("utf-8", "replace").split())
    sys.stderr.write(f"spokenfor: {line}\n")
    raise SystemExit(USAGE)
