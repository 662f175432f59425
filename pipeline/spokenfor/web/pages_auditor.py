"""What an auditor does: open a sealed bag, verify it, replay it."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Path, Request
from starlette.responses import RedirectResponse, Response

from spokenfor.web.bags import bag_folder
from spokenfor.web.csrf import Csrf
from spokenfor.web.library import ID_PATTERN
from spokenfor.web.render import page
from spokenfor.web.state import Bench
from spokenfor.web.verified import verified

router = APIRouter()
Name = Annotated[str, Path(pattern=ID_PATTERN)]


@router.get("/bags")
def bags(request: Request, bench: Bench) -> Response:
    """Every sealed bag in the folder served."""
    rows = sorted(bench.library.bags().items(), reverse=True)
    return page(request, "bags.html", bags=[(name, path.name) for name, path in rows])


@router.get("/bags/{name}/verify")
def verifying(request: Request, bench: Bench, name: Name) -> Response:
    """Check a bag file by file and entry by entry."""
    found = verified(bag_folder(bench.library, name))
    return page(request, "verify.html", name=name, verified=found, replay=bench.replays.of(name))


@router.post("/bags/{name}/replay", dependencies=[Csrf])
async def replay(bench: Bench, name: Name) -> Response:
    """Check the sealed sound again, from the sealed pack."""
    bench.library.bag(name)
    await bench.replays.start(name)
    return RedirectResponse(f"/bags/{name}/verify#replay", status_code=303)


@router.get("/bags/{name}/replay")
def replayed(bench: Bench, name: Name) -> dict[str, Any]:
    """How far the replay is."""
    known = bench.replays.of(name)
    return asdict(known) if known else {"state": "none"}
