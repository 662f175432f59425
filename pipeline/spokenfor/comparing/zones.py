"""Where does each zone stand in a walk, and how long was it walked?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from spokenfor.comparing.sheet import SheetZone
from spokenfor.comparing.walks import Walk
from spokenfor.models import Item, ItemStatus
from spokenfor.reporting.gaps import is_covered
from spokenfor.reporting.wording import status_words

_NO_RESULT = (ItemStatus.NAMED, ItemStatus.LOOKED_FOR)


class Standing(StrEnum):
    """Where the required lines of a zone stand together."""

    COVERED = "covered"
    PARTLY = "partly"
    NAMED_ONLY = "named_only"
    UNHEARD = "unheard"
    SAID_NOT_INSPECTED = "said_not_inspected"
    BY_REFERENCE = "by_reference"
    SKIPPED = "skipped"


STANDING_WORDS = {
    Standing.COVERED: "covered",
    Standing.PARTLY: "partly covered",
    Standing.NAMED_ONLY: "named only",
    Standing.UNHEARD: "unheard",
    Standing.SAID_NOT_INSPECTED: "not inspected (said so)",
    Standing.BY_REFERENCE: "by reference only",
    Standing.SKIPPED: "skipped",
}


@dataclass(frozen=True)
class ZoneView:
    """One zone in one walk: how many of its required lines are covered, what the others are (words and
    number), and the seconds spent there; `missing` are the lines without a result of their own."""

    standing: Standing
    covered: int
    total: int
    rest: list[tuple[str, int]]
    seconds: float
    missing: list[Item]

    @property
    def words(self) -> str:
        return STANDING_WORDS[self.standing]


def zone_view(zone: SheetZone, walk: Walk) -> ZoneView:
    """Count the zone's required lines as they stand in the walk."""
    items = [walk.items[one.id] for one in zone.required]
    missing = [one for one in items if not is_covered(one)]
    stay = walk.zones.get(zone.id)
    return ZoneView(
        standing=_standing(items),
        covered=len(items) - len(missing),
        total=len(items),
        rest=Counter(map(status_words, missing)).most_common(),
        seconds=stay.seconds if stay else 0.0,
        missing=missing,
    )


def _standing(items: Sequence[Item]) -> Standing:
    covered = sum(map(is_covered, items))
    if covered:
        return Standing.COVERED if covered == len(items) else Standing.PARTLY
    statuses = {one.status for one in items}
    if not statuses.isdisjoint(_NO_RESULT):
        return Standing.NAMED_ONLY
    # A zone of which part was not heard is not called skipped (promise 3).
    if ItemStatus.UNHEARD in statuses:
        return Standing.UNHEARD
    if any(one.by_reference for one in items):
        return Standing.BY_REFERENCE
    return Standing.SAID_NOT_INSPECTED if ItemStatus.NOT_INSPECTED in statuses else Standing.SKIPPED
