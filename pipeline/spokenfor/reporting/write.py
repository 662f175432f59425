"""How do the five files reach the folder without ever leaving a half-written report?"""

from __future__ import annotations

import errno
import os
import secrets
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.models import Result, Transcript
from spokenfor.reporting.captions_out import transcript_vtt
from spokenfor.reporting.json_form import report_json
from spokenfor.reporting.page import report_html
from spokenfor.reporting.sound_source import embedded, embeds, linked, sound_files
from spokenfor.reporting.tables import findings_csv, items_csv
from spokenfor.reporting.thumbnails import pictures


def write_reports(
    result: Result,
    transcript: Transcript,
    sounds: Sequence[Path],
    out: Path,
    *,
    embed: bool | None = None,
    photos: Sequence[Path] = (),
) -> Path:
    """Write report.json, report.html, items.csv, findings.csv, transcript.vtt; return report.html.

    `sounds` are the files of the recordings, in their order; none where there is no sound; `photos` those
    of the pictures. `embed`
    None puts the sound inside the page when all files together are small, else links it. Older
    files give way only when all new ones are complete. Raises InputError.
    """
    texts = {
        "report.json": report_json(result),
        "items.csv": items_csv(result),
        "findings.csv": findings_csv(result),
        "transcript.vtt": transcript_vtt(transcript),
        "report.html": report_html(
            result,
            transcript,
            _sound(result, sounds, out, embed),
            pictures(result.photos, photos, out),
        ),
    }
    write_files(texts, out)
    return out / "report.html"


def write_files(texts: Mapping[str, str], out: Path) -> None:
    """Write texts by their names into a folder, made where it is missing: all complete, or none changed.

    Raises InputError.
    """
    made = not out.exists()
    try:
        out.mkdir(parents=True, exist_ok=True)
        _write_all(texts, out)
    except OSError as error:
        if made:
            with suppress(OSError):
                out.rmdir()
        raise _unwritten(out, error) from error


def _sound(result: Result, sounds: Sequence[Path], out: Path, embed: bool | None) -> dict[int, str]:
    found = sound_files(result.recordings, sounds)
    try:
        if embeds(list(found.values()), embed):
            return {index: embedded(path) for index, path in found.items()}
    except OSError as error:
        raise InputError(
            f"The sound {str(error.filename)!r} cannot be read: {_reason(error)}",
            "Put the recording back where it was, or make the report without embedded sound",
        ) from error
    return {index: linked(path, out) for index, path in found.items()}


def _write_all(texts: Mapping[str, str], out: Path) -> None:
    """Write each file aside, then rename them one by one. Raises OSError, all tidied up."""
    for name in texts:
        if (out / name).is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(out / name))
    token = secrets.token_hex(4)
    aside = {name: out / f".{name}.{token}.part" for name in texts}
    try:
        for name, text in texts.items():
            with aside[name].open("xb") as file:
                file.write(text.encode("utf-8"))
                file.flush()
                os.fsync(file.fileno())
        for name in texts:
            aside[name].replace(out / name)
    finally:
        for path in aside.values():
            with suppress(OSError):
                path.unlink(missing_ok=True)


def _unwritten(out: Path, error: OSError) -> InputError:
    mend = {
        errno.ENOSPC: "Free some space, or give another folder",
        errno.EDQUOT: "Free some space, or give another folder",
        errno.EISDIR: "Move that folder away, or give another folder",
    }.get(error.errno or 0, "Give a folder that can be written to")
    return InputError(
        f"The report cannot be written to {str(out)!r} ({_reason(error)}), "
        "what stood there is unchanged",
        mend,
    )


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()
