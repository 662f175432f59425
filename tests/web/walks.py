"""Inspection folders that need no recogniser: the walk of tests/reporting, with sound that plays."""

from __future__ import annotations

from pathlib import Path

from tests.record.walked import Walked, sha256, walked
from tests.reporting.conftest import write_tone
from tests.reporting.spoken_walk import WALK


def played(folder: Path) -> Walked:
    """A check of two recordings of tones, made in `folder`."""
    check = walked(folder)
    for path, recording, one in zip(
        check.asked.sounds, check.result.recordings, WALK["recordings"], strict=True
    ):
        write_tone(path, one["seconds"])
        recording.sha256 = sha256(path)
    check.transcript.recordings = check.result.recordings
    return check


def kept(
    root: Path,
    name: str = "r07",
    asset: str = "R-07",
    by: str = "Sample voice",
    day: str = "2025-05-03",
) -> Path:
    """The walk as an inspection folder in `root`, made on a day."""
    check = played(root.parent / "phone")
    check.result.inspection.asset, check.result.inspection.by = asset, by
    check.result.inspection.id = f"{day}-{name}"
    check.result.inspection.started = f"{day}T07:41:00+00:00"
    asked = type(check.asked)(check.asked.sounds, asset=asset, by=by)
    Walked(asked, check.result, check.transcript).keep(root / name)
    return root / name
