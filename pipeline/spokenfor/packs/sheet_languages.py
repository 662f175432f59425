"""Names that a sheet gives in two languages: which side is the English one?"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from spokenfor.packs.phones import in_dictionary, is_spelled_out

_STROKE = re.compile(r"\s*[/|\n]\s*|\s+[-\u2013]\s+")
_WORD = re.compile(r"[^\W\d_]{3,}")
_LEAST_ROWS = 3


def foreign(text: str) -> bool:
    """Whether a text holds a word of three letters or more that no English dictionary has."""
    return any(
        not one.isascii() or not (is_spelled_out(one) or in_dictionary(one.lower()))
        for one in _WORD.findall(text)
    )


@dataclass(frozen=True)
class TwoLanguages:
    """On which side of the stroke the English names stand: 0 before, 1 behind; None in a sheet of one
    language."""

    english: int | None

    def split(self, cell: str) -> tuple[str, str]:
        """The English side of a cell and the other one, in a sheet of one language only where letters that
        English lacks tell them apart; all of it and "" where it has no two sides."""
        sides = _STROKE.split(cell)
        if len(sides) != 2:
            return cell, ""
        accented = [at for at in (0, 1) if not sides[at].isascii()]
        if self.english is None and len(accented) == 1 and not foreign(sides[1 - accented[0]]):
            return sides[1 - accented[0]], sides[accented[0]]
        if self.english is None:
            return cell, ""
        return sides[self.english], sides[1 - self.english]


def two_languages(cells: Iterable[str]) -> TwoLanguages:
    """Whether cells hold names in two languages: of those with two sides, most have a foreign word on one and
    the same of them, and none on the other."""
    sides = [two for cell in cells if len(two := _STROKE.split(cell)) == 2 and all(two)]
    for english in (0, 1):
        fitting = [two for two in sides if foreign(two[1 - english]) and not foreign(two[english])]
        if len(fitting) >= _LEAST_ROWS and len(fitting) * 2 > len(sides):
            return TwoLanguages(english)
    return TwoLanguages(None)
