"""What stands in which column of a check sheet: guessed from headings and contents, or as the user says."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from spokenfor.errors import InputError
from spokenfor.packs.sheet_boxes import side_boxes
from spokenfor.packs.sheet_headings import HeadingRows, Holds, KnownHeadings
from spokenfor.packs.spreadsheets import Row, Table

_NUMBERED = re.compile(r"[A-Z]?\d+(?:\.\d+)*\.?")
_WORDY = re.compile(r"[A-Za-z]{3}")
# Columns that hold words: one that only counts is none of them, whatever its heading ("Pos.").
_WORDS = frozenset((Holds.ZONE, Holds.ITEM, Holds.POSITION, Holds.CHECK))


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
    "Right when": Holds.RIGHT,
    "Wrong when": Holds.WRONG,
}
"""The columns of a sheet that is exported from a pack, in order; sheets of earlier versions lack the last
two."""


@dataclass(frozen=True)
class Columns:
    """Which column (from 0) holds what; `heading` is where the headings stand; `boxes` are columns to be ticked
    for one side; `literal` says that the sheet was exported from a pack, so that names stand as they are."""

    of: dict[Holds, int]
    heading: HeadingRows
    literal: bool = False
    boxes: Mapping[int, str] = field(default_factory=dict)

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


def guess_columns(table: Table, sure: bool = True) -> Columns:
    """The columns of a sheet. Raises InputError where none can be the one with the items; not `sure`, that
    column may be left to be said."""
    first = tuple(table.rows[0].cells)
    if first in (tuple(OWN_HEADINGS), tuple(OWN_HEADINGS)[:-2]):
        own = {OWN_HEADINGS[heading]: at for at, heading in enumerate(first)}
        return Columns(own, HeadingRows(0, 0, first), literal=True)
    known = KnownHeadings()
    heading = known.find(table.rows)
    body = table.rows[heading.last + 1 :]
    of: dict[Holds, int] = {}
    taken: set[int] = set()
    for find in (known.whole, known.inside):
        for column, cell in enumerate(heading.texts):
            what = find(cell) if cell else None
            if what is not None and column not in taken and what not in of:
                taken.add(column)
                if what is not Holds.NONE and not (what in _WORDS and _numbering(body, column)):
                    of[what] = column
    if Holds.ITEM not in of:
        of |= _by_contents(body, taken | set(of.values()), Holds.ZONE not in of)
    if sure and Holds.ITEM not in of:
        raise InputError(
            f"{table.file}: no column looks like the items of a check sheet",
            "Say which it is, for example --column item=B",
        )
    boxes = {} if Holds.POSITION in of else side_boxes(heading.texts, of.values())
    return Columns(of, heading, boxes=boxes)


def _numbering(body: Sequence[Row], column: int) -> bool:
    """Whether a column only counts its rows (1, 2, 3 or 1.1, 1.2): no words, and hardly a number twice."""
    texts = [row.cell(column) for row in body if row.cell(column) and len(row.filled) > 1]
    numbers = [text for text in texts if _NUMBERED.fullmatch(text)]
    return (
        len(numbers) > 4
        and len(numbers) > 0.6 * len(texts)
        and len(set(numbers)) > 0.8 * len(numbers)
    )


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
    boxes = {at: side for at, side in columns.boxes.items() if at not in of.values()}
    return replace(columns, of=of, boxes={} if Holds.POSITION in of else boxes)


def column_lines(columns: Columns, table: Table) -> list[str]:
    """What each column is taken for, with its heading and an example, a line each."""
    holds = {at: f"box {side}" for at, side in columns.boxes.items()}
    holds |= {at: what.value for what, at in columns.of.items()}
    heading = Row(0, list(columns.heading.texts))
    body = table.rows[columns.heading.last + 1 :]
    lines = []
    for column in range(max(len(row.cells) for row in table.rows)):
        example = next((row.cell(column) for row in body if row.cell(column)), "")
        if example or heading.cell(column):
            lines.append(
                f"  {letter(column):>2}  {heading.cell(column)[:24]:<24}  {holds.get(column, '(not used)'):<10}"
                f"  {example[:40]}".rstrip()
            )
    return lines


def title_row(table: Table, columns: Columns) -> Row | None:
    """The first row above the headings with words in it."""
    above = table.rows[: max(columns.heading.above, 0)]
    return next((row for row in above if any(map(_WORDY.search, row.filled))), None)


def sheet_title(table: Table, columns: Columns) -> str:
    """What the sheet is called: the first text above its headings, else the name of its file."""
    row = title_row(table, columns)
    if row is not None:
        return next(text for text in row.filled if _WORDY.search(text))
    return re.sub(r"[_-]+", " ", table.file.stem)
