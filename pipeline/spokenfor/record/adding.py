"""What is checked when recordings or pictures are added to an inspection?"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from spokenfor.check import Request
from spokenfor.errors import InputError
from spokenfor.record.folder import extended


def added(out: Path, request: Request) -> Request:
    """The request that checks the inspection in `out` with what `request` adds: its own pack, asset, name and
    weights hold, `started` counts from the first recording added. Raises InputError."""
    if request.captions is not None:
        raise InputError("Captions cannot be added to an inspection", "Leave --transcript out")
    if not request.sounds and not request.photos and request.photo_offset is None:
        raise InputError("Nothing was given to add", "Give recordings, or --photos")
    whole = extended(out, request.sounds)
    before = len(whole.sounds) - len(request.sounds)
    return replace(
        request,
        sounds=whole.sounds,
        pack=whole.pack,
        asset=whole.asset,
        by=whole.by,
        model=whole.model,
        photos=[*whole.photos, *request.photos],
        started=["" for _ in range(before)] + list(request.started) if request.started else [],
        photo_clock=whole.photo_clock,
    )
