"""Who may ask, from where, and how much may they send? Every request passes here before anything else.

Four locks: the Host header must name this server (against DNS rebinding), a request that changes something
must come from this server's own pages (Origin, Sec-Fetch-Site), the session cookie must be the one given out
for the token of this start, and forms and scripts must repeat the CSRF token (see `csrf.py`).
"""

from __future__ import annotations

import hmac
import re
import secrets
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from spokenfor.web.limits import Limits

SAFE = {"GET", "HEAD"}
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
        "media-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "microphone=(self), camera=(), geolocation=()",
}
_PIECE = re.compile(r"/inspections/[^/]+/recordings/\d+/pieces/\d+")
_FILE = re.compile(r"/inspections/[^/]+/files")
_REFUSED = (
    "<!doctype html><html lang='en-GB'><meta charset='utf-8'><title>Refused</title>"
    "<main><h1>{what}</h1><p>{mend}</p></main>"
)


@dataclass(frozen=True)
class Session:
    """The secrets of one start of the server. `token` stands in the address that is printed and is good
    for getting the cookie; `cookie` and `csrf` never leave the browser that got them."""

    hosts: frozenset[str]
    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(32))
    cookie: str = field(default_factory=lambda: secrets.token_urlsafe(32))
    csrf: str = field(default_factory=lambda: secrets.token_urlsafe(32))

    @property
    def cookie_name(self) -> str:
        """Cookies do not know ports, so two workbenches on one machine need two names."""
        return f"spokenfor-{self.port}"

    def known(self, given: str | None) -> bool:
        return given is not None and hmac.compare_digest(given.encode(), self.cookie.encode())


class Guard:
    """ASGI middleware around the whole application."""

    def __init__(self, app: ASGIApp, session: Session, limits: Limits) -> None:
        self._app = app
        self._session = session
        self._limits = limits

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            return await self._app(scope, receive, send)
        if scope["type"] != "http":
            return None
        send = _with_headers(send)
        refusal = self._refusal(scope, Headers(scope=scope))
        if refusal is not None:
            return await refusal(scope, receive, send)
        await self._app(scope, _bounded(receive, self._largest(scope)), send)
        return None

    def _refusal(self, scope: Scope, headers: Headers) -> Response | None:
        host = headers.get("host", "")
        if host.lower() not in self._session.hosts:
            return _refused(421, "Another host", "Use the address that the program printed.")
        own = {f"http://{one}" for one in self._session.hosts}
        origin = headers.get("origin")
        changing = scope["method"] not in SAFE
        foreign = origin is not None and origin.lower() not in own
        site = headers.get("sec-fetch-site", "same-origin")
        if foreign or (changing and site not in ("same-origin", "none")):
            return _refused(403, "From another site", "Use the pages of the workbench itself.")
        if scope["path"] == "/" and scope["method"] == "GET":
            given = parse_qs(scope["query_string"].decode("latin-1")).get("token")
            if given:
                return self._enter(given[0])
        if not self._session.known(_cookie(headers, self._session.cookie_name)):
            return _refused(
                403,
                "Not let in",
                "Open the address with its token that the program printed when it started.",
            )
        length = headers.get("content-length", "0")
        if not length.isascii() or not length.isdigit() or int(length) > self._largest(scope):
            return too_large()
        return None

    def _enter(self, token: str) -> Response:
        if not hmac.compare_digest(token.encode(), self._session.token.encode()):
            return _refused(403, "Not let in", "The token is of another start; see the terminal.")
        answer = RedirectResponse("/", status_code=303)
        answer.set_cookie(
            self._session.cookie_name, self._session.cookie, httponly=True, samesite="strict"
        )
        answer.headers["Cache-Control"] = "no-store"
        return answer

    def _largest(self, scope: Scope) -> int:
        if _PIECE.fullmatch(scope["path"]):
            return self._limits.piece
        return self._limits.file if _FILE.fullmatch(scope["path"]) else self._limits.form


class TooLargeError(Exception):
    """More came in than was promised or allowed."""


def _bounded(receive: Receive, largest: int) -> Receive:
    """Receive a body up to a number of bytes. Raises TooLargeError."""
    left = largest

    async def receiving() -> Message:
        nonlocal left
        message = await receive()
        if message["type"] == "http.request":
            left -= len(message.get("body", b""))
            if left < 0:
                raise TooLargeError
        return message

    return receiving


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return sending


def _cookie(headers: Headers, name: str) -> str | None:
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return None
    return found.value if found else None


def _refused(status: int, what: str, mend: str) -> Response:
    return HTMLResponse(_REFUSED.format(what=what, mend=mend), status)


def too_large() -> Response:
    """The answer to a body over its limit."""
    return _refused(413, "Too large", "Send less at once; a long recording can be split.")
