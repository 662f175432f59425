"""Does a request that changes something carry the CSRF token of this session?"""

from __future__ import annotations

import hmac

from fastapi import Depends, Request

from spokenfor.errors import InputError
from spokenfor.web.guard import Session

HEADER, FIELD = "x-csrf", "csrf"


class ForgedError(InputError):
    """A request without the token that every page of the workbench carries."""


async def carries_token(request: Request) -> None:
    """Raises ForgedError unless the header, or the hidden field of a form, holds the token."""
    session: Session = request.app.state.session
    given = request.headers.get(HEADER)
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if given is None and kind == "application/x-www-form-urlencoded":
        sent = (await request.form()).get(FIELD)
        given = sent if isinstance(sent, str) else None
    if given is None or not hmac.compare_digest(given.encode(), session.csrf.encode()):
        raise ForgedError("The page was not of this session", "Load it again, then repeat")


Csrf = Depends(carries_token)
