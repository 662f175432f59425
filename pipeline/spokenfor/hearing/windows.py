"""Which stretches of speech go into one 30-second window? Cut at the longest pauses, few windows."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.voice import FRAME, Stretch, padded

LONGEST = int(28.5 * RATE)
"""Samples a window holds: the recogniser's 30 s less room for rounding."""

CUT_COST = 1.5
PAUSE_SCALE = 0.4


def windows(
    stretches: list[Stretch],
    probability: npt.NDArray[np.float32],
    length: int,
    padding: float,
) -> list[list[Stretch]]:
    """Group stretches of speech into windows of at most 28.5 s, with at most `padding` s around each.

    Each window costs one encoder pass; each cut costs more the shorter its pause is, so that sentences
    stay whole. The cheapest grouping is found by dynamic programming.
    """
    spoken = [piece for stretch in stretches for piece in _split_long(stretch, probability)]
    pieces = padded(spoken, length, padding)
    cheapest = [0.0] + [math.inf] * len(pieces)
    first_of = [0] * (len(pieces) + 1)
    for last in range(1, len(pieces) + 1):
        held = 0
        for first in range(last - 1, -1, -1):
            held += pieces[first][1] - pieces[first][0]
            if held > LONGEST:
                break
            pause = (spoken[first][0] - spoken[first - 1][1]) / RATE if first else math.inf
            cost = cheapest[first] + 1 + CUT_COST * math.exp(-pause / PAUSE_SCALE)
            if cost < cheapest[last]:
                cheapest[last], first_of[last] = cost, first
    grouped: list[list[Stretch]] = []
    last = len(pieces)
    while last:
        grouped.append(_whole(pieces[first_of[last] : last]))
        last = first_of[last]
    return grouped[::-1]


def _whole(pieces: list[Stretch]) -> list[Stretch]:
    """Pieces that touch as one, so that a word across their border is not torn."""
    joined = pieces[:1]
    for start, end in pieces[1:]:
        if start == joined[-1][1]:
            joined[-1] = (joined[-1][0], end)
        else:
            joined.append((start, end))
    return joined


def _split_long(stretch: Stretch, probability: npt.NDArray[np.float32]) -> list[Stretch]:
    """Talk without any pause is cut where speech is least likely, late in a window."""
    pieces = []
    start, end = stretch
    while end - start > LONGEST - RATE:
        low, high = (start + LONGEST * 3 // 4) // FRAME, (start + LONGEST - RATE) // FRAME
        cut = (low + int(np.argmin(probability[low:high]))) * FRAME
        pieces.append((start, cut))
        start = cut
    return [*pieces, (start, end)]
