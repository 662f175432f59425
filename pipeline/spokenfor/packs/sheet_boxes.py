"""Boxes for left and right (or No. 1 and No. 2) beside the items of a check sheet: which rows have which?"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from spokenfor.packs.sheet_headings import plain
from spokenfor.packs.spreadsheets import Row

# Headings of boxes, and what they say as the text of a position column (common practice).
_PAIRS = (
    ({"l", "lh", "l/h", "left", "links", "gauche"}, "left"),
    ({"r", "rh", "r/h", "right", "rechts", "droite"}, "right"),
    ({"no 1", "eng 1", "#1", "nr 1"}, "no 1"),
    ({"no 2", "eng 2", "#2", "nr 2"}, "no 2"),
)
_NOT_FOR_THIS = re.compile(r"n/?a\.?|-+|\u2013|\u2014|/+|x{3,}|\u25a0+|\u2588+", re.IGNORECASE)


def side_boxes(headings: Sequence[str], taken: Iterable[int]) -> dict[int, str]:
    """Columns (from 0) that are headed by one side, with that side; none where its opposite has no column."""
    free = set(range(len(headings))) - set(taken)
    found = {
        at: side for names, side in _PAIRS for at in sorted(free) if plain(headings[at]) in names
    }
    sides = set(found.values())
    whole = [pair for pair in (("left", "right"), ("no 1", "no 2")) if sides.issuperset(pair)]
    return {at: side for at, side in found.items() if any(side in pair for pair in whole)}


def marked_sides(row: Row, boxes: Mapping[int, str]) -> str:
    """The sides of a row by its boxes, as the text of a position column: those that are marked; all but those
    crossed out ("n/a", "-") where only that is written; "" where all are empty."""
    texts = {side: row.cell(at) for at, side in boxes.items()}
    out = {side for side, text in texts.items() if _NOT_FOR_THIS.fullmatch(text)}
    marked = [side for side, text in texts.items() if text and side not in out]
    if not marked and out and len(out) < len(texts):
        marked = [side for side in texts if side not in out]
    return " & ".join(marked)
