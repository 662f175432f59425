"""Where one inspection is served, the first address leads to its review."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from spokenfor.web.state import Bench

router = APIRouter()


@router.get("/")
def review(bench: Bench) -> Response:
    """The review of the one inspection."""
    return RedirectResponse(f"/inspections/{bench.library.one}/review", status_code=303)
