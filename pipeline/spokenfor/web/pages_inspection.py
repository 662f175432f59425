"""The pages of one inspection or sealed bag that is read: what matters first, transcript, walk, files."""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from fastapi import APIRouter, Path, Query, Request
from starlette.responses import FileResponse, RedirectResponse, Response

from spokenfor.web.library import ID_PATTERN, NotThereError
from spokenfor.web.opened import Kind, inside
from spokenfor.web.render import page
from spokenfor.web.state import Bench
from spokenfor.web.word_lines import PAGE, page_of, word_lines

router = APIRouter(prefix="/{kind}/{name}")
Name = Annotated[str, Path(pattern=ID_PATTERN)]
FileName = Literal[
    "report.html",
    "report.json",
    "report.pdf",
    "items.csv",
    "findings.csv",
    "transcript.vtt",
    "reviewed.html",
    "reviewed.json",
    "hand-over.csv",
    "hand-over.json",
    "summary.md",
]


@router.get("")
def first(request: Request, bench: Bench, kind: Kind, name: Name) -> Response:
    """What matters first: not covered, findings, listen; then everything else of the report."""
    waiting = kind == "inspections" and bench.drafts.exists(name)
    if waiting and not bench.library.has_inspection(name):
        return RedirectResponse(f"/inspections/{name}/record", status_code=303)
    opened = bench.shelf.open(kind, name)
    files = [one for one in get_args(FileName) if (opened.folder / one).is_file()]
    return page(
        request, "first.html", opened=opened, waiting=waiting, files=files, **opened.contents
    )


@router.get("/walk")
def walk(request: Request, bench: Bench, kind: Kind, name: Name) -> Response:
    """The walk in time, and what the machine changed or did not hear."""
    opened = bench.shelf.open(kind, name)
    return page(request, "walked.html", opened=opened, **opened.contents)


@router.get("/transcript")
def transcript(
    request: Request,
    bench: Bench,
    kind: Kind,
    name: Name,
    number: Annotated[int | None, Query(alias="page", ge=1, le=100_000)] = None,
    recording: Annotated[int, Query(ge=0, le=9999)] = 0,
    at: Annotated[float, Query(ge=0, le=1e6)] = 0.0,
) -> Response:
    """One page of the transcript, word by word; the page of a moment unless a page is named."""
    opened = bench.shelf.open(kind, name)
    lines = word_lines(opened)
    pages = max(1, -(-len(lines) // PAGE))
    number = min(number or page_of(lines, recording, at), pages)
    shown = lines[(number - 1) * PAGE : number * PAGE]
    return page(
        request,
        "words.html",
        opened=opened,
        lines=shown,
        number=number,
        pages=pages,
        **opened.contents,
    )


@router.get("/files/{file}")
def file(bench: Bench, kind: Kind, name: Name, file: FileName) -> Response:
    """A report of the check as it stands in the folder, to be kept."""
    opened = bench.shelf.open(kind, name)
    try:
        path = inside(opened.folder, file)
    except NotThereError:
        raise NotThereError(f"There is no {file} here", "Check the recordings again") from None
    return FileResponse(path, filename=f"{name}-{file}", media_type="application/octet-stream")
