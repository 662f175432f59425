"""The sound and photos of an inspection or bag: sound to be played from any second (HTTP ranges), and drawn."""

from __future__ import annotations

import asyncio
from typing import Annotated

from fastapi import APIRouter, Path, Request
from starlette.responses import FileResponse, Response

from spokenfor.errors import InputError
from spokenfor.reporting.sound_source import media_type
from spokenfor.web.library import ID_PATTERN
from spokenfor.web.opened import Kind, Opened
from spokenfor.web.peaks import listening_file, read_peaks
from spokenfor.web.render import page
from spokenfor.web.run_child import run_child
from spokenfor.web.state import Bench, Workbench
from spokenfor.web.waveform import waveform

router = APIRouter(prefix="/{kind}/{name}")
Name = Annotated[str, Path(pattern=ID_PATTERN)]
_one_at_a_time = asyncio.Lock()
_SHOWN = {
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".png": "image/png",
    ".webp": "image/webp",
}


@router.get("/sound/{number}")
async def sound(bench: Bench, kind: Kind, name: Name, number: int) -> Response:
    """A recording, or its listening copy where browsers cannot seek in it."""
    opened = await asyncio.to_thread(bench.shelf.open, kind, name)
    sha256, path = await asyncio.to_thread(opened.recording, number)
    await _prepared(bench, opened)
    file = listening_file(bench.library.sound, sha256, path)
    return FileResponse(file, media_type=media_type(file))


@router.get("/photos/{number}")
def photo(bench: Bench, kind: Kind, name: Name, number: int) -> Response:
    """A photo as it was taken; what browsers do not show is given as a file."""
    path = bench.shelf.open(kind, name).photo(number)
    shown = _SHOWN.get(path.suffix.lower())
    if shown is None:
        return FileResponse(path, filename=path.name, media_type="application/octet-stream")
    return FileResponse(path, media_type=shown)


@router.get("/waveform")
async def drawing(request: Request, bench: Bench, kind: Kind, name: Name) -> Response:
    """The waveform as a piece of a page; made when it is first asked for."""
    opened = await asyncio.to_thread(bench.shelf.open, kind, name)
    failure = await _prepared(bench, opened)
    rows = opened.inspection.settings.recordings
    peaks = [read_peaks(bench.library.sound, one.sha256) for one in rows]
    drawn = waveform([one for one in peaks if one is not None]) if all(peaks) else None
    return page(
        request, "waveform.html", wave=drawn if rows else None, failure=failure, opened=opened
    )


async def _prepared(bench: Workbench, opened: Opened) -> InputError | None:
    """Make peaks and listening copies where they are missing, in a process of their own."""
    rows = opened.inspection.settings.recordings
    async with _one_at_a_time:
        missing = [
            number
            for number, one in enumerate(rows)
            if read_peaks(bench.library.sound, one.sha256) is None
        ]
        if not missing:
            return None
        files = [str(opened.recording(number)[1]) for number in missing]
        asked = {"job": "sound", "sounds": files, "cache": str(bench.library.sound)}
        return (await run_child(asked, bench.limits)).failure
