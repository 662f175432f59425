"""What stands in which column of a check sheet: guessed from headings and contents, or as the user says."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from pydantic import TypeAdapter

from spokenfor.errors import InputError
from spokenfor.packs.load import vocabulary_root
from spokenfor.packs.schema import Label, PackModel
from spokenfor.packs.spreadsheets import Row, Table
from spokenfor.packs.yaml_lines import YamlFile

_HEADING_ROWS = 30


class Holds(StrEnum):
    """What a column holds."""

    ZONE = "zone"
    ITEM = "item"
    POSITION = "position"
    CHECK = "check"
    LIMIT = "limit"
    MINIMUM = "minimum"
    MAXIMUM = "maximum"
    UNIT = "unit"
    ALSO = "also"
    ATA = "ata"
    REQUIRED = "required"
    OPTIONAL = "optional"
    NONE = "none"


class Headings(PackModel):
    """Headings under which a column of this kind is found."""

    column: Holds
    headings: list[Label]


OWN_HEADINGS = {
    "Zone": Holds.ZONE,
    "Item": Holds.ITEM,
    "Position": Holds.POSITION,
    "To be stated": Holds.CHECK,
    "Minimum": Holds.MINIMUM,
    "Maximum": Holds.MAXIMUM,
    "Unit": Holds.UNIT,
    "Also said": Holds.ALSO,
    "ATA": Holds.ATA,
    "Required": Holds.REQUIRED,
}
"""The columns of a sheet that is exported from a pack, in order."""


@dataclass(frozen=True)
class Columns:
    """Which column (from 0) holds what; `heading` is the index of the heading row, -1 where there is none;
    `literal` says that the sheet was exported from a pack, so that names stand as they are."""

    of: dict[Holds, int]
    heading: int
    literal: bool = False

    def cell(self, row: Row, what: Holds) -> str:
        return row.cell(self.of.get(what))


def letter(column: int) -> str:
    """A column as spreadsheets name it: 0 is A, 26 is AA."""
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


def _column_number(name: str) -> int:
    number = 0
    for one in name.upper():
        number = number * 26 + ord(one) - ord("A") + 1
    return number - 1


def plain(text: str) -> str:
    """A heading without case, marks at its ends and what stands in brackets."""
    bare = re.sub(r"\(.*?\)|\[.*?\]", " ", text.lower())
    return " ".join(re.sub(r"[^\w/#&' -]", " ", bare).split())


def _known() -> dict[str, Holds]:
    source = YamlFile(vocabulary_root() / "common" / "sheet-headings.yaml")
    rows = TypeAdapter(list[Headings]).validate_python(source.data)
    return {plain(heading): row.column for row in rows for heading in row.headings}


def guess_columns(table: Table, sure: bool = True) -> Columns:
    """The columns of a sheet. Raises InputError where none can be the one with the items; not `sure`, that
    column may be left to be said."""
    known = _known()
    rows = table.rows[:_HEADING_ROWS]
    if tuple(rows[0].cells) == tuple(OWN_HEADINGS):
        return Columns({what: at for at, what in enumerate(OWN_HEADINGS.values())}, 0, literal=True)
    best, heading = 0, -1
    for index, row in enumerate(rows):
        found = [known.get(plain(cell)) for cell in row.filled]
        telling = len({one for one in found if one is not None})
        first = telling == 1 and index == 0 and len(row.filled) > 1
        if telling > best and (telling > 1 or Holds.ITEM in found or first):
            best, heading = telling, index
    of: dict[Holds, int] = {}
    taken: set[int] = set()
    if heading >= 0:
        for exact in (True, False):
            for column, cell in enumerate(rows[heading].cells):
                what = _heading(cell, known, exact)
                if what is not None and column not in taken and what not in of:
                    taken.add(column)
                    if what is not Holds.NONE:
                        of[what] = column
    body = table.rows[heading + 1 :]
    if Holds.ITEM not in of:
        of |= _by_contents(body, taken | set(of.values()), Holds.ZONE not in of)
    if sure and Holds.ITEM not in of:
        raise InputError(
            f"{table.file}: no column looks like the items of a check sheet",
            "Say which it is, for example --column item=B",
        )
    return Columns(of, heading)


def _heading(cell: str, known: dict[str, Holds], exact: bool) -> Holds | None:
    text = plain(cell)
    if exact or not text:
        return known.get(text)
    inside = [
        name for name in known if len(name) > 2 and re.search(rf"\b{re.escape(name)}s?\b", text)
    ]
    return known[max(inside, key=len)] if inside else None


def _by_contents(body: Sequence[Row], taken: set[int], zone_too: bool) -> dict[Holds, int]:
    """The item column by what is in it: many different texts with letters; zones: few, said again."""
    width = max((len(row.cells) for row in body), default=0)
    different: dict[int, int] = {}
    for column in range(width):
        texts = [row.cell(column) for row in body if re.search(r"[A-Za-z]{3}", row.cell(column))]
        if column not in taken and texts:
            different[column] = len(set(texts))
    if not different:
        return {}
    item = max(different, key=lambda column: (different[column], -column))
    found = {Holds.ITEM: item}
    before = [column for column in different if column < item]
    if zone_too and before and different[before[0]] * 2 <= different[item]:
        found[Holds.ZONE] = before[0]
    return found


def said_columns(columns: Columns, said: Iterable[str], table: Table) -> Columns:
    """The columns with what the user said of them: "item=B", or "limit=" for none.

    Raises InputError for what is no column.
    """
    width = max(len(row.cells) for row in table.rows)
    of = dict(columns.of)
    for one in said:
        name, _, place = one.partition("=")
        name, place = name.strip().lower(), place.strip()
        kinds = [what.value for what in Holds if what is not Holds.NONE]
        if name not in kinds or not re.fullmatch(r"[A-Za-z]{0,2}", place):
            raise InputError(
                f"--column {one}: not understood",
                f"Write it as item=B; what a column may hold: {', '.join(kinds)}",
            )
        if place and _column_number(place) >= width:
            raise InputError(
                f"--column {one}: the sheet ends at column {letter(width - 1)}",
                "Give a letter of the sheet",
            )
        what = Holds(name)
        of = {kind: at for kind, at in of.items() if not place or at != _column_number(place)}
        if place:
            of[what] = _column_number(place)
        else:
            of.pop(what, None)
    if Holds.ITEM not in of:
        raise InputError("No column is left for the items", "Give one, for example --column item=B")
    return replace(columns, of=of)


def column_lines(columns: Columns, table: Table) -> list[str]:
    """What each column is taken for, with its heading and an example, a line each."""
    holds = {at: what.value for what, at in columns.of.items()}
    heading = table.rows[columns.heading] if columns.heading >= 0 else Row(0, [])
    body = table.rows[columns.heading + 1 :]
    lines = []
    for column in range(max(len(row.cells) for row in table.rows)):
        example = next((row.cell(column) for row in body if row.cell(column)), "")
        if example or heading.cell(column):
            lines.append(
                f"  {letter(column):>2}  {heading.cell(column)[:24]:<24}  {holds.get(column, '(not used)'):<10}"
                f"  {example[:40]}".rstrip()
            )
    return lines


def sheet_title(table: Table, columns: Columns) -> str:
    """What the sheet is called: the first text above its headings, else the name of its file."""
    for row in table.rows[: max(columns.heading, 0)]:
        for text in row.filled:
            if re.search(r"[A-Za-z]{3}", text):
                return text
    return re.sub(r"[_-]+", " ", table.file.stem)
