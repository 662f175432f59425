"""How does a check become an inspection folder, whole or not at all?"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Protocol

from spokenfor.errors import InputError
from spokenfor.models import Result, Transcript
from spokenfor.record.copies import CAPTIONS, EARLIER, PHOTOS, RECORDINGS, Copies, sha256_of
from spokenfor.record.derived import derived_files
from spokenfor.record.digests import readable, sha256_hex
from spokenfor.record.durable import copy_synced, finish, together, write_synced, writing
from spokenfor.record.entries import About, Action, Entry, line_of
from spokenfor.record.folder import (
    DERIVED,
    REPORT_FILE,
    TRANSCRIPT_FILE,
    Inspection,
    is_inspection,
    open_inspection,
    read_inspection,
)
from spokenfor.record.lock import locked
from spokenfor.record.log import LOG_FILE, Log, following, now, set_aside
from spokenfor.record.reviewed import sealed_by
from spokenfor.record.settings import SETTINGS_FILE, Kept, Settings, versions
from spokenfor.record.subjects import INSPECTION
from spokenfor.reporting.write import write_reports

_PERSONAL = {Action.ACCEPT, Action.CHANGE_STATUS, Action.PLACE_FINDING, Action.CORRECT_WORDS}
_PERSONAL |= {Action.CORRECT_TIME, Action.ADD_NOTE, Action.SEAL}
_PERSONAL |= {Action.SHIFT_PHOTOS, Action.PLACE_PHOTO}


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
    @property
    def photos(self) -> Sequence[Path]: ...


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
                _refuse(out, before, [one.sha256 for one in result.recordings])
                with together(out) as aside:
                    _write(aside, out, asked, result, transcript, before, embed)
    except BaseException:
        if made:
            with suppress(OSError):
                out.rmdir()
        raise
    return out / "report.html"


def refuse_other_inspection(out: Path, recordings: Sequence[Path]) -> None:
    """Raises InputError, before the long work, where a check of these recordings could not be kept in `out`:
    the inspection there is sealed, or holds decisions on other recordings."""
    if is_inspection(out):
        readable_ones = [path for path in recordings if path.is_file()]
        if len(readable_ones) == len(recordings):
            before = open_inspection(out)
            _refuse(out, before, [sha256_of(path) for path in recordings])


def _refuse(out: Path, before: Inspection | None, recordings: Sequence[str]) -> None:
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
    if decided and not known <= set(recordings):
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
    copies = Copies(out, aside)
    recordings = copies.files(RECORDINGS, asked.sounds)
    captions = copies.files(CAPTIONS, [asked.captions] if asked.captions else [])
    photos = _photos(copies, asked.photos, result)
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
        photos=photos,
        pack=result.inspection.pack,
        pack_path=copies.pack(asked.pack, result.inspection.pack.sha256),
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
        pictures = [aside / one.path for one in photos]
        write_reports(result, transcript, sounds, aside, embed=embed, photos=pictures)
    except InputError as error:
        # It would name the folder aside, which nobody knows.
        raise error.__cause__ if isinstance(error.__cause__, OSError) else error from None
    write_synced(aside / TRANSCRIPT_FILE, transcript_json(transcript))
    write_synced(aside / SETTINGS_FILE, readable(settings.model_dump(by_alias=True)))
    log = _log(out, before, result, (aside / REPORT_FILE).read_bytes())
    write_synced(aside / LOG_FILE, b"".join(line_of(one) for one in log))
    if any((out / name).exists() for name in DERIVED):
        made = Inspection(aside, settings, result, transcript, Log(log))
        for name, data in derived_files(made, log).items():
            write_synced(aside / name, data)


def _photos(copies: Copies, given: Sequence[Path], result: Result) -> list[Kept]:
    """The pictures of the report, in its order; each is kept once. Raises InputError where one was changed."""
    kept = {one.sha256: one for one in copies.files(PHOTOS, given)}
    found = [kept.get(one.sha256) for one in result.photos]
    if None in found or len(kept) != len(result.photos):
        raise InputError("A picture was changed during the check", "Check again")
    return [one for one in found if one is not None]


def transcript_json(transcript: Transcript) -> bytes:
    """The first transcript as transcript.json: sorted keys, same in, same out."""
    return readable(transcript.model_dump(mode="json", by_alias=True))


def _log(out: Path, before: Inspection | None, result: Result, report: bytes) -> list[Entry]:
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
    return entries
