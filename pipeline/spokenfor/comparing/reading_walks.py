"""How is a walk read from an inspection folder, a sealed bag's folder or a report.json?"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from pathlib import Path

from pydantic import ValidationError

from spokenfor.comparing.walks import Walk
from spokenfor.errors import InputError
from spokenfor.models import Result
from spokenfor.record.bag import BAGIT, PAYLOAD
from spokenfor.record.digests import sha256_of_file
from spokenfor.record.folder import (
    REPORT_FILE,
    Inspection,
    is_inspection,
    open_inspection,
    read_inspection,
)
from spokenfor.record.outcome import Reviewed
from spokenfor.record.reviewed import reviewed
from spokenfor.record.subjects import all_evidence
from spokenfor.reporting.timeline import Span

MEND = "Give a folder that spokenfor check wrote, or its report.json"


def read_walk(path: Path, sounds: Sequence[Path] = ()) -> Walk:
    """Read one walk; decisions of its review log outrank what was proposed.

    `sounds` are folders to look for its recordings in, besides its own; a recording counts as found only
    where its SHA-256 is that of the report. Raises InputError.
    """
    if not path.exists():
        raise InputError(f"There is no '{path}'", MEND)
    folder = path if path.is_dir() else path.parent
    whole = path.is_dir() or path.name == REPORT_FILE
    if whole and (folder / BAGIT).is_file():
        return walk_of(read_inspection(folder / PAYLOAD), path)
    if whole and is_inspection(folder):
        return walk_of(open_inspection(folder), path)
    report = path / REPORT_FILE if path.is_dir() else path
    if not report.is_file():
        raise InputError(f"'{path}' holds no inspection", MEND)
    result = _report(report)
    return Walk(source=path, result=result, sounds=_found(result, [folder, *sounds]))


def walk_of(inspection: Inspection, source: Path, state: Reviewed | None = None) -> Walk:
    """The walk of an inspection that is open, its review in `state` where that was derived already. Raises
    InputError for times outside its recordings."""
    sound_of = {one.sha256: inspection.folder / one.path for one in inspection.settings.recordings}
    state = state or reviewed(inspection.result, inspection.log.entries)
    _check(state.result, source)
    by = {entry.number: entry.by for entry in inspection.log.entries}
    return Walk(
        source=source,
        result=state.result,
        decided_by={one: by[entries[-1]] for one, entries in state.decided.items() if entries},
        was={one.subject: one.proposed for one in reversed(state.changes)},
        transcript=inspection.transcript,
        sounds={
            number: sound_of[recording.sha256]
            for number, recording in enumerate(state.result.recordings)
            if recording.sha256 in sound_of and sound_of[recording.sha256].is_file()
        },
    )


def _report(path: Path) -> Result:
    try:
        content = path.read_bytes()
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise InputError(f"'{path}' cannot be read: {reason}", "Check who may read it") from error
    try:
        tree = json.loads(content)
    except (ValueError, RecursionError) as error:
        raise InputError(
            f"'{path}' is broken: it is no whole JSON", "Check the recordings again"
        ) from error
    try:
        result = Result.model_validate(tree)
    except ValidationError as error:
        raise InputError(f"'{path}' is no report of spokenfor", MEND) from error
    _check(result, path)
    return result


def _check(result: Result, source: Path) -> None:
    """Every passage lies in a recording of the report, at a time that can be drawn. Raises InputError."""
    lengths = [one.duration for one in result.recordings]
    sound = all(map(math.isfinite, lengths)) and all(
        0 <= one.recording < len(lengths) and math.isfinite(one.start) and math.isfinite(one.end)
        for one in _passages(result)
    )
    if not sound or not all(math.isfinite(zone.seconds) for zone in result.zones):
        raise InputError(
            f"'{source}' speaks of sound that it does not have", "Check the recordings again"
        )


def _passages(result: Result) -> Iterator[Span]:
    yield from all_evidence(result)
    yield from result.unheard
    for zone in result.zones:
        yield from zone.visits


def _found(result: Result, folders: Sequence[Path]) -> dict[int, Path]:
    """The recordings that lie in one of these folders under the name and with the bytes of the report."""
    found = {}
    for number, recording in enumerate(result.recordings):
        name = Path(recording.file).name
        for folder in folders:
            path = folder / name
            try:
                same = name and path.is_file() and sha256_of_file(path) == recording.sha256
            except (OSError, ValueError):
                continue
            if same:
                found[number] = path
                break
    return found
