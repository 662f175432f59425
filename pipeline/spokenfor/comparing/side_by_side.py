"""Which findings and which lines of the sheet are the same in all walks, and which are not?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from spokenfor.comparing.sheet import CommonSheet
from spokenfor.comparing.walks import Walk
from spokenfor.models import Evidence, Finding, Item, Verdict
from spokenfor.reporting.deciding import deciding_evidence
from spokenfor.reporting.wording import plain, status_shape, status_words


@dataclass(frozen=True)
class Cell:
    """What one walk has to say of a line or finding: shape and words of where it stands, the passage and who
    decided it, if anybody did; `was` is what was proposed where a person changed it. `found` marks a finding;
    without it a cell of a finding tells where its line of the sheet stands."""

    shape: str | None
    words: str
    said: Evidence | None
    decided_by: str | None = None
    was: str | None = None
    found: bool = False


@dataclass(frozen=True)
class FindingRow:
    """A finding, the same in the walks that made it: same component, position and condition. `cells` go by
    the walks' marks."""

    thing: str
    condition: str | None
    placed: bool
    cells: Mapping[str, Sequence[Cell]]

    @property
    def marks(self) -> list[str]:
        """The walks that made it."""
        return [mark for mark, cells in self.cells.items() if any(one.found for one in cells)]


@dataclass(frozen=True)
class LineRow:
    """A line of the sheet that stands differently; `cells` go by the walks' marks."""

    label: str
    item: str
    required: bool
    cells: Mapping[str, Cell]


@dataclass(frozen=True)
class ZoneLines:
    """The lines of a zone that stand differently, out of all its lines."""

    zone: str
    rows: list[LineRow]
    total: int


Key = tuple[str, str | None, str | None]


def finding_rows(sheet: CommonSheet, walks: Sequence[Walk]) -> list[FindingRow]:
    """The findings side by side: those of all walks first, then by walk; defects before remarks.

    A finding of a line that not all sheets have is left out. One of no named part matches no other.
    """
    common = {item.id for item in sheet.items}
    groups: dict[Key, list[tuple[Walk, Finding]]] = {}
    for walk in walks:
        for finding in walk.result.findings:
            if finding.item in walk.items and finding.item not in common:
                continue
            groups.setdefault(_key(walk, finding), []).append((walk, finding))
    rows = [_finding_row(sheet, walks, found) for found in groups.values()]
    rank = {id(row): _worst(found) for row, found in zip(rows, groups.values(), strict=True)}
    return sorted(rows, key=lambda row: (-len(row.marks), rank[id(row)], row.marks))


def _key(walk: Walk, finding: Finding) -> Key:
    item = walk.labels.item_of(finding.item)
    component = item.component if item else finding.component
    position = item.position if item else finding.position
    if component is None:
        return f"{walk.mark} {finding.id}", None, None
    return component, position, finding.condition


def _worst(found: Sequence[tuple[Walk, Finding]]) -> bool:
    return all(finding.verdict is not Verdict.DEFECT for _, finding in found)


def _finding_row(
    sheet: CommonSheet, walks: Sequence[Walk], found: Sequence[tuple[Walk, Finding]]
) -> FindingRow:
    walk, first = found[0]
    item = walk.labels.item_of(first.item)
    lines = {line.id: line for line in sheet.items}
    cells: dict[str, list[Cell]] = {
        one.mark: [_found_cell(one, finding) for whose, finding in found if whose is one]
        for one in walks
    }
    for one in walks:
        if not cells[one.mark] and item is not None and item.id in lines:
            cells[one.mark] = [line_cell(one, one.items[item.id])]
    return FindingRow(
        thing=lines[item.id].label if item and item.id in lines else walk.labels.thing(first),
        condition=plain(first.condition) if first.condition else None,
        placed=item is not None,
        cells=cells,
    )


def _found_cell(walk: Walk, finding: Finding) -> Cell:
    note = f", {finding.note}" if finding.note else ""
    return Cell(
        shape=finding.verdict.value,
        words=f"{finding.verdict.value}{note}",
        said=finding.evidence,
        decided_by=walk.decided_by.get(finding.id),
        was=walk.was.get(finding.id),
        found=True,
    )


def line_cell(walk: Walk, item: Item) -> Cell:
    """Where a line of the sheet stands in a walk."""
    statements = {one.id: one for one in walk.result.statements}
    note = f", {item.note}" if item.note else ""
    return Cell(
        shape=status_shape(item),
        words=f"{status_words(item)}{note}",
        said=deciding_evidence(item, statements),
        decided_by=walk.decided_by.get(item.id),
        was=walk.was.get(item.id),
    )


def differing_lines(sheet: CommonSheet, walks: Sequence[Walk]) -> list[ZoneLines]:
    """The lines that do not stand the same in all walks, zone by zone; zones without any are left out."""
    found = []
    for zone in sheet.zones:
        rows = [
            LineRow(
                line.label,
                line.id,
                line.required,
                {walk.mark: line_cell(walk, walk.items[line.id]) for walk in walks},
            )
            for line in zone.items
            if len({status_words(walk.items[line.id]) for walk in walks}) > 1
        ]
        if rows:
            found.append(ZoneLines(zone.name, rows, len(zone.items)))
    return found
