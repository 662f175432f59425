"""Which items are not covered, zone by zone, and how much was not heard?"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from spokenfor.models import Item, ItemStatus, Result, Verdict, ZoneWalk
from spokenfor.reporting.wording import counted, duration, plain, status_words

COVERED = frozenset(
    {ItemStatus.SATISFACTORY, ItemStatus.REMARK, ItemStatus.DEFECT, ItemStatus.NOT_FITTED}
)


def is_covered(item: Item) -> bool:
    """Whether words about this very item stated a result, as `Coverage` counts it."""
    return item.status in COVERED and not item.by_reference


@dataclass(frozen=True)
class ZoneItems:
    """Some items of one zone, in the sheet's order, out of `total` that the zone might show."""

    zone: ZoneWalk
    items: list[Item]
    total: int


def zones_in_order(result: Result) -> list[ZoneWalk]:
    """The zones in the sheet's order; a zone that only items name follows, as never walked."""
    known = sorted(result.zones, key=lambda zone: zone.expected_order)
    ids = {zone.id for zone in known}
    missing = dict.fromkeys(item.zone for item in result.items if item.zone not in ids)
    extra = [
        ZoneWalk(
            id=one,
            name=plain(one),
            expected_order=len(known) + place,
            walked_order=None,
            visits=[],
            seconds=0,
        )
        for place, one in enumerate(missing, start=1)
    ]
    return known + extra


def by_zone(
    result: Result, items: Iterable[Item], *, required: bool | None = None
) -> list[ZoneItems]:
    """Group items by zone in the sheet's order, leaving out zones that have none of them.

    `required` tells whether a zone's total counts required items, the others, or (None) all.
    """
    chosen: dict[str, list[Item]] = defaultdict(list)
    for item in items:
        chosen[item.zone].append(item)
    totals = Counter(
        item.zone for item in result.items if required is None or item.required is required
    )
    return [
        ZoneItems(zone, chosen[zone.id], totals[zone.id])
        for zone in zones_in_order(result)
        if chosen[zone.id]
    ]


def not_covered(result: Result, *, required: bool = True) -> list[Item]:
    """Items without a result of their own; by-reference items are among them."""
    return [item for item in result.items if item.required is required and not is_covered(item)]


def listen_first(result: Result) -> list[Item]:
    """Items with a result that a person must listen to before relying on it, the least sure first."""
    unsure = [item for item in result.items if item.listen and is_covered(item)]
    return sorted(unsure, key=lambda item: item.confidence)


def tally(items: Iterable[Item]) -> list[tuple[str, int]]:
    """How many items stand at each status, by its words, most frequent first."""
    counts = Counter(status_words(item) for item in items)
    return sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))


def unheard_seconds(result: Result) -> float:
    """Seconds that count as unheard, an overlap counted once."""
    total, reached = 0.0, (-1, 0.0)
    for stretch in sorted(result.unheard, key=lambda one: (one.recording, one.start)):
        begin = stretch.start
        if reached[0] == stretch.recording:
            begin = max(begin, reached[1])
        if stretch.end > begin:
            total += stretch.end - begin
            reached = (stretch.recording, stretch.end)
    return total


@dataclass(frozen=True)
class BottomLine:
    """The report in one sentence, in the parts that each lead to a section."""

    covered: str
    missing: str
    defects: str
    remarks: str
    unheard: str

    def __str__(self) -> str:
        return " · ".join([self.covered, self.missing, self.defects, self.remarks, self.unheard])


def without_finding(result: Result) -> list[Item]:
    """Items that stand as defect or remark though no finding of theirs says so: a person decided it."""
    found = {(one.item, one.verdict.value) for one in result.findings}
    return [
        item
        for item in result.items
        if item.status in (ItemStatus.DEFECT, ItemStatus.REMARK)
        and (item.id, item.status.value) not in found
    ]


def bottom_line(result: Result) -> BottomLine:
    """Put coverage, findings (also those that only a person made) and unheard time in one sentence."""
    coverage = result.coverage
    verdicts = Counter(finding.verdict for finding in result.findings)
    verdicts.update(Verdict(item.status.value) for item in without_finding(result))
    return BottomLine(
        covered=f"{coverage.required_covered} of {coverage.required_total} required items covered",
        missing=f"{coverage.required_total - coverage.required_covered} not covered",
        defects=counted(verdicts[Verdict.DEFECT], "defect"),
        remarks=counted(verdicts[Verdict.REMARK], "remark"),
        unheard=f"{duration(unheard_seconds(result))} unheard",
    )
