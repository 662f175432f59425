"""From a pack to a check sheet that people edit: xlsx or csv, one row for each item in walking order."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path

from spokenfor.packs.load import Pack
from spokenfor.packs.sheet_columns import OWN_HEADINGS, letter

_WIDTHS = (24, 34, 18, 30, 10, 10, 14, 50, 8, 10, 30, 30)


def sheet_rows(pack: Pack) -> Iterator[list[str]]:
    """The heading row and one row for each item; a component with several limits has a row for each."""
    zones = {zone.id: zone.prefLabel for zone in pack.zones}
    yield list(OWN_HEADINGS)
    for item in pack.items:
        component = pack.components[item.component]
        aspects = ", ".join(pack.aspects[name].prefLabel for name in component.aspects)
        position = " ".join(
            pack.positions[name].prefLabel for name in (item.position or "").split()
        )
        for at, limit in enumerate(component.limits or [None]):
            bounds = ["", "", ""]
            if limit is not None:
                ends = (limit.minimum, limit.maximum)
                bounds = [*("" if end is None else f"{end:g}" for end in ends), limit.unit]
            yield [
                zones[item.zone],
                component.prefLabel,
                position,
                aspects if at == 0 or limit is None else pack.aspects[limit.of].prefLabel,
                *bounds,
                "; ".join(component.altLabel),
                component.ata or "",
                "yes" if item.required else "no",
                "; ".join(component.states.expected),
                "; ".join(component.states.adverse),
            ]


def csv_text(pack: Pack) -> str:
    """The sheet as CSV (RFC 4180)."""
    out = io.StringIO(newline="")
    csv.writer(out).writerows(sheet_rows(pack))
    return out.getvalue()


def write_xlsx(pack: Pack, path: Path) -> None:
    """The sheet as a workbook with a bold heading row that stays in sight."""
    from openpyxl import Workbook
    from openpyxl.styles import Font

    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Check sheet"
    for row in sheet_rows(pack):
        sheet.append(row)
    for column, width in enumerate(_WIDTHS):
        sheet.cell(1, column + 1).font = Font(bold=True)
        sheet.column_dimensions[letter(column)].width = width
    sheet.freeze_panes = "A2"
    for cells in sheet.iter_rows(min_row=2):
        for cell in cells:
            cell.data_type = "s"  # a label that begins with "=" is text, not a formula
    book.save(path)
