"""Where is there no sound at all though there should be? Runs of exact zeros, long and short."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.voice import FRAME

GRAIN = RATE // 200
"""Samples (5 ms) in which zeros are looked for; ends of runs are then found to the sample."""

CHUNK = 64 * RATE // GRAIN * GRAIN
SHORTEST = 0.3
SHORTEST_BREAK = 0.02
FULL_VOICE = 0.1
"""Sound this near to the recording's own loud level (ratio of amplitudes) is no fading pause."""


def dropouts(
    samples: npt.NDArray[np.int16], shortest: float = SHORTEST
) -> list[tuple[float, float]]:
    """Runs of exact zeros (seconds) in a recording whose background is otherwise never zero.

    A recording that is gated or synthetic has silence of exact zeros throughout: there they mean nothing.
    """
    runs = _zero_runs(samples, int(shortest * RATE))
    silent = int((runs[:, 1] - runs[:, 0]).sum())
    gated = len(runs) > max(3.0, len(samples) / RATE / 20)
    if not len(runs) or gated or not silent < 0.5 * len(samples):
        return []
    quiet = _amplitudes(samples, FRAME)
    background = float(np.percentile(quiet[quiet > 0], 5)) if (quiet > 0).any() else 0.0
    return [] if background < 2 else [(a / RATE, b / RATE) for a, b in runs.tolist()]


def breaks(samples: npt.NDArray[np.int16]) -> list[tuple[float, float]]:
    """Short runs of exact zeros (20 to 300 ms, in seconds) that cut into sound at full voice on both sides.

    So does a wireless or network link that loses packets; a gate closes and opens on fading sound
    (common practice). Zeros that a lossy codec has coded are no longer exact and are not found.
    """
    runs = _zero_runs(samples, int(SHORTEST_BREAK * RATE))
    runs = runs[runs[:, 1] - runs[:, 0] < SHORTEST * RATE]
    runs = runs[(runs[:, 0] >= GRAIN) & (runs[:, 1] + GRAIN <= len(samples))]
    if not len(runs):
        return []
    loud = FULL_VOICE * float(np.percentile(_amplitudes(samples, FRAME), 95))
    beside = np.arange(GRAIN)
    before = samples[runs[:, :1] - 1 - beside].astype(np.float32)
    after = samples[runs[:, 1:] + beside].astype(np.float32)
    sides = np.sqrt(np.minimum(np.square(before).mean(axis=1), np.square(after).mean(axis=1)))
    return [(a / RATE, b / RATE) for a, b in runs[sides >= max(loud, 2.0)].tolist()]


def _zero_runs(samples: npt.NDArray[np.int16], shortest: int) -> npt.NDArray[np.int64]:
    """First and one past the last sample of each run of at least `shortest` zeros, which must hold one
    grain at least."""
    whole = len(samples) // GRAIN * GRAIN
    zero = ~samples[:whole].reshape(-1, GRAIN).any(axis=1)
    edges = np.flatnonzero(np.diff(np.pad(zero.astype(np.int8), 1))).reshape(-1, 2) * GRAIN
    for run in edges:
        before = samples[max(0, run[0] - GRAIN) : run[0]][::-1]
        run[0] -= np.argmax(before != 0) if before.any() else len(before)
        after = samples[run[1] : run[1] + GRAIN]
        run[1] += np.argmax(after != 0) if after.any() else len(after)
    return edges[edges[:, 1] - edges[:, 0] >= shortest]


def _amplitudes(samples: npt.NDArray[np.int16], frame: int) -> npt.NDArray[np.float32]:
    """Root mean square of each whole frame, in units of one step of 16-bit sound, a minute at a time."""
    frames = samples[: len(samples) // frame * frame].reshape(-1, frame)
    parts = [
        np.sqrt(np.square(frames[first : first + 2048].astype(np.float32)).mean(axis=1))
        for first in range(0, len(frames), 2048)
    ]
    return np.concatenate(parts) if parts else np.zeros(1, np.float32)
