"""How is the workbench started: on which address, and what is printed?"""

from __future__ import annotations

import asyncio
import logging
import socket
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from spokenfor.errors import InputError
from spokenfor.record.lock import locked

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    from spokenfor.web.library import Library

LOCAL = ("127.0.0.1", "localhost", "[::1]")


def serve_folder(
    root: Path,
    host: str,
    port: int,
    key: Ed25519PrivateKey | None,
    say: Callable[[str], None],
) -> None:
    """Serve a folder of inspections until interrupted; `port` 0 takes a free one. Raises InputError."""
    from spokenfor.web.library import Library

    library = Library(root)
    with _alone(library):
        _serve(library, f"Workbench of {library.root}", host, port, key, say)


def serve_inspection(
    folder: Path, port: int, key: Ed25519PrivateKey | None, say: Callable[[str], None]
) -> None:
    """Serve one inspection, to this machine alone, until interrupted. Raises InputError."""
    from spokenfor.web.one_inspection import OneInspection

    library = OneInspection(folder)
    with _alone(library):
        _serve(library, f"Review of {library.folder}", "127.0.0.1", port, key, say)


@contextmanager
def _alone(library: Library) -> Iterator[None]:
    """Two servers would check the same drafts, and each clear away what is arriving at the other."""
    with ExitStack() as held:
        try:
            held.enter_context(locked(library.own, wait=1.0))
        except InputError:
            raise InputError(
                f"'{library.own.parent}' is being served already",
                "Use the address that was printed there, or stop it first",
            ) from None
        yield


def _serve(
    library: Library,
    title: str,
    host: str,
    port: int,
    key: Ed25519PrivateKey | None,
    say: Callable[[str], None],
) -> None:
    import uvicorn

    from spokenfor.web.app import application
    from spokenfor.web.guard import Session
    from spokenfor.web.state import Workbench

    bench = Workbench(library, key=key)
    listening = _listen(host, port)
    port = listening.getsockname()[1]
    named = f"[{host}]" if ":" in host else host
    names = {*LOCAL, named.lower(), *_own_names(host)}
    session = Session(frozenset(f"{one}:{port}" for one in names), port)
    log = logging.getLogger("uvicorn.error")
    log.setLevel(logging.WARNING)
    log.addFilter(_worth_saying)
    config = uvicorn.Config(
        application(bench, session),
        log_config=None,
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=2,
        timeout_keep_alive=30,
        ws="none",
    )
    say(title)
    say(f"Open http://{named}:{port}/?token={session.token}")
    if host not in ("127.0.0.1", "localhost", "::1"):
        say("Other machines can reach it; browsers there will not record over plain http.")
    say("Stop with Ctrl-C; recordings and decisions are on the disk.")
    uvicorn.Server(config).run(sockets=[listening])
    # It ends only when it is told to. uvicorn raises the signal again at its end, which once in some hundred
    # stops under load came to nothing.
    raise KeyboardInterrupt


def _worth_saying(record: logging.LogRecord) -> bool:
    """Answers that were cut short because the server was stopped are no fault of anything."""
    kind = record.exc_info[0] if record.exc_info else None
    cut = kind is not None and issubclass(kind, asyncio.CancelledError)
    return not cut and not record.getMessage().startswith("Cancel ")


def _own_names(host: str) -> set[str]:
    """By what names others reach this machine, where it listens on all its addresses."""
    if host not in ("0.0.0.0", "::"):
        return set()
    name = socket.gethostname()
    try:
        addresses = socket.gethostbyname_ex(name)[2]
    except OSError:
        addresses = []
    return {name.lower(), *addresses}


def _listen(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
    except OSError as error:
        listening.close()
        reason = (error.strerror or str(error)).lower()
        raise InputError(
            f"{host}, port {port}, cannot be listened on: {reason}",
            "Give another --port, or 0 for any that is free",
        ) from error
    return listening
