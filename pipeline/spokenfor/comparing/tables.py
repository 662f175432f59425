"""What stands in the CSV files of a comparison?"""

from __future__ import annotations

from collections.abc import Iterator

from spokenfor.comparing.comparison import Comparison
from spokenfor.comparing.walks import Walk
from spokenfor.models import Evidence
from spokenfor.reporting.tables import Cell, csv_text

_WALK = ("walk", "by", "asset", "started")
_SAID = ("text", "recording", "start", "end")
WALK_COLUMNS = (
    *_WALK,
    *("source", "reference", "reviewed_by", "required_covered", "required_total", "zones_walked"),
    *("zones_total", "pairs_in_order", "pairs", "kendall_tau", "seconds"),
)
ZONE_COLUMNS = (
    *_WALK,
    *("zone", "expected_order", "walked_order", "out_of_order", "standing", "required_covered"),
    *("required_total", "not_covered", "seconds"),
)
ITEM_COLUMNS = (
    *_WALK,
    *("item", "zone", "label", "required", "status", "by_reference", "note", "proposed"),
    *("decided_by", "aspects_stated", "aspects_not_stated", "differs"),
)
FINDING_COLUMNS = (
    *_WALK,
    *("finding", "condition", "placed", "found", "stands_as", "found_by", "proposed", "decided_by"),
    *_SAID,
)
WORDING_COLUMNS = (*_WALK, "habit", "thing", "item", "zone", "next_time", *_SAID)


def comparison_csv(comparison: Comparison) -> dict[str, str]:
    """The tables by file name, one row for each walk and line of the sheet, zone, finding, remark or walk."""
    return {
        "compared-walks.csv": csv_text(WALK_COLUMNS, _walks(comparison)),
        "compared-zones.csv": csv_text(ZONE_COLUMNS, _zones(comparison)),
        "compared-items.csv": csv_text(ITEM_COLUMNS, _items(comparison)),
        "compared-findings.csv": csv_text(FINDING_COLUMNS, _findings(comparison)),
        "compared-wording.csv": csv_text(WORDING_COLUMNS, _wording(comparison)),
    }


def _walk(walk: Walk) -> tuple[Cell, ...]:
    head = walk.result.inspection
    return walk.mark, head.by, head.asset, head.started


def _said(walk: Walk, said: Evidence | None) -> tuple[Cell, ...]:
    if said is None:
        return (None,) * len(_SAID)
    file = walk.result.recordings[said.recording].file
    return said.text, file, round(said.start, 2), round(said.end, 2)


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def _walks(comparison: Comparison) -> Iterator[tuple[Cell, ...]]:
    for walk in comparison.walks:
        order = comparison.orders[walk.mark]
        yield (
            *_walk(walk),
            walk.source.name,
            _yes(walk.reference),
            "; ".join(walk.reviewers),
            comparison.covered[walk.mark],
            len(comparison.sheet.required),
            len(order.walked),
            len(order.expected),
            order.kept,
            order.pairs,
            None if order.tau is None else round(order.tau, 3),
            round(walk.timeline.total, 2),
        )


def _zones(comparison: Comparison) -> Iterator[tuple[Cell, ...]]:
    for walk in comparison.walks:
        order = comparison.orders[walk.mark]
        for place, zone in enumerate(comparison.sheet.zones, start=1):
            view = comparison.zones[zone.id][walk.mark]
            yield (
                *_walk(walk),
                zone.name,
                place,
                order.walked.index(zone.id) + 1 if zone.id in order.walked else None,
                _yes(zone.id in order.moved),
                view.words,
                view.covered,
                view.total,
                "; ".join(f"{number} {words}" for words, number in view.rest),
                round(view.seconds, 2),
            )


def _items(comparison: Comparison) -> Iterator[tuple[Cell, ...]]:
    differs = {row.item for zone in comparison.differing for row in zone.rows}
    for walk in comparison.walks:
        for zone in comparison.sheet.zones:
            for line in zone.items:
                item = walk.items[line.id]
                yield (
                    *_walk(walk),
                    line.id,
                    zone.name,
                    line.label,
                    _yes(line.required),
                    item.status.value,
                    _yes(item.by_reference),
                    item.note,
                    walk.was.get(item.id),
                    walk.decided_by.get(item.id),
                    "; ".join(one.name for one in item.aspects if one.stated),
                    "; ".join(one.name for one in item.aspects if not one.stated),
                    _yes(line.id in differs),
                )


def _findings(comparison: Comparison) -> Iterator[tuple[Cell, ...]]:
    for row in comparison.findings:
        for walk in comparison.walks:
            for cell in row.cells[walk.mark]:
                yield (
                    *_walk(walk),
                    row.thing,
                    row.condition,
                    _yes(row.placed),
                    _yes(cell.found),
                    cell.words,
                    " ".join(row.marks),
                    cell.was,
                    cell.decided_by,
                    *_said(walk, cell.said),
                )


def _wording(comparison: Comparison) -> Iterator[tuple[Cell, ...]]:
    for walk in comparison.walks:
        for one in comparison.remarks[walk.mark]:
            yield (
                *_walk(walk),
                one.habit.value,
                one.thing,
                one.item,
                one.zone,
                one.advice,
                *_said(walk, one.said),
            )
