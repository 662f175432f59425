"""What the terminal shows: progress while work is done, and ten lines when it is."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

import typer
from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

from spokenfor.check import Request, check
from spokenfor.errors import InputError
from spokenfor.models import Result, Transcript

REPORT_FILES = ("report.json", "report.html", "items.csv", "findings.csv", "transcript.vtt")


def run_check(request: Request, out: Path, embed_sound: bool | None) -> Result:
    """Checks, writes the reports into `out`, and prints where they are and what matters first.

    Raises InputError for anything that cannot be used; `out` is tried before the long work begins.
    """
    _try_folder(out, request)
    console = Console(stderr=True)
    with Progress(
        TextColumn("{task.description:<22}"),
        BarColumn(),
        TextColumn("{task.percentage:>3.0f}%"),
        TimeRemainingColumn(),
        console=console,
        transient=True,
        disable=not console.is_terminal,
    ) as bars:
        tasks = {}

        def progress(stage: str, done: float, total: float) -> None:
            if stage not in tasks:
                tasks[stage] = bars.add_task(stage, total=total)
            bars.update(tasks[stage], completed=done, total=total)

        result, transcript = check(request, progress)
        progress("writing the reports", 0.0, 1.0)
        from spokenfor.record.keep import keep
        from spokenfor.reporting.summary import summary_lines

        report = keep(out, request, result, transcript, embed=embed_sound)
    for line in summary_lines(result):
        typer.echo(line)
    for line in _unknown_sides(request.pack, transcript):
        typer.echo(line)
    if result.photos:
        placed = sum(one.not_placed is None for one in result.photos)
        typer.echo(f"Photos: {placed} placed, {len(result.photos) - placed} not placed")
    typer.echo(f"Report: {printable(str(report))}")
    return result


def _unknown_sides(name: str, transcript: Transcript) -> list[str]:
    """A line on sides that were said and that the pack cannot place, and what to do about it; none else."""
    from spokenfor.packs.load import load_pack
    from spokenfor.packs.unknown_sides import unknown_sides

    pack = load_pack(name)
    texts = [" ".join(word.text for word in one.words) for one in transcript.segments]
    sides = unknown_sides(pack, texts)
    if not sides:
        return []
    return [
        f"Said: {', '.join(sides)}. The pack does not say whether that is left or right, so it was placed on "
        "no line: make a copy that does (spokenfor pack copy ... --driver-side left)"
    ]


def _try_folder(out: Path, request: Request) -> None:
    """Refuses a folder that cannot be written to, or that holds one of the recordings by a report's name."""
    from spokenfor.record.keep import refuse_other_inspection

    existing = out
    while not existing.exists() and existing != existing.parent:
        existing = existing.parent
    if not existing.is_dir():
        raise InputError(f"'{existing}' is a file, not a folder", "Give --out another name")
    if not os.access(existing, os.W_OK):
        raise InputError(
            f"'{existing}' cannot be written to",
            "Give --out a folder of your own, or mend the rights",
        )
    written = {(out / name).resolve() for name in REPORT_FILES}
    heard = request.sounds or ([request.captions] if request.captions is not None else [])
    given = [*request.sounds, *([request.captions] if request.captions is not None else [])]
    for path in [*given, *request.photos]:
        if path.resolve() in written:
            raise InputError(
                f"'{path}' would be overwritten by the report", "Give --out another folder"
            )
    refuse_other_inspection(out, heard)


def printable(text: str) -> str:
    """Text with what is not Unicode (a file name of another time) made visible."""
    return text.encode("utf-8", "surrogateescape").decode("utf-8", "replace")


def doctor_lines() -> tuple[list[str], bool]:
    """A line for each thing the main job needs, and whether all are there."""
    from spokenfor.hearing.weights import resolve
    from spokenfor.packs.load import load_pack, pack_names

    lines = [f"ok    Python {sys.version.split()[0]}"]
    usable = True
    try:
        weights = resolve()
        lines.append(f"ok    weights {weights.name}, model.bin sha256 {weights.sha256}")
    except InputError as error:
        usable = False
        lines.append(f"wants {error}")
    for name in pack_names():
        try:
            lines.append(f"ok    pack {name}: {len(load_pack(name).items)} items")
        except InputError as error:
            usable = False
            lines.append(f"wants {error}")
    with tempfile.TemporaryDirectory() as folder:
        free = os.statvfs(folder)
        lines.append(f"ok    {free.f_bavail * free.f_frsize // 2**20} MiB free for temporary files")
    return lines, usable
