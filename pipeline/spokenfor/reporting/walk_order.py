"""Which zones were walked out of the sheet's order?"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from spokenfor.models import ZoneWalk


def out_of_order(zones: Sequence[ZoneWalk]) -> set[str]:
    """The fewest zones that would have to move for the others to stand in the sheet's order.

    All but the longest run of zones whose turns rise (patience sorting; Fredman 1975, from memory). Of two
    zones that changed places it is the one that came too early. A zone that was not walked shifts no other.
    """
    walked = sorted(
        (zone for zone in zones if zone.walked_order is not None),
        key=lambda zone: -zone.expected_order,
    )
    tails: list[int] = []
    ends: list[int] = []
    before: list[int | None] = []
    for index, zone in enumerate(walked):
        turn = -(zone.walked_order or 0)
        place = bisect_left(tails, turn)
        before.append(ends[place - 1] if place else None)
        tails[place : place + 1] = [turn]
        ends[place : place + 1] = [index]
    kept: set[int] = set()
    at = ends[-1] if ends else None
    while at is not None:
        kept.add(at)
        at = before[at]
    return {zone.id for index, zone in enumerate(walked) if index not in kept}
