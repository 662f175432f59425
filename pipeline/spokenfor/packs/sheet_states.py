"""What a sheet says that a thing ought to be: "open", "removed", "in the green"."""

from __future__ import annotations

import re

from pydantic import Field

from spokenfor.packs.load import vocabulary_root
from spokenfor.packs.reader import Reader
from spokenfor.packs.schema import Label, PackModel
from spokenfor.packs.wording import match_key

_PARTED = re.compile(r"\s*[,;&/.|]\s*|\s+and\s+|\s+-\s+")
_LEADING = re.compile(r"^(?:(?:is|are|be|to be|must be|that it is|fully|all|still|position)\s+)+")


class SheetState(PackModel):
    """Words for how a thing ought to be, and for the opposite."""

    right: list[Label] = Field(min_length=1)
    wrong: list[Label] = Field(min_length=1)


class SheetStates:
    """The rows of sheet-states.yaml, ready to be found in what a sheet asks for."""

    def __init__(self) -> None:
        path = vocabulary_root() / "common" / "sheet-states.yaml"
        rows = Reader().read(path, "sheet-states", list[SheetState])
        self._rows = {match_key(word): row for row in rows for word in row.right}

    def find(self, text: str) -> list[SheetState]:
        """The states that pieces of a text name whole, in the order named; where the opposite is named too, it
        is neither ("open - closed" is a test)."""
        pieces = [match_key(_LEADING.sub("", one.lower())) for one in _PARTED.split(text)]
        named = [self._rows[key] for key in pieces if key in self._rows]
        wrong = {match_key(word) for row in named for word in row.wrong}
        return [
            row
            for at, row in enumerate(named)
            if row not in named[:at] and wrong.isdisjoint(map(match_key, row.right))
        ]
