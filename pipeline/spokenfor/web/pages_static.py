"""Style sheets and scripts: a fixed list of files of the package, nothing else."""

from __future__ import annotations

from importlib.resources import files
from typing import Literal

from fastapi import APIRouter
from starlette.responses import Response

from spokenfor.comparing.pages import compared_script, compared_style
from spokenfor.reporting.environment import static_text, with_printing

router = APIRouter()

Shared = Literal["tokens.css", "page.css", "print.css", "page.js"]
Own = Literal[
    "workbench.css",
    "session.js",
    "record.js",
    "upload.js",
    "progress.js",
    "review.js",
    "words.js",
]
_KINDS = {"css": "text/css", "js": "text/javascript"}


@router.get("/static/report/{name}")
def shared(name: Shared) -> Response:
    """A file that the report uses too."""
    text = static_text(name)
    return _answer(name, with_printing(text) if name == "page.js" else text)


@router.get("/static/compared/{name}")
def compared(name: Literal["compared.css", "clips.js"]) -> Response:
    """A file that the pages of `spokenfor compare` use too."""
    return _answer(name, compared_style() if name == "compared.css" else compared_script())


@router.get("/static/{name}")
def own(name: Own) -> Response:
    """A file of the workbench."""
    return _answer(name, files("spokenfor.web").joinpath("static", name).read_text("utf-8"))


def _answer(name: str, text: str) -> Response:
    return Response(
        text,
        media_type=_KINDS[name.rpartition(".")[2]],
        headers={"Cache-Control": "no-cache"},
    )
