"""The pages on which a person decides, and seals."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, BackgroundTasks, Form, Path, Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from spokenfor.errors import InputError
from spokenfor.record.archive_copy import write_archive_copy
from spokenfor.record.entries import Action
from spokenfor.record.review import Decision, decide
from spokenfor.record.seal import Seal
from spokenfor.record.seal import seal as seal_inspection
from spokenfor.record.subjects import INSPECTION
from spokenfor.web.csrf import Csrf
from spokenfor.web.library import ID_PATTERN, place_id
from spokenfor.web.opened import Kind
from spokenfor.web.render import fragment, page
from spokenfor.web.review_rows import review_list
from spokenfor.web.state import Bench

router = APIRouter(prefix="/{kind}/{name}")
writing = APIRouter(prefix="/inspections/{name}")
Name = Annotated[str, Path(pattern=ID_PATTERN)]
Text = Annotated[str | None, Form(max_length=5000)]
Decided = Literal[
    "accept",
    "change_status",
    "place_finding",
    "correct_words",
    "correct_time",
    "add_note",
    "reopen",
]


@router.get("/review")
def review(request: Request, bench: Bench, kind: Kind, name: Name) -> Response:
    """Every line that a person may decide on, those to be decided first."""
    opened = bench.shelf.open(kind, name)
    return page(
        request, "deciding.html", opened=opened, rows=review_list(opened), **opened.contents
    )


@router.get("/log")
def log(request: Request, bench: Bench, kind: Kind, name: Name) -> Response:
    """Who decided what, when and why; corrections and what the machine changed."""
    opened = bench.shelf.open(kind, name)
    return page(request, "log.html", opened=opened, labels=opened.called, **opened.contents)


@writing.post("/decisions", dependencies=[Csrf])
def take(
    request: Request,
    bench: Bench,
    later: BackgroundTasks,
    name: Name,
    action: Annotated[Decided, Form()],
    subject: Annotated[str, Form(max_length=300)],
    by: Annotated[str, Form(max_length=400)],
    why: Text = None,
    status: Text = None,
    item: Text = None,
    words: Text = None,
    start: Annotated[float | None, Form(allow_inf_nan=False)] = None,
    end: Annotated[float | None, Form(allow_inf_nan=False)] = None,
    seen: Annotated[int | None, Form(ge=0)] = None,
) -> Response:
    """Put a decision into the log. A script gets the line as it stands now, a form is led back."""
    folder = bench.library.inspection(name)
    wanted = Decision(
        Action(action), subject, by, why or None, status or None, item or None, words, start, end
    )
    entry = decide(folder, wanted, seen=seen)
    later.add_task(bench.derived.write, folder)
    if "text/html" in request.headers.get("accept", ""):
        where = "log" if subject == INSPECTION else "review"
        return RedirectResponse(f"/inspections/{name}/{where}", status_code=303)
    opened = bench.shelf.open("inspections", name)
    row = review_list(opened).find(entry.subject)
    answer: dict[str, Any] = {
        "entry": entry.number,
        "open": len(opened.review.open),
        "line": fragment("review_line.html", "line", row, False, opened) if row else None,
    }
    return JSONResponse(answer)


@writing.post("/pdf", dependencies=[Csrf])
def pdf(bench: Bench, name: Name) -> Response:
    """Write the archive copy as it stands now, and give it."""
    write_archive_copy(bench.library.inspection(name), None)
    return RedirectResponse(f"/inspections/{name}/files/report.pdf", status_code=303)


@router.get("/seal")
def sealing(request: Request, bench: Bench, kind: Kind, name: Name) -> Response:
    """What is still open, and the form that seals."""
    opened = bench.shelf.open(kind, name)
    return page(
        request,
        "seal.html",
        opened=opened,
        labels=opened.called,
        signs=bench.key is not None,
        **opened.contents,
    )


@writing.post("/seal", dependencies=[Csrf])
def seal(
    bench: Bench,
    name: Name,
    by: Annotated[str, Form(max_length=400)],
    licence: Text = None,
    despite: Text = None,
) -> Response:
    """Seal the inspection as a bag beside it."""
    folder = bench.library.inspection(name)
    if bench.drafts.exists(name):
        raise InputError(
            "A recording of this inspection was not checked yet", "Check it, or take it away"
        )
    bag = seal_inspection(folder, Seal(by, licence or None, bench.key, despite or None))
    return RedirectResponse(f"/bags/{place_id(bag)}", status_code=303)
