"""How does a check become an inspection folder, whole or not at all?"""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path, PurePosixPath
from typing import Protocol

from spokenfor.errors import InputError
from spokenfor.models import Result, Transcript
from spokenfor.packs.load import load_pack, pack_files, pack_sha256
from spokenfor.record.digests import readable, sha256_hex, sha256_of_file
from spokenfor.record.durable import copy_synced, finish, together, write_synced, writing
from spokenfor.record.entries import About, Action, line_of
from spokenfor.record.folder import (
    REPORT_FILE,
    TRANSCRIPT_FILE,
    Inspection,
    is_inspection,
    read_inspection,
)
from spokenfor.record.lock import locked
from spokenfor.record.log import LOG_FILE, following, now, set_aside
from spokenfor.record.reviewed import sealed_by
from spokenfor.record.settings import SETTINGS_FILE, Kept, Settings, plain_name, versions
from spokenfor.record.subjects import INSPECTION
from spokenfor.reporting.write import write_reports

RECORDINGS, CAPTIONS, PACK, EARLIER = "recordings", "captions", "pack", "earlier"
_PERSONAL = {Action.ACCEPT, Action.CHANGE_STATUS, Action.PLACE_FINDING, Action.CORRECT_WORDS}
_PERSONAL |= {Action.CORRECT_TIME, Action.ADD_NOTE, Action.SEAL}
_OURS = {*(REPORT_FILE, TRANSCRIPT_FILE, SETTINGS_FILE, LOG_FILE), "report.html", "items.csv"}
_OURS |= {"findings.csv", "transcript.vtt"}


class Asked(Protocol):
    """What was asked of the check: check.Request, or Extended."""

    @property
    def sounds(self) -> Sequence[Path]: ...
    @property
    def pack(self) -> str: ...
    @property
    def asset(self) -> str | None: ...
    @property
    def by(self) -> str | None: ...
    @property
    def model(self) -> str | None: ...
    @property
    def captions(self) -> Path | None: ...


def keep(
    out: Path,
    asked: Asked,
    result: Result,
    transcript: Transcript,
    *,
    embed: bool | None = None,
) -> Path:
    """Make `out` an inspection folder that holds a check; return its report.html.

    Recordings are copied into `recordings/`, or left where they are if they are in `out` already; their bytes
    must be those that were heard. A check into a folder that holds one extends or replaces it: the earlier
    report is kept under `earlier/`, recordings and log stay, decisions on what changed must be taken again.
    All reaches the folder at once, or nothing does. `embed` as in write_reports. Raises InputError.
    """
    made = not out.exists()
    try:
        with writing("The report", out):
            out.mkdir(parents=True, exist_ok=True)
            with locked(out):
                finish(out)
                before = read_inspection(out) if is_inspection(out) else None
                _refuse_other_inspection(out, before, result)
                with together(out) as aside:
                    _write(aside, out, asked, result, transcript, before, embed)
    except BaseException:
        if made:
            with suppress(OSError):
                out.rmdir()
        raise
    return out / "report.html"


def _refuse_other_inspection(out: Path, before: Inspection | None, result: Result) -> None:
    """A seal holds; what people decided is not mixed with another walk."""
    if before is None:
        return
    seal = sealed_by(before.log.entries)
    if seal is not None:
        raise InputError(
            f"'{out}' was sealed by {seal.by} on {seal.at[:10]}",
            "Reopen it first, or give another folder",
        )
    known = {one.sha256 for one in before.result.recordings}
    decided = any(one.action in _PERSONAL for one in before.log.entries)
    if decided and not known <= {one.sha256 for one in result.recordings}:
        raise InputError(
            f"'{out}' holds an inspection of other recordings, with decisions of people",
            "Give another folder, or add the recordings to that inspection",
        )


def _write(
    aside: Path,
    out: Path,
    asked: Asked,
    result: Result,
    transcript: Transcript,
    before: Inspection | None,
    embed: bool | None,
) -> None:
    recordings = _files(aside, out, RECORDINGS, asked.sounds)
    captions = _files(aside, out, CAPTIONS, [asked.captions] if asked.captions else [])
    heard = [one.sha256 for one in result.recordings]
    if heard != [one.sha256 for one in recordings or captions]:
        raise InputError(
            "A recording was changed while it was being checked",
            "Let other programs finish with it, then check again",
        )
    settings = Settings(
        schema="spokenfor/settings/1",
        inspection=before.settings.inspection if before else result.inspection.id,
        checks=before.settings.checks + 1 if before else 1,
        recordings=recordings,
        captions=captions[0] if captions else None,
        pack=result.inspection.pack,
        pack_path=_pack(aside, out, asked.pack, result.inspection.pack.sha256),
        asset=asked.asset,
        by=asked.by,
        asked_model=asked.model,
        model=result.inspection.model,
        software=result.inspection.software,
        versions=versions(),
    )
    if before is not None:
        earlier = aside / EARLIER / str(before.settings.checks)
        for name in (REPORT_FILE, TRANSCRIPT_FILE, SETTINGS_FILE):
            copy_synced(out / name, earlier / name)
    sounds = [aside / one.path for one in recordings]
    try:
        write_reports(result, transcript, sounds, aside, embed=embed)
    except InputError as error:
        # It would name the folder aside, which nobody knows.
        raise error.__cause__ if isinstance(error.__cause__, OSError) else error from None
    write_synced(aside / TRANSCRIPT_FILE, transcript_json(transcript))
    write_synced(aside / SETTINGS_FILE, readable(settings.model_dump(by_alias=True)))
    write_synced(aside / LOG_FILE, _log(out, before, result, (aside / REPORT_FILE).read_bytes()))


def transcript_json(transcript: Transcript) -> bytes:
    """The first transcript as transcript.json: sorted keys, same in, same out."""
    return readable(transcript.model_dump(mode="json", by_alias=True))


def _log(out: Path, before: Inspection | None, result: Result, report: bytes) -> bytes:
    """The log as it was, and an entry that binds it to the new report."""
    entries = list(before.log.entries) if before else []
    check = {
        "at": now(),
        "by": result.inspection.software,
        "action": Action.CHECK,
        "subject": INSPECTION,
        "about": About(label=result.inspection.id, key="check", digest=sha256_hex(report)),
    }
    for fields in [*set_aside(out), check]:
        entries.append(following(entries[-1] if entries else None, **fields))
    return b"".join(line_of(one) for one in entries)


def _files(aside: Path, out: Path, home: str, given: Sequence[Path]) -> list[Kept]:
    """Each file given, in the folder aside under its path to be."""
    kept: list[Kept] = []
    for path in given:
        name = os.fsencode(path.name).decode("utf-8", "replace")
        sha256 = _readable_file(path)
        inside = _inside(path, out)
        if inside is not None:
            place = inside
            _left(out / place, aside / place)
        else:
            place = _free(out, aside, PurePosixPath(home, plain_name(name)), sha256)
            if (out / place).exists():
                _left(out / place, aside / place)
            elif not (aside / place).exists():
                sha256 = copy_synced(path, aside / place)
        size = (aside / place).stat().st_size
        kept.append(Kept(file=name, path=str(place), sha256=sha256, size=size))
    return kept


def _readable_file(path: Path) -> str:
    try:
        return sha256_of_file(path)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise InputError(f"{path} cannot be read: {reason}", "Check who may read it") from None


def _inside(path: Path, out: Path) -> PurePosixPath | None:
    """The path of a file that is in the folder already, to be left there; None for all others."""
    try:
        inside = path.resolve(strict=True).relative_to(out.resolve())
    except ValueError:
        return None
    if path.is_symlink() or any(part.startswith(".") for part in inside.parts):
        return None
    if str(inside) in _OURS or inside.parts[0] in (PACK, EARLIER):
        raise InputError(f"'{path}' would be overwritten", "Give --out another folder")
    return PurePosixPath(inside)


def _left(path: Path, aside: Path) -> None:
    """A file that stays where it is: the same file by a second name, or a copy where the disk has no such."""
    if aside.exists():
        return
    aside.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(path, aside)
    except OSError:
        copy_synced(path, aside)


def _free(out: Path, aside: Path, place: PurePosixPath, sha256: str) -> PurePosixPath:
    """The first path of that name that is free, or holds the very same file: home/2/name, home/3/name..."""
    number, tried = 1, place
    while True:
        found = next((one / tried for one in (aside, out) if (one / tried).exists()), None)
        if found is None or (found.is_file() and sha256_of_file(found) == sha256):
            return tried
        number += 1
        tried = place.parent / str(number) / place.name


def _pack(aside: Path, out: Path, name: str, sha256: str) -> str:
    """Copy the pack and the common files; return the path of its folder. Packs of different content do not
    share a folder, so a report always finds its own. Raises InputError where the pack was changed meanwhile."""
    pack = load_pack(name)
    home = Path(PACK, sha256[:12])
    own = home / pack.folder.name
    if (out / own).is_dir() and _pack_sha256(out / own) == sha256:
        return own.as_posix()
    for path in pack_files(pack.folder, pack.common):
        inner = (
            Path("common", path.name)
            if path.parent == pack.common
            else Path(pack.folder.name, path.relative_to(pack.folder))
        )
        copy_synced(path, aside / home / inner)
    if _pack_sha256(aside / own) != sha256:
        raise InputError(
            f"The pack '{pack.head.name}' was changed while it was being used", "Check again"
        )
    return own.as_posix()


def _pack_sha256(folder: Path) -> str:
    return pack_sha256(pack_files(folder, folder.parent / "common"))
