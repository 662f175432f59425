"""How strong is the part of the sound that passes a filter, along time?"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE

HOP = RATE // 10
"""Samples (0.1 s) over which power is taken."""

Response = Callable[[npt.NDArray[np.float64]], npt.NDArray[np.float64]]
"""Gain of a filter (amplitude, phase left alone) at frequencies in Hz."""

_BLOCK = RATE
_SETTLING = HOP // 2
_STEP = _BLOCK - 2 * _SETTLING
_AT_ONCE = 8


def filtered_powers(
    samples: npt.NDArray[np.int16], responses: Sequence[Response]
) -> npt.NDArray[np.float64]:
    """Mean square (full scale 1) behind each filter (rows) of each whole 0.1 s (columns).

    Filters by overlap-save (Oppenheim & Schafer, Discrete-Time Signal Processing, from memory) in blocks
    of a second, so a filter must settle within 50 ms. One that stops all from some frequency on is worked
    out at a lower rate. Memory does not grow with length beyond the result.
    """
    hertz = np.asarray(np.fft.rfftfreq(_BLOCK, 1 / RATE), np.float64)
    gains = [np.asarray(response(hertz), np.float32) for response in responses]
    rates = [_lowest_rate(gain) for gain in gains]
    found: list[list[npt.NDArray[np.float32]]] = [[] for _ in gains]
    for blocks in _blocks(samples):
        spectrum = np.fft.rfft(blocks, axis=1)
        for row, gain, rate in zip(found, gains, rates, strict=True):
            bins = rate // 2 + 1
            passed = np.fft.irfft(spectrum[:, :bins] * gain[:bins], rate, axis=1)
            passed *= np.float32(rate / _BLOCK)
            settled = passed[:, _SETTLING * rate // _BLOCK : (_SETTLING + _STEP) * rate // _BLOCK]
            hops = settled.reshape(len(blocks) * _STEP // HOP, HOP * rate // _BLOCK)
            row.append(np.square(hops).mean(axis=1))
    whole = len(samples) // HOP
    rows = [np.concatenate([*row, np.zeros(0, np.float32)])[:whole] for row in found]
    return np.asarray(rows, np.float64).reshape(len(gains), whole)


def _lowest_rate(gain: npt.NDArray[np.float32]) -> int:
    """Samples a block that hold all this gain lets through, a divisor of the block."""
    highest = int(np.flatnonzero(gain)[-1]) if gain.any() else 0
    rates = [_BLOCK // ratio for ratio in (32, 16, 8, 4, 2)]
    return next((rate for rate in rates if rate // 2 > highest), _BLOCK)


def _blocks(samples: npt.NDArray[np.int16]) -> Iterator[npt.NDArray[np.float32]]:
    """Overlapping blocks (rows), a few at once, full scale 1, with zeros before and after the sound."""
    for first in range(0, len(samples), _AT_ONCE * _STEP):
        count = min(_AT_ONCE, -(-(len(samples) - first) // _STEP))
        after = first + count * _STEP + _SETTLING
        part = samples[max(0, first - _SETTLING) : after].astype(np.float32) / np.float32(32768)
        missing = max(0, _SETTLING - first), max(0, after - len(samples))
        view = np.lib.stride_tricks.sliding_window_view(np.pad(part, missing), _BLOCK)
        yield view[::_STEP]
