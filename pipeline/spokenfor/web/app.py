"""The application: guard, pages, errors in words, and what runs beside the pages."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from http import HTTPStatus

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, Response
from starlette.types import ASGIApp

from spokenfor import __version__
from spokenfor.errors import InputError
from spokenfor.web import (
    pages_auditor,
    pages_inspection,
    pages_intake,
    pages_list,
    pages_one,
    pages_review,
    pages_search,
    pages_sound,
    pages_static,
    pages_trainer,
)
from spokenfor.web.csrf import ForgedError
from spokenfor.web.guard import Guard, Session, TooLargeError, too_large
from spokenfor.web.library import NotThereError
from spokenfor.web.render import page
from spokenfor.web.state import Workbench

_OF_MANY = (pages_list.router, pages_search.router, pages_trainer.comparing)
_OF_ONE = (
    pages_static.router,
    pages_intake.router,
    pages_auditor.router,
    pages_trainer.router,
    pages_review.writing,
    pages_review.router,
    pages_sound.router,
    pages_inspection.router,
)


def application(bench: Workbench, session: Session) -> ASGIApp:
    """The whole workbench as an ASGI application."""
    app = FastAPI(
        title="spokenfor workbench",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        lifespan=_beside,
    )
    app.state.bench, app.state.session = bench, session
    alone = bench.library.one is not None
    for router in (*((pages_one.router,) if alone else _OF_MANY), *_OF_ONE):
        app.include_router(router)
    for error in (InputError, HTTPException, RequestValidationError, OSError):
        app.add_exception_handler(error, _in_words)
    app.add_exception_handler(TooLargeError, _too_large)
    return Guard(app, session, bench.limits)


@asynccontextmanager
async def _beside(app: FastAPI) -> AsyncIterator[None]:
    """The queue and the reading of the list run as long as the server does."""
    bench: Workbench = app.state.bench
    await asyncio.to_thread(bench.drafts.tidy)
    work = [
        asyncio.create_task(bench.queue.run()),
        asyncio.create_task(bench.listing.read_all(bench.limits)),
    ]
    try:
        yield
    finally:
        for one in work:
            one.cancel()
        await asyncio.gather(*work, return_exceptions=True)


async def _in_words(request: Request, error: Exception) -> Response:
    """What is wrong and how to mend it, as a page or, for scripts, as JSON."""
    status, wrong, mend = _said(error)
    if "text/html" not in request.headers.get("accept", ""):
        return JSONResponse({"wrong": wrong, "mend": mend}, status)
    return page(request, "wrong.html", status, wrong=wrong, mend=mend)


def _said(error: Exception) -> tuple[int, str, str]:
    if isinstance(error, NotThereError):
        return HTTPStatus.NOT_FOUND, error.wrong, error.mend
    if isinstance(error, ForgedError):
        return HTTPStatus.FORBIDDEN, error.wrong, error.mend
    if isinstance(error, InputError):
        return HTTPStatus.CONFLICT, error.wrong, error.mend
    if isinstance(error, HTTPException):
        return error.status_code, str(error.detail), "Go back to the list of inspections"
    if isinstance(error, RequestValidationError):
        first = error.errors()[0]
        name = first["loc"][-1] if first["loc"] else "request"
        wrong = f"'{name}' is not what the page sends"
        return HTTPStatus.UNPROCESSABLE_ENTITY, wrong, "Load the page again"
    assert isinstance(error, OSError)
    reason = (error.strerror or "unknown reason").lower()
    return (
        HTTPStatus.INSUFFICIENT_STORAGE,
        f"The disk refuses: {reason}",
        "Check its space and rights; what was acknowledged is stored",
    )


async def _too_large(request: Request, error: Exception) -> Response:
    return too_large()
