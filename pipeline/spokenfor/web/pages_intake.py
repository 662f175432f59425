"""The page on which an inspection is recorded, and the addresses that its sound is sent to."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Annotated, Any

from fastapi import APIRouter, Form, Path, Query, Request
from starlette.responses import RedirectResponse, Response, StreamingResponse

from spokenfor.errors import InputError
from spokenfor.record.folder import Inspection
from spokenfor.web.csrf import Csrf
from spokenfor.web.drafts import DraftSound
from spokenfor.web.intake import (
    RECORDED,
    TooManyError,
    open_draft,
    received,
    refuse_other_content,
    room_for,
    stored_name,
)
from spokenfor.web.library import ID_PATTERN, NotThereError
from spokenfor.web.render import page
from spokenfor.web.state import Bench, Workbench
from spokenfor.web.to_say import ZoneToSay, all_to_say, left_to_say

router = APIRouter(prefix="/inspections/{name}")
Name = Annotated[str, Path(pattern=ID_PATTERN)]
Number = Annotated[int, Path(ge=1, le=9999)]
Piece = Annotated[int, Path(ge=1, le=999_999)]


@router.get("/record")
def record(request: Request, bench: Bench, name: Name) -> Response:
    """Record or drop sound; while it is checked, how far it is."""
    known: Inspection | None = None
    sealed = None
    to_say: list[ZoneToSay] = []
    if bench.library.has_inspection(name):
        opened = bench.shelf.open("inspections", name)
        known, sealed = opened.inspection, opened.review.sealed
        to_say = left_to_say(opened.review.result)
    there = bench.drafts.exists(name)
    asked = bench.drafts.asked(name) if there or known is None else None
    if asked is not None and known is None:
        to_say = all_to_say(asked.pack)
    return page(
        request,
        "recording.html",
        name=name,
        asset=asked.asset if asked else (known.settings.asset if known else ""),
        pack=asked.pack if asked else (known.settings.pack.name if known else ""),
        by=asked.by if asked else (known.settings.by if known else ""),
        known=known,
        to_say=to_say,
        sealed=sealed,
        sounds=bench.drafts.sounds(name) if there else [],
        status=_status(bench, name),
        kinds=list(RECORDED),
        file_limit=bench.limits.file,
    )


@router.post("/files", dependencies=[Csrf])
async def add_file(
    request: Request,
    bench: Bench,
    name: Name,
    file: Annotated[str, Query(alias="name", min_length=1, max_length=1000)],
    changed: Annotated[float | None, Query(ge=0, le=4e9, allow_inf_nan=False)] = None,
) -> dict[str, Any]:
    """Store a file that comes as the body; it is on the disk when the answer is given."""
    kept = stored_name(file)
    await asyncio.to_thread(_room, bench, name, request)
    async with received(request.stream(), bench.library) as arrived:
        await asyncio.to_thread(refuse_other_content, arrived, kept, bench.limits)
        return _as_json(
            await asyncio.to_thread(bench.drafts.add_file, name, arrived, kept, changed)
        )


@router.post("/recordings", dependencies=[Csrf])
async def begin(
    request: Request, bench: Bench, name: Name, kind: Annotated[str, Form(max_length=100)]
) -> dict[str, int]:
    """Begin a recording that will come in pieces of this media type."""
    suffix = RECORDED.get(kind.partition(";")[0].strip().lower())
    if suffix is None:
        raise InputError("This browser records in a form that is not taken", "Drop a file instead")
    await asyncio.to_thread(_room, bench, name, request)
    return {"number": await asyncio.to_thread(bench.drafts.begin_recording, name, suffix)}


@router.put("/recordings/{number}/pieces/{piece}", dependencies=[Csrf])
async def add_piece(
    request: Request, bench: Bench, name: Name, number: Number, piece: Piece
) -> dict[str, int]:
    """Store one piece of a recording; it is on the disk when the answer is given."""
    if piece > bench.limits.pieces:
        raise TooManyError("This recording is too long", "End it and begin another")
    await asyncio.to_thread(_room, bench, name, request, more=False)
    async with received(request.stream(), bench.library) as arrived:
        await asyncio.to_thread(bench.drafts.add_piece, name, number, piece, arrived)
    return {"stored": piece}


@router.post("/recordings/{number}/end", dependencies=[Csrf])
def end(
    bench: Bench, name: Name, number: Number, pieces: Annotated[int, Form(ge=1, le=999_999)]
) -> dict[str, Any]:
    """End a recording of so many pieces."""
    return _as_json(bench.drafts.end_recording(name, number, pieces))


@router.post("/recordings/{number}/remove", dependencies=[Csrf])
def remove(bench: Bench, name: Name, number: Number) -> Response:
    """Take a recording away that was not checked yet."""
    if _busy(bench, name):
        raise InputError("This inspection is being checked", "Wait until that is done")
    bench.drafts.remove(name, number)
    if not bench.drafts.sounds(name) and bench.library.has_inspection(name):
        bench.drafts.drop(name)
    return RedirectResponse(f"/inspections/{name}/record", status_code=303)


@router.post("/drop", dependencies=[Csrf])
def drop(bench: Bench, name: Name) -> Response:
    """Give up what was not checked yet, recordings and all."""
    if _busy(bench, name):
        raise InputError("This inspection is being checked", "Wait until that is done")
    bench.drafts.drop(name)
    return RedirectResponse("/", status_code=303)


@router.post("/check", dependencies=[Csrf])
async def check(bench: Bench, name: Name) -> Response:
    """Put the inspection into the queue."""
    await bench.queue.start_check(name)
    return RedirectResponse(f"/inspections/{name}/record", status_code=303)


@router.get("/status")
def status(bench: Bench, name: Name) -> dict[str, Any]:
    """Where the check stands, as the events say it."""
    return _status(bench, name)


@router.get("/events")
async def events(bench: Bench, name: Name) -> Response:
    """Where the check stands, each time that it changes (server-sent events)."""
    await asyncio.to_thread(_status, bench, name)

    async def stream() -> AsyncIterator[str]:
        told: dict[str, Any] = {}
        async for changed in bench.queue.changes():
            now = await asyncio.to_thread(_status, bench, name)
            if now != told:
                told = now
                yield f"data: {json.dumps(now)}\n\n"
            elif not changed:
                yield ": still there\n\n"
            if now["state"] not in ("waiting", "working"):
                return

    return StreamingResponse(stream(), media_type="text/event-stream")


def _status(bench: Workbench, name: str) -> dict[str, Any]:
    """State, place in the queue (1: at work or next), stage, and share done 0..1 where it is known."""
    if not bench.drafts.exists(name):
        if bench.library.has_inspection(name):
            return {"state": "done"}
        bench.drafts.asked(name)  # raises that it is not there
    try:
        job = bench.drafts.job(name)
    except NotThereError:
        return {"state": "done"}  # it ended between the two looks
    progress = bench.queue.progress(name)
    waiting = bench.queue.waiting()
    return {
        "state": job.state,
        "place": waiting.index(name) + 1 if name in waiting else None,
        "stage": progress.stage if progress else None,
        "share": min(1.0, progress.done / progress.total) if progress and progress.total else None,
        "sheet": progress.sheet if progress else None,
        "wrong": job.wrong,
        "mend": job.mend,
    }


def _busy(bench: Workbench, name: str) -> bool:
    return bench.drafts.job(name).state in ("waiting", "working")


def _room(bench: Workbench, name: str, request: Request, *, more: bool = True) -> None:
    """Raises InputError where the inspection, or the disk, cannot take what is being sent."""
    open_draft(bench.library, bench.drafts, bench.shelf, name)
    room_for(bench.library, bench.limits, int(request.headers.get("content-length", "0")))
    if more and len(bench.drafts.sounds(name)) >= bench.limits.sounds:
        raise TooManyError(
            f"An inspection takes {bench.limits.sounds} files", "Start another inspection"
        )


def _as_json(sound: DraftSound) -> dict[str, Any]:
    return {"number": sound.number, "name": sound.name, "size": sound.size}
