"""Which stretches of speech go into one 30-second window? Cut at the longest pauses, few windows."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.voice import FRAME, Stretch

LONGEST = int(28.5 * RATE)
"""Samples a window holds: the recogniser's 30 s less room for rounding."""

CUT_COST = 0.3
PAUSE_SCALE = 0.7


def windows(stretches: list[Stretch], probability: npt.NDArray[np.float32]) -> list[list[Stretch]]:
    """Group padded stretches into windows of at most 28.5 s of speech.

    Each window costs one encoder pass; each cut costs more the shorter its pause is, so that sentences
    stay whole. The cheapest grouping is found by dynamic programming.
    """
    pieces = [piece for stretch in stretches for piece in _split_long(stretch, probability)]
    cheapest = [0.0] + [math.inf] * len(pieces)
    first_of = [0] * (len(pieces) + 1)
    for last in range(1, len(pieces) + 1):
        held = 0
        for first in range(last - 1, -1, -1):
            held += pieces[first][1] - pieces[first][0]
            if held > LONGEST:
                break
            pause = (pieces[first][0] - pieces[first - 1][1]) / RATE if first else math.inf
            cost = cheapest[first] + 1 + CUT_COST * math.exp(-pause / PAUSE_SCALE)
            if cost < cheapest[last]:
                cheapest[last], first_of[last] = cost, first
    grouped: list[list[Stretch]] = []
    last = len(pieces)
    while last:
        grouped.append(pieces[first_of[last] : last])
        last = first_of[last]
    return grouped[::-1]


def _split_long(stretch: Stretch, probability: npt.NDArray[np.float32]) -> list[Stretch]:
    """Talk without a pause is cut where speech is least likely, in the second half of a window."""
    pieces = []
    start, end = stretch
    while end - start > LONGEST:
        low, high = (start + LONGEST // 2) // FRAME, (start + LONGEST) // FRAME
        cut = (low + int(np.argmin(probability[low:high]))) * FRAME
        pieces.append((start, cut))
        start = cut
    return [*pieces, (start, end)]
