"""What stands in items.csv and findings.csv?"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from spokenfor.models import Evidence, Result
from spokenfor.reporting.deciding import deciding_evidence
from spokenfor.reporting.gaps import zones_in_order
from spokenfor.reporting.wording import quantity_words

Cell = str | int | float | None

EVIDENCE_COLUMNS = ("heard", "text", "recording", "start", "end")
ITEM_COLUMNS = (
    "id",
    "zone",
    "component",
    "position",
    "label",
    "ata",
    "required",
    "status",
    "by_reference",
    "note",
    "confidence",
    "listen",
    "aspects_stated",
    "aspects_not_stated",
    "statements",
    *EVIDENCE_COLUMNS,
)
FINDING_COLUMNS = (
    "id",
    "verdict",
    "condition",
    "zone",
    "component",
    "position",
    "item",
    "label",
    "note",
    "quantities",
    "confidence",
    "listen",
    *EVIDENCE_COLUMNS,
)

# A spreadsheet runs a cell that starts with one of these (common practice: OWASP, CSV injection).
_RUNS = ("=", "+", "-", "@", "\t", "\r", "\n")


def items_csv(result: Result) -> str:
    """One row an item, with the statement that decides its status as evidence (RFC 4180)."""
    zones = {zone.id: zone.name for zone in zones_in_order(result)}
    statements = {statement.id: statement for statement in result.statements}
    rows = (
        (
            item.id,
            zones[item.zone],
            item.component,
            item.position,
            item.label,
            item.ata,
            _yes(item.required),
            item.status.value,
            _yes(item.by_reference),
            item.note,
            round(item.confidence, 3),
            _yes(item.listen),
            "; ".join(aspect.name for aspect in item.aspects if aspect.stated),
            "; ".join(aspect.name for aspect in item.aspects if not aspect.stated),
            len(item.statements),
            *_evidence(result, deciding_evidence(item, statements)),
        )
        for item in result.items
    )
    return csv_text(ITEM_COLUMNS, rows)


def findings_csv(result: Result) -> str:
    """One row a finding; zone, item and label are empty where it could not be placed (RFC 4180)."""
    items = {item.id: item for item in result.items}
    zones = {zone.id: zone.name for zone in zones_in_order(result)}
    rows = []
    for finding in result.findings:
        item = items.get(finding.item) if finding.item else None
        rows.append(
            (
                finding.id,
                finding.verdict.value,
                finding.condition,
                zones[item.zone] if item else None,
                finding.component,
                finding.position,
                finding.item,
                item.label if item else None,
                finding.note,
                "; ".join(quantity_words(one) for one in finding.quantities),
                round(finding.confidence, 3),
                _yes(finding.listen),
                *_evidence(result, finding.evidence),
            )
        )
    return csv_text(FINDING_COLUMNS, rows)


def _evidence(result: Result, evidence: Evidence | None) -> tuple[Cell, ...]:
    if evidence is None:
        return (None,) * len(EVIDENCE_COLUMNS)
    file = result.recordings[evidence.recording].file
    start, end = round(evidence.start, 2), round(evidence.end, 2)
    return (evidence.heard, evidence.text, file, start, end)


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """A table as CSV (RFC 4180); no cell of it is run as a formula by a spreadsheet."""
    page = io.StringIO(newline="")
    writer = csv.writer(page, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([_still(cell) for cell in row] for row in rows)
    return page.getvalue()


def _still(cell: Cell) -> Cell:
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(_RUNS) else cell
