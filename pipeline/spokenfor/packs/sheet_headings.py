"""Where the headings of a check sheet stand, in one row or two, and what each says that its column holds."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import zip_longest

from spokenfor.packs.load import vocabulary_root
from spokenfor.packs.reader import Reader
from spokenfor.packs.schema import Label, PackModel
from spokenfor.packs.spreadsheets import Row

_SEARCHED = 30
_LANGUAGES = re.compile(r"\s*[/|\n\u2013\u2014]\s*|\s+-\s+|[()\[\]]")


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
    RIGHT = "right"
    WRONG = "wrong"
    REQUIRED = "required"
    OPTIONAL = "optional"
    NONE = "none"


class Headings(PackModel):
    """Headings under which a column of this kind is found."""

    column: Holds
    headings: list[Label]


@dataclass(frozen=True)
class HeadingRows:
    """The rows of headings: `last` is the index of the last of them, -1 where there is none; `texts` what is
    above each column, from one row or two; `above` the index of the first row of headings."""

    last: int
    above: int
    texts: tuple[str, ...]


NO_HEADINGS = HeadingRows(-1, -1, ())


def plain(text: str) -> str:
    """A heading without case, marks at its ends and what stands in brackets."""
    bare = re.sub(r"\(.*?\)|\[.*?\]", " ", text.lower())
    return " ".join(re.sub(r"[^\w/#&' -]", " ", bare).split())


class KnownHeadings:
    """The headings of sheet-headings.yaml, ready to be found in cells, also in one of two languages."""

    def __init__(self) -> None:
        path = vocabulary_root() / "common" / "sheet-headings.yaml"
        rows = Reader().read(path, "sheet-headings", list[Headings])
        self._known = {plain(heading): row.column for row in rows for heading in row.headings}

    def whole(self, cell: str) -> Holds | None:
        """What a cell says that its column holds: by all of it, or by what is said in one language of two."""
        for one in (cell, *_LANGUAGES.split(cell)):
            if (found := self._known.get(plain(one))) is not None:
                return found
        return None

    def inside(self, cell: str) -> Holds | None:
        """The same by the longest heading that a cell holds."""
        text = plain(cell)
        names = [
            name
            for name in self._known
            if len(name) > 2 and re.search(rf"\b{re.escape(name)}s?\b", text)
        ]
        return self._known[max(names, key=len)] if names else None

    def find(self, rows: Sequence[Row]) -> HeadingRows:
        """The row that tells most of its columns, or two rows one below the other that tell more together."""
        best, found = 0, NO_HEADINGS
        for index, row in enumerate(rows[:_SEARCHED]):
            telling = self._telling(row.cells)
            first = telling == 1 and index == 0 and len(row.filled) > 1
            alone = any(self.whole(cell) is Holds.ITEM for cell in row.filled)
            if telling > best and (telling > 1 or alone or first):
                best, found = telling, HeadingRows(index, index, tuple(row.cells))
            if index and self._telling(rows[index - 1].cells) and telling > 1:
                both = tuple(
                    below or above
                    for above, below in zip_longest(rows[index - 1].cells, row.cells, fillvalue="")
                )
                if self._telling(both) > best:
                    best, found = self._telling(both), HeadingRows(index, index - 1, both)
        return found

    def _telling(self, cells: Sequence[str]) -> int:
        return len({self.whole(cell) for cell in cells if cell} - {None})
