"""What do all pages work with? One object for one folder served."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from fastapi import Depends, Request

from spokenfor.web.check_queue import Queue
from spokenfor.web.deriving import Deriving
from spokenfor.web.drafts import Drafts
from spokenfor.web.library import Library
from spokenfor.web.limits import Limits
from spokenfor.web.listing import Listing
from spokenfor.web.opened import Shelf
from spokenfor.web.replays import Replays

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey


class Workbench:
    """The folder served and everything over it. `key` signs what is sealed here, if one was given."""

    def __init__(self, library: Library, key: Ed25519PrivateKey | None = None) -> None:
        self.limits = Limits()
        self.key = key
        self.library = library
        self.drafts = Drafts(self.library)
        self.shelf = Shelf(self.library)
        self.listing = Listing(self.library, self.drafts, self.shelf)
        self.derived = Deriving()
        self.queue = Queue(self.library, self.drafts, self.limits, self.listing, self.shelf)
        self.replays = Replays(self.library, self.queue, self.limits)


def _of(request: Request) -> Workbench:
    bench: Workbench = request.app.state.bench
    return bench


Bench = Annotated[Workbench, Depends(_of)]
