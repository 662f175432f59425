"""Did wind blow on the microphone, or cloth rub on it? Rumble that comes and goes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.filtered import HOP
from spokenfor.hearing.levels import Levels
from spokenfor.hearing.voice import FRAME

HIGHEST = 150.0
LOWEST = 20.0
EDGE = 15.0

OVER_BAND = 2.0
"""Ratio of powers, rumble to speech band, in one tenth of a second: wind falls steeply with frequency.

Measured on what audio_samples/noise.py makes: a hangar at work and a quiet room stay under 0.5, its wind is
at 10 to 200 and a windy apron up to 7."""

UNDER_SPEECH = 10**-1.5
"""Ratio of powers, rumble to the recording's speech: listeners find speech much worse where wind is less
than about 15 dB under it (Jackson et al., J. Acoust. Soc. Am. 136, 2014, abstract)."""

OVER_LULL = 4.0
QUIET = 1e-5
"""Rumble under four times the power of the lulls, or -50 dB of full scale, is a room's (common practice)."""

LEAST_TOLD = 5
"""Tenths of a second apart from speech that a stretch needs before anything is said of its wind."""


def rumble_band(hertz: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Gain (amplitude) of a filter that passes 20 to 150 Hz, edges 15 Hz wide."""
    rise = np.clip((hertz - LOWEST) / EDGE + 0.5, 0, 1)
    fall = np.clip((HIGHEST - hertz) / EDGE + 0.5, 0, 1)
    return np.asarray(np.sin(np.pi / 2 * np.minimum(rise, fall)))


@dataclass(frozen=True)
class Wind:
    """For each tenth of a second: could wind be told there (nobody spoke), and did it blow."""

    told: npt.NDArray[np.bool_]
    blown: npt.NDArray[np.bool_]

    def share(self, start: float, end: float) -> float | None:
        """Share of the time (0..1) with wind between two times in seconds, None where it cannot be told."""
        inside = slice(round(start * RATE / HOP), round(end * RATE / HOP))
        told = int(self.told[inside].sum())
        return round(float(self.blown[inside].sum()) / told, 3) if told >= LEAST_TOLD else None


def find_wind(rumble: npt.NDArray[np.float64], levels: Levels) -> Wind:
    """Where it was windy, from the power in the rumble band of each tenth of a second.

    Only where nobody speaks: a deep voice, too, is strong below 150 Hz. Wind is rumble stronger than the
    speech band at the same time, strong beside the recording's speech, and unsteady (its spectrum and
    gusts: Nemer & Leblanc 2009, from memory).
    """
    starts = np.arange(len(rumble)) * HOP // FRAME
    if not len(starts):
        return Wind(np.zeros(0, bool), np.zeros(0, bool))
    ends = [*(starts[1:] + 1), len(levels.power)]
    band = _sums(levels.power, starts, ends) / (np.array(ends) - starts)
    told = (_sums(levels.near_speech | levels.lost, starts, ends) == 0) & (rumble > 0)
    least = max(QUIET, UNDER_SPEECH * (levels.speech or 0.0))
    lull = float(np.percentile(rumble[told], 20)) if told.any() else 0.0
    strong = (rumble > OVER_BAND * band) & (rumble > least) & (rumble > OVER_LULL * lull)
    return Wind(told, told & strong)


def _sums(
    values: npt.NDArray[np.generic], starts: npt.NDArray[np.int64], ends: list[int]
) -> npt.NDArray[np.float64]:
    """Sum of the values from each start up to its end (not included)."""
    total = np.concatenate([[0.0], np.cumsum(values, dtype=np.float64)])
    return np.asarray(total[ends] - total[starts])
