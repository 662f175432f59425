"""What a trainer does: a walk beside the sheet, walks side by side, progress, feedback to print."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request
from starlette.responses import Response

from spokenfor.comparing.comparison import Comparison, compare_walks, one_walk
from spokenfor.comparing.pages import comparison_main, feedback_main
from spokenfor.comparing.progress import Person
from spokenfor.comparing.sound_address import fragment
from spokenfor.comparing.walks import MOST_WALKS, Walk
from spokenfor.models import Evidence
from spokenfor.web.library import ID_PATTERN
from spokenfor.web.opened import Kind, Opened
from spokenfor.web.render import page
from spokenfor.web.state import Bench, Workbench

router, comparing = APIRouter(), APIRouter()
Name = Annotated[str, Path(pattern=ID_PATTERN)]
Chosen = Annotated[str, Query(pattern=ID_PATTERN)]
_ATTEMPTS = 12
"""Earlier walks of the same person that are shown with one."""


class Walks:
    """The walks of one page, and where the sound behind them is."""

    def __init__(self, opened: list[Opened]) -> None:
        self.walks = [one.walk for one in opened]
        self._base = {one.folder: one for one in opened}

    def sound(self, walk: Walk, said: Evidence) -> str | None:
        """The address of a passage, for the pages of spokenfor.comparing."""
        address = self._base[walk.source].sound.get(said.recording)
        return fragment(address, said) if address else None

    def pages(self, comparison: Comparison) -> dict[str, str]:
        """The address of each walk's own pages, by its mark."""
        return {walk.mark: self._base[walk.source].base for walk in comparison.walks}


@comparing.get("/compare")
def compare(
    request: Request,
    bench: Bench,
    walk: Annotated[list[Chosen] | None, Query(max_length=MOST_WALKS)] = None,
    reference: Chosen | None = None,
    wanted: Annotated[str, Query(alias="q", max_length=200)] = "",
) -> Response:
    """Choose walks, or see those that were chosen side by side."""
    names = list(dict.fromkeys(one for one in walk or [] if one != reference))
    if len(names) + (reference is not None) < 2:
        found = bench.listing.page(1, wanted)
        checked = [one for one in found.rows if one.read and one.state == "checked"]
        chosen = [*names, *([reference] if reference else [])]
        return page(
            request, "choose.html", rows=checked, total=found.total, wanted=wanted, chosen=chosen
        )
    opened = [bench.shelf.open("inspections", one) for one in names]
    lead = bench.shelf.open("inspections", reference) if reference else None
    walks = Walks([*opened, *([lead] if lead else [])])
    comparison = compare_walks(
        walks.walks[: len(opened)], walks.walks[len(opened)] if lead else None
    )
    return page(
        request,
        "compared.html",
        comparison=comparison,
        warnings=comparison.cautions(comparison.walks),
        compared=comparison_main(comparison, walks.sound, walks.pages(comparison)),
    )


@router.get("/{kind}/{name}/training")
def training(request: Request, bench: Bench, kind: Kind, name: Name) -> Response:
    """A walk beside the sheet, with the earlier walks of the same person."""
    opened = bench.shelf.open(kind, name)
    walks, comparison = _with_earlier(bench, opened)
    return page(
        request,
        "training.html",
        opened=opened,
        earlier=len(comparison.walks) - 1,
        compared=comparison_main(comparison, walks.sound, walks.pages(comparison)),
        **opened.contents,
    )


@router.get("/{kind}/{name}/feedback")
def feedback(request: Request, bench: Bench, kind: Kind, name: Name) -> Response:
    """What to tell the person, to be printed or read on a phone."""
    opened = bench.shelf.open(kind, name)
    walks, comparison = _with_earlier(bench, opened)
    person = _whose(comparison, opened)
    return page(
        request,
        "told.html",
        opened=opened,
        warnings=comparison.cautions(person.walks[-1:]),
        told=feedback_main(comparison, person, walks.sound),
        **opened.contents,
    )


def _with_earlier(bench: Workbench, opened: Opened) -> tuple[Walks, Comparison]:
    """The walk, after those of the same person with the same pack that came before it."""
    inspection = opened.inspection.result.inspection
    earlier: list[Opened] = []
    if inspection.by and opened.kind == "inspections":
        for name in bench.listing.of_person(inspection.by, inspection.pack.name):
            one = bench.shelf.open("inspections", name)
            before = one.inspection.result.inspection.started < inspection.started
            if one.id != opened.id and before and len(earlier) < _ATTEMPTS:
                earlier.append(one)
    walks = Walks([*reversed(earlier), opened])
    if not earlier:
        return walks, one_walk(walks.walks[0])
    return walks, compare_walks(walks.walks)


def _whose(comparison: Comparison, opened: Opened) -> Person:
    for person in comparison.people:
        if person.walks[-1].source == opened.folder:
            return person
    return comparison.people[-1]
