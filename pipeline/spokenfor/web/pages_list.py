"""The list of inspections, and how a new one is started."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form, Query, Request
from starlette.responses import RedirectResponse, Response

from spokenfor.errors import InputError
from spokenfor.packs.load import pack_head, pack_names
from spokenfor.record.review import one_line
from spokenfor.web.csrf import Csrf
from spokenfor.web.drafts import Asked
from spokenfor.web.listing import PAGE
from spokenfor.web.render import page
from spokenfor.web.state import Bench

router = APIRouter()


@router.get("/")
def inspections(
    request: Request,
    bench: Bench,
    number: Annotated[int, Query(alias="page", ge=1, le=100_000)] = 1,
    wanted: Annotated[str, Query(alias="q", max_length=200)] = "",
) -> Response:
    """The list, newest first, 50 a page."""
    found = bench.listing.page(number, wanted)
    return page(
        request,
        "list.html",
        rows=found.rows,
        total=found.total,
        number=number,
        pages=max(1, -(-found.total // PAGE)),
        wanted=wanted,
        unread=found.unread,
        waiting=len(bench.queue.waiting()),
    )


@router.get("/new")
def new(request: Request) -> Response:
    """The form for a new inspection."""
    packs = [(name, pack_head(name).title) for name in pack_names()]
    return page(request, "new.html", packs=packs)


@router.post("/inspections", dependencies=[Csrf])
def start(
    bench: Bench,
    asset: Annotated[str, Form(max_length=400)],
    pack: Annotated[str, Form(max_length=100)],
    by: Annotated[str, Form(max_length=400)],
) -> Response:
    """Start an inspection: it is on the disk before its page opens."""
    if pack not in pack_names():
        raise InputError("There is no such pack", "Choose one from the list")
    asset, by = one_line(asset, "asset"), one_line(by, "name")
    name = bench.library.new_id(asset)
    started = datetime.now(UTC).isoformat(timespec="seconds")
    bench.drafts.create(Asked(id=name, asset=asset, pack=pack, by=by, started=started))
    return RedirectResponse(f"/inspections/{name}/record", status_code=303)
