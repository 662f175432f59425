"""How are peaks drawn: one SVG path for all recordings laid end to end, on the time axis of the walk strip?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spokenfor.web.peaks import Peaks

WIDTH, HEIGHT = 1000, 56
"""Units of the drawing, which is stretched to the width of the page."""
_COLUMNS = 500
_STEEP = 2.5
"""Power that levels (in dB) are drawn by, so that pauses show between words; chosen by eye."""


@dataclass(frozen=True)
class Waveform:
    """A path in WIDTH x HEIGHT, and where each further recording begins, in units along x."""

    path: str
    begins: list[float]
    seconds: float
    width: int = WIDTH
    height: int = HEIGHT


def waveform(recordings: Sequence[Peaks]) -> Waveform:
    """Draw the loudest level of each column as a bar, mirrored about the middle."""
    total = sum(one.seconds for one in recordings) or 1.0
    parts, begins, offset = [], [], 0.0
    for number, one in enumerate(recordings):
        x, width = WIDTH * offset / total, WIDTH * one.seconds / total
        if number:
            begins.append(round(x, 1))
        columns = max(1, round(_COLUMNS * one.seconds / total))
        for column in range(columns):
            first = column * len(one.levels) // columns
            after = max(first + 1, (column + 1) * len(one.levels) // columns)
            level = max(one.levels[first:after], default=0.0)
            half = max(0.5, level**_STEEP * HEIGHT / 2)
            at = x + width * (column + 0.5) / columns
            parts.append(f"M{at:.1f} {HEIGHT / 2 - half:.1f}V{HEIGHT / 2 + half:.1f}")
        offset += one.seconds
    return Waveform("".join(parts), begins, total)
