"""From the rows of a check sheet to what each says: items in their zones, and the rows that are none."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from spokenfor.packs.sheet_boxes import marked_sides
from spokenfor.packs.sheet_columns import Columns, title_row
from spokenfor.packs.sheet_headings import Holds, plain
from spokenfor.packs.sheet_words import OPTIONAL
from spokenfor.packs.spreadsheets import Row, Table

_FOOT = re.compile(
    r"^(?:signature|signed|sign here|inspector|inspected by|checked by|name|date|page \d|notes?\b|"
    r"remarks?\b|total|prepared|approved|released|rev(?:ision)?\b|issue\b|form no|licen[cs]e no|"
    r"registration|hours|legend|key\b|fleet no|stamp|comments?\b|defects? found|tick\b|\u2713)",
    re.IGNORECASE,
)
_YES = {"yes", "y", "x", "true", "1", "must", "required", "mandatory", "\u2713", "\u2714"}


@dataclass(frozen=True)
class ItemRow:
    """A row with an item: its number in the file, the zone it stands in as written, and its cells as
    written."""

    number: int
    zone: str
    item: str
    position: str
    check: str
    limit: str
    minimum: str
    maximum: str
    unit: str
    also: str
    ata: str
    right: str
    wrong: str
    required: bool


@dataclass(frozen=True)
class LeftOut:
    """A row that gave no item, and why."""

    number: int
    text: str
    why: str


def item_rows(table: Table, columns: Columns) -> Iterator[ItemRow | LeftOut]:
    """Every row but the headings and the title, as an item or as left out; rows that only head a section name
    the zone of those below them. Empty cells in a zone column mean the zone above."""
    headed = columns.heading
    title = title_row(table, columns)
    for row in table.rows[: max(headed.above, 0)]:
        if row is not title:
            yield LeftOut(row.number, _shown(row), "above the headings")
    headings = [plain(one) for one in headed.texts if one]
    zone = ""
    open_section: LeftOut | None = None
    for row in table.rows[headed.last + 1 :]:
        if headings and [plain(one) for one in row.filled] == headings:
            continue
        item = columns.cell(row, Holds.ITEM)
        section = _section(row, columns)
        if section and not _FOOT.match(section):
            if open_section is not None:
                yield open_section
            zone = section
            open_section = LeftOut(row.number, _shown(row), "heads no item")
            continue
        said = columns.cell(row, Holds.ZONE)
        if said:
            zone = said
        if not re.search(r"[A-Za-z]{2}", item):
            yield LeftOut(row.number, _shown(row), "nothing in the item column")
        elif _FOOT.match(item) and not columns.cell(row, Holds.CHECK):
            yield LeftOut(row.number, _shown(row), "foot of the form, not an item")
        else:
            open_section = None
            yield _item(row, columns, zone, item)
    if open_section is not None:
        yield open_section


def _shown(row: Row) -> str:
    return " | ".join(row.filled)[:80]


def _section(row: Row, columns: Columns) -> str:
    """The text of a row that only heads a section: one text with letters, which spans columns, is bold or in
    capitals, ends with a colon, or stands elsewhere than the items do. "" for any other row."""
    texts = [one for one in row.filled if re.search(r"[A-Za-z]{2}", one)]
    if len(texts) != 1 or len(row.filled) > 2:
        return ""
    text = texts[0]
    in_items = columns.cell(row, Holds.ITEM) == text
    if (
        Holds.ZONE in columns.of
        and not row.wide
        and (in_items or columns.cell(row, Holds.ZONE) == text)
    ):
        return ""
    shouting = text.upper() == text and len(text) > 3
    numbered = len(row.filled) == 2
    if row.wide or row.bold or text.endswith(":") or not in_items or (shouting and not numbered):
        return text
    return ""


def _item(row: Row, columns: Columns, zone: str, item: str) -> ItemRow:
    cells = {what: columns.cell(row, what) for what in Holds}
    must = cells[Holds.REQUIRED].lower()
    optional = cells[Holds.OPTIONAL].lower() in _YES
    if Holds.REQUIRED in columns.of:
        optional = optional or (must not in _YES if must else False)
    optional = optional or any(OPTIONAL.search(cell) for cell in row.filled)
    return ItemRow(
        number=row.number,
        zone=zone,
        item=item,
        position=cells[Holds.POSITION] or marked_sides(row, columns.boxes),
        check=cells[Holds.CHECK],
        limit=cells[Holds.LIMIT],
        minimum=cells[Holds.MINIMUM],
        maximum=cells[Holds.MAXIMUM],
        unit=cells[Holds.UNIT],
        also=cells[Holds.ALSO],
        ata=cells[Holds.ATA],
        right=cells[Holds.RIGHT],
        wrong=cells[Holds.WRONG],
        required=not optional,
    )
