"""Up to which frequency was the voice recorded? A phone call stops at about 3.4 kHz."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.levels import BAND, QUIETEST
from spokenfor.hearing.voice import FRAME

RANGE = 55.0
"""dB under the strongest part of the voice at which nothing of it is left.

Measured on five synthetic voices through eight codecs: at full band they read 6700 to 8000 Hz, at 8 kHz
sampling (AMR, Opus, G.711, plain) 3300 to 4800."""

_SMOOTHING = np.ones(3) / 3
_SPREAD = 4
"""Bins by which the Hann window and the smoothing carry an edge beyond its place."""

_ROUNDING = 4 * QUIETEST / (FRAME // 2)
LEAST_FRAMES = 2 * RATE // FRAME


def upper_frequency(spectrum: npt.NDArray[np.float64], frames: int) -> int | None:
    """The frequency in Hz, to the nearest 100, above which nothing of the voice is left.

    `spectrum` is the power of `frames` frames of speech in bins from 0 to half the rate, summed; None
    where that is under two seconds. It is 8000 at most, which is as far as 16 kHz sound goes.
    """
    if frames < LEAST_FRAMES:
        return None
    smooth = np.convolve(spectrum / frames, _SMOOTHING, mode="same")
    hertz = np.arange(len(smooth)) * RATE / FRAME
    strongest = float(smooth[(hertz >= BAND[0]) & (hertz <= BAND[1])].max())
    left = np.flatnonzero(smooth > max(strongest * 10 ** (-RANGE / 10), _ROUNDING))
    if not len(left) or left[-1] == len(hertz) - 1:
        return RATE // 2 if len(left) else None
    return round(float(hertz[max(0, left[-1] - _SPREAD)]) / 100) * 100
