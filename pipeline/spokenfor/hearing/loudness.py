"""How loud is a recording, as a listener would say? Recommendation ITU-R BS.1770."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

# Two filters at 48 kHz (b0 b1 b2, a0 a1 a2): ITU-R BS.1770, tables 1 and 2.
_HEAD = ((1.53512485958697, -2.69169618940638, 1.19839281085285),
         (1.0, -1.69065929318241, 0.73248077421585))  # fmt: skip
_LOW_CUT = ((1.0, -2.0, 1.0), (1.0, -1.99004745483398, 0.99007225036621))
_STATED_RATE = 48_000

OFFSET = -0.691
ABSOLUTE_GATE = -70.0
RELATIVE_GATE = -10.0
HOPS = 4


def k_weighting(hertz: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Gain (amplitude) of the K-weighting at frequencies up to 24 kHz.

    The Recommendation states the filters for 48 kHz and asks for the same frequency response at other
    rates; so this is the response of the stated filters, whatever the rate of the sound.
    """
    delay = np.exp(-2j * np.pi * np.minimum(hertz, _STATED_RATE / 2) / _STATED_RATE)
    gain = np.ones(len(hertz))
    for above, below in (_HEAD, _LOW_CUT):
        gain *= np.abs(np.polyval(above[::-1], delay) / np.polyval(below[::-1], delay))
    return gain


def integrated(powers: npt.NDArray[np.float64]) -> float | None:
    """Integrated loudness in LUFS of one channel, given K-weighted mean squares of each 0.1 s.

    Blocks of 0.4 s overlap by three quarters and pass two gates, -70 LUFS and 10 LU under what is left;
    None where nothing passes (ITU-R BS.1770, annex 1).
    """
    if len(powers) < HOPS:
        return None
    blocks = np.convolve(powers, np.full(HOPS, 1 / HOPS), mode="valid")
    for gate in (ABSOLUTE_GATE, RELATIVE_GATE):
        floor = gate if gate == ABSOLUTE_GATE else _lufs(float(blocks.mean())) + gate
        blocks = blocks[blocks > 10 ** ((floor - OFFSET) / 10)]
        if not len(blocks):
            return None
    return _lufs(float(blocks.mean()))


def _lufs(power: float) -> float:
    return float(OFFSET + 10 * np.log10(power))
