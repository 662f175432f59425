"""How does a page become HTML? The report's own templates and look, and those of the workbench."""

from __future__ import annotations

from functools import cache
from typing import Any
from urllib.parse import quote

from fastapi import Request
from jinja2 import Environment
from starlette.responses import HTMLResponse

from spokenfor import CAUTIONS
from spokenfor.reporting.environment import environment
from spokenfor.reporting.wording import STATUS_WORDS, day_and_time, plain

_PLACES = (
    ("/", "Inspections"),
    ("/new", "New"),
    ("/search", "Search"),
    ("/bags", "Sealed"),
    ("/compare", "Compare"),
)
_PLACES_OF_ONE = (("/", "Review"), ("/bags", "Sealed"))


@cache
def _environment() -> Environment:
    made = environment("spokenfor.web")
    made.filters |= {
        "plain": plain,
        "moment": day_and_time,
        "address": lambda text: quote(str(text), safe=""),
    }
    made.globals |= {"status_words": STATUS_WORDS, "cautions": CAUTIONS}
    return made


def page(request: Request, template: str, code: int = 200, **values: Any) -> HTMLResponse:
    """Render a template; besides `values` it finds the CSRF token, the address of the page, the places that
    lead on from every page, and whether one inspection is served `alone`."""
    state = request.app.state
    alone = state.bench.library.one is not None
    text = (
        _environment()
        .get_template(template)
        .render(
            csrf=state.session.csrf,
            here=request.url.path,
            alone=alone,
            places=_PLACES_OF_ONE if alone else _PLACES,
            **values,
        )
    )
    return HTMLResponse(text, code)


def fragment(template: str, macro: str, *values: Any) -> str:
    """What one macro of a template gives, for a script to put into a page that is open."""
    return str(getattr(_environment().get_template(template).module, macro)(*values))
