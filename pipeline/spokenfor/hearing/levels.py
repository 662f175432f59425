"""How loud is the speech over the noise? Levels along time, and what noise could have drowned."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE, Sound
from spokenfor.hearing.voice import FRAME, Stretch

QUIETEST = 1e-10
"""Mean square of the rounding of 16-bit samples, full scale 1: nothing quieter can be told."""

DROWNED_MARGIN = 1.5
"""dB under the speech at which noise still lets the detector hear: it did on synthetic narration at 3 dB."""

QUIET_ROOM = -45.0
"""dB under full scale: where nobody was heard at all, sound above this is no quiet room (common practice)."""

STRETCH = 10.0
"""Seconds of a stretch of quality: long enough for speech and a pause, short enough to find the place."""

LEAST_SPEECH = 2.0
SHORTEST_DROWNED = 0.5
SOFT_EDGE = 0.3
BAND = (200.0, 4000.0)


@dataclass(frozen=True)
class Levels:
    """Powers (mean squares, full scale 1) of the frames of a recording, 32 ms each.

    `power` is in the speech band (200-4000 Hz); `spoken`, `near_speech` and `lost` say which frames are
    speech, speech with soft edges, or no sound at all. `speech` and `noise` are powers over the whole
    recording. `bounds` are the edges of the stretches in seconds, `firsts` the same in frames, and
    `spectra` the power of each stretch's speech in bins of 31.25 Hz from 0, summed over its frames.
    """

    power: npt.NDArray[np.float32]
    spoken: npt.NDArray[np.bool_]
    near_speech: npt.NDArray[np.bool_]
    lost: npt.NDArray[np.bool_]
    speech: float | None
    noise: float
    bounds: list[float]
    firsts: list[int]
    spectra: npt.NDArray[np.float64]


def stretch_bounds(duration: float) -> list[float]:
    """Edges in seconds of stretches of 10 s; a last one under half as long goes with the one before."""
    whole = int(duration / STRETCH)
    inner = [STRETCH * number for number in range(1, whole + 1)]
    if inner and duration - inner[-1] < STRETCH / 2:
        inner.pop()
    return [0.0, *inner, duration]


def measure(
    sound: Sound, speech: list[Stretch], lost: Iterable[tuple[float, float]] = ()
) -> Levels:
    """Split the frames of a recording into speech and the rest and take the level of each.

    Sound that was `lost` (stretches in seconds) counts as neither. `speech` is None in the result where
    less than two seconds of it were found.
    """
    count = -(-len(sound.samples) // FRAME)
    spoken, near, silent = (np.zeros(count, bool) for _ in range(3))
    margin = int(SOFT_EDGE * RATE) // FRAME
    for start, end in speech:
        spoken[start // FRAME : end // FRAME] = True
        near[max(0, start // FRAME - margin) : end // FRAME + margin] = True
    for first, last in lost:
        silent[int(first * RATE) // FRAME : -(-int(last * RATE) // FRAME)] = True
    spoken &= ~silent
    bounds = stretch_bounds(sound.duration)
    firsts = [round(bound * RATE) // FRAME for bound in bounds[:-1]] + [count]
    power = np.zeros(count, np.float32)
    spectra = np.zeros((len(bounds) - 1, FRAME // 2 + 1))
    for number, (first, after) in enumerate(pairwise(firsts)):
        spectrum = _spectrum(sound.samples[first * FRAME : after * FRAME])
        power[first:after] = spectrum[:, _in_band()].sum(axis=1)
        spectra[number] = spectrum[spoken[first:after]].sum(axis=0)
    apart = ~(near | silent)
    noise = float(np.median(power[apart])) if apart.any() else QUIETEST
    level = None
    if spoken.sum() * FRAME / RATE >= LEAST_SPEECH:
        level = max(float(power[spoken].mean()) - noise, QUIETEST)
    return Levels(power, spoken, near, silent, level, noise, bounds, firsts, spectra)


def _in_band() -> slice:
    width = RATE / FRAME
    return slice(int(np.ceil(BAND[0] / width)), int(BAND[1] / width) + 1)


def _spectrum(samples: npt.NDArray[np.int16]) -> npt.NDArray[np.float32]:
    """Power of each frame (rows) in each bin, such that the bins of a row add up to its mean square."""
    frames = np.pad(samples, (0, -len(samples) % FRAME)).reshape(-1, FRAME)
    window = np.hanning(FRAME).astype(np.float32)
    scale = np.float32(2 / (FRAME * float(np.square(window).sum()) * 32768.0**2))
    found = np.fft.rfft(frames * window, axis=1)
    return np.asarray((np.square(found.real) + np.square(found.imag)) * scale, np.float32)


def ratio_db(speech: float, noise: float) -> float:
    """Signal-to-noise ratio in dB of two powers, never below -20: there it says no more."""
    return max(-20.0, float(10 * np.log10(max(speech, QUIETEST) / max(noise, QUIETEST))))


def ratios(levels: Levels) -> list[float | None]:
    """Signal-to-noise ratio in dB of each stretch, None where less than a second of it is speech.

    The noise is the median of the frames apart from speech in the stretch and those beside it; where
    nearly all is speech, that of the whole recording.
    """
    apart = ~(levels.near_speech | levels.lost)
    found: list[float | None] = []
    reach = round(STRETCH * RATE) // FRAME
    for first, after in pairwise(levels.firsts):
        spoken = levels.spoken[first:after]
        if spoken.sum() * FRAME < RATE:
            found.append(None)
            continue
        around = slice(max(0, first - reach), after + reach)
        beside = levels.power[around][apart[around]]
        noise = float(np.median(beside)) if len(beside) * FRAME > RATE / 2 else levels.noise
        found.append(ratio_db(float(levels.power[first:after][spoken].mean()) - noise, noise))
    return found


def drowned(levels: Levels) -> list[tuple[float, float]]:
    """Stretches (seconds) so loud that speech in them could not have been told from noise.

    Loud means within 1.5 dB of this recording's own speech or above it; where hardly any speech was
    found, above the level of a quiet room.
    """
    quiet_room = 10 ** (QUIET_ROOM / 10)
    under_speech = 10 ** (-DROWNED_MARGIN / 10)
    limit = quiet_room if levels.speech is None else levels.speech * under_speech
    width = np.ones(int(SHORTEST_DROWNED * RATE) // FRAME)
    apart = ~levels.near_speech
    noise = _around(levels.power * apart, width)
    counted = np.maximum(_around(apart, width), 1)
    loud = apart & (noise / counted >= limit)
    reach = np.ones(2 * (int(SOFT_EDGE * RATE) // FRAME) + 1)
    loud = np.concatenate([[False], _around(loud, reach) > 0.5, [False]])
    edges = np.flatnonzero(np.diff(loud.astype(np.int8)))
    seconds = edges.reshape(-1, 2) * FRAME / RATE
    return [(float(a), float(b)) for a, b in seconds if b - a >= SHORTEST_DROWNED]


def _around(values: npt.NDArray[Any], width: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Sums over the neighbours of each value; unlike numpy's mode "same", also of fewer values than `width`."""
    first = (len(width) - 1) // 2
    sums: npt.NDArray[np.float64] = np.convolve(values, width)[first : first + len(values)]
    return sums
