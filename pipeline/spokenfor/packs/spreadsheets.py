"""Reading a check sheet from a spreadsheet (xlsx) or a text table (csv) as rows of text."""

from __future__ import annotations

import csv
import datetime
import io
import re
import zipfile
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from spokenfor.errors import InputError

DELIMITERS = ";,\t|"
MOST_BYTES = 20_000_000
MOST_ROWS = 20_000
MOST_COLUMNS = 200


@dataclass(frozen=True)
class Row:
    """A row: its number in the file (from 1), its cells as text ("" for an empty one), whether one text
    spans several columns, and whether the first text is bold."""

    number: int
    cells: list[str]
    wide: bool = False
    bold: bool = False

    def cell(self, column: int | None) -> str:
        """The text of a column (from 0); "" where the row has none."""
        return self.cells[column] if column is not None and column < len(self.cells) else ""

    @property
    def filled(self) -> list[str]:
        return [cell for cell in self.cells if cell]


@dataclass(frozen=True)
class Table:
    """A sheet as rows. `worksheet` is its name in the file; `comma` whether it is written with semicolons
    between cells, which goes with decimal commas; `others` are worksheets that hold something and were not
    read."""

    file: Path
    worksheet: str
    rows: list[Row]
    comma: bool = False
    others: tuple[str, ...] = ()


def read_table(path: Path, worksheet: str | None = None) -> Table:
    """The sheet at `path`; of several worksheets the one named, else the one with most text in it.

    A cell merged downwards counts in each row that it covers. Raises InputError for what is no sheet.
    """
    if not path.is_file():
        raise InputError(f"{path}: there is no such file", "Give the path of a .xlsx or .csv file")
    if path.stat().st_size > MOST_BYTES:
        raise InputError(f"{path}: over 20 MB", "Save the check sheet alone, without pictures")
    suffix = path.suffix.lower()
    if suffix in (".xlsx", ".xlsm"):
        table = _read_workbook(path, worksheet)
    elif suffix in (".csv", ".txt", ".tsv"):
        table = _read_text(path)
    else:
        raise InputError(
            f"{path}: '{suffix}' files are not read",
            "Save the sheet as .xlsx or .csv and give that",
        )
    if not table.rows:
        raise InputError(
            f"{path}: the sheet is empty", "Give the worksheet with the items: --worksheet"
        )
    return table


def _read_workbook(path: Path, worksheet: str | None) -> Table:
    from openpyxl import load_workbook
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        book = load_workbook(path, data_only=True)
    except (
        InvalidFileException,
        zipfile.BadZipFile,
        KeyError,
        ValueError,
        OSError,
        EOFError,
    ) as error:
        raise InputError(
            f"{path}: not a spreadsheet that can be read", "Open it and save it again as .xlsx"
        ) from error
    names = [sheet.title for sheet in book.worksheets]
    if worksheet is not None and worksheet not in names:
        raise InputError(
            f"{path}: there is no worksheet '{worksheet}'", f"Use one of: {', '.join(names)}"
        )
    tables = [
        Table(path, sheet.title, _sheet_rows(sheet))
        for sheet in book.worksheets
        if worksheet in (None, sheet.title)
    ]
    fullest = max(tables, key=lambda table: sum(len(row.filled) for row in table.rows))
    others = [table.worksheet for table in tables if table.rows and table is not fullest]
    return replace(fullest, others=tuple(others))


def _sheet_rows(sheet: Any) -> list[Row]:
    """Rows of an openpyxl worksheet, without the empty ones."""
    height, width = min(sheet.max_row, MOST_ROWS), min(sheet.max_column, MOST_COLUMNS)
    below: dict[tuple[int, int], Any] = {}
    wide: set[int] = set()
    for merged in sheet.merged_cells.ranges:
        value = sheet.cell(merged.min_row, merged.min_col).value
        if merged.max_col > merged.min_col:
            wide.add(merged.min_row)
        if merged.max_col == merged.min_col:
            below |= {
                (row, merged.min_col): value for row in range(merged.min_row, merged.max_row + 1)
            }
    rows = []
    cells = sheet.iter_rows(min_row=1, max_row=height, max_col=width)
    for number, row in enumerate(cells, start=1):
        texts = [as_text(below.get((number, at), one.value)) for at, one in enumerate(row, start=1)]
        filled = [one for one, text in zip(row, texts, strict=True) if text]
        if filled:
            font = getattr(filled[0], "font", None)
            rows.append(Row(number, texts, number in wide, bool(font and font.b)))
    return rows


def as_text(value: object) -> str:
    """A cell as it is read aloud: whole numbers without a point, dates as year-month-day, spaces tidied."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, datetime.datetime):
        return value.date().isoformat()
    return " ".join(str(value).split())


def _read_text(path: Path) -> Table:
    content = path.read_bytes()
    for encoding in ("utf-8-sig", "utf-16", "cp1252"):
        if encoding == "utf-16" and content[:2] not in (b"\xff\xfe", b"\xfe\xff"):
            continue
        try:
            text = content.decode(encoding)
        except UnicodeDecodeError:
            continue
        break
    else:
        raise InputError(f"{path}: not a text file", "Save the sheet again as CSV in UTF-8")
    if "\x00" in text:
        raise InputError(f"{path}: not a text file", "Save the sheet again as CSV in UTF-8")
    said = re.match(r"\ufeff?sep=(.)\r?\n", text)  # how some office programs name the delimiter
    if said:
        text = "\n" + text[said.end() :]
    delimiter = said[1] if said else _delimiter(text)
    try:
        read = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    except csv.Error as error:
        raise InputError(
            f"{path}: not a CSV file ({error})", "Save the sheet again as CSV"
        ) from error
    rows = [
        Row(number, [as_text(cell) for cell in cells[:MOST_COLUMNS]])
        for number, cells in enumerate(read[:MOST_ROWS], start=1)
        if any(cell.strip() for cell in cells)
    ]
    return Table(path, path.stem, rows, comma=delimiter == ";")


def _delimiter(text: str) -> str:
    """The mark that parts the rows into most alike numbers of cells."""

    def evenness(mark: str) -> tuple[int, int]:
        widths = [
            len(row) for row in csv.reader(io.StringIO(text, newline=""), delimiter=mark) if row
        ]
        several = [width for width in widths if width > 1]
        if not several:
            return (0, 0)
        commonest = max(set(several), key=several.count)
        return (several.count(commonest), commonest)

    try:
        return max(DELIMITERS, key=evenness)
    except csv.Error:
        return ","
