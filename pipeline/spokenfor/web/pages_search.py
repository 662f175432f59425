"""Looking for words in all inspections and bags, and for what came again on one asset."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from spokenfor.record.search import Answer, day, find
from spokenfor.record.search_hits import Scope
from spokenfor.record.search_repeats import repeats
from spokenfor.web.found import found_rows, repeat_rows
from spokenfor.web.render import page
from spokenfor.web.state import Bench

router = APIRouter()
Day = Annotated[str, Query(max_length=20)]
_SHOWN = 100


@router.get("/search")
def search(
    request: Request,
    bench: Bench,
    words: Annotated[str, Query(alias="q", max_length=400)] = "",
    asset: Annotated[str, Query(max_length=200)] = "",
    since: Day = "",
    until: Day = "",
) -> Response:
    """Every place that holds all the words."""
    answer: Answer | None = None
    if words.strip():
        scope = Scope(
            asset.strip() or None,
            day(since) if since else None,
            day(until, last=True) if until else None,
        )
        answer = find(bench.library.root, words.split(), scope, limit=_SHOWN)
    asked = {"q": words, "asset": asset, "since": since, "until": until}
    rows = list(found_rows(answer)) if answer else []
    shown = sum(len(one.hits) for one in rows)
    return page(request, "search.html", asked=asked, answer=answer, rows=rows, shown=shown)


@router.get("/asset")
def asset(
    request: Request, bench: Bench, name: Annotated[str, Query(min_length=1, max_length=400)]
) -> Response:
    """The inspections of one asset, and what was found on it more than once."""
    again, notes = repeats(bench.library.root, Scope(name))
    rows = bench.listing.of_asset(name)
    return page(
        request,
        "asset.html",
        name=name,
        inspections=rows,
        again=list(repeat_rows(again)),
        notes=notes,
    )
