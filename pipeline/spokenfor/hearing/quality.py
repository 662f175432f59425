"""How loud is the speech over the noise? Levels along time, and what noise could have drowned."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE, Sound
from spokenfor.hearing.voice import FRAME, Stretch
from spokenfor.models import Quality

QUIETEST = 1e-10
"""Mean square of the rounding of 16-bit samples, full scale 1: nothing quieter can be told."""

DROWNED_MARGIN = 1.5
"""dB under the speech at which noise still lets the detector hear: it did on synthetic narration at 3 dB."""

QUIET_ROOM = -45.0
"""dB under full scale: where nobody was heard at all, sound above this is no quiet room (common practice)."""

LEAST_SPEECH = 2.0
SHORTEST_DROWNED = 0.5
SOFT_EDGE = 0.3
BAND = (200.0, 4000.0)


@dataclass(frozen=True)
class Levels:
    """Power of each 32 ms frame in the speech band (200-4000 Hz, full scale 1), and of speech and noise."""

    power: npt.NDArray[np.float32]
    near_speech: npt.NDArray[np.bool_]
    speech: float | None
    noise: float


def measure(sound: Sound, speech: list[Stretch]) -> Levels:
    """Split the frames of a recording into speech and the rest and take the level of each.

    `speech` is None in the result where less than two seconds of it were found.
    """
    power = _band_power(sound.samples)
    spoken = np.zeros(len(power), bool)
    near = np.zeros(len(power), bool)
    margin = int(SOFT_EDGE * RATE) // FRAME
    for start, end in speech:
        spoken[start // FRAME : end // FRAME] = True
        near[max(0, start // FRAME - margin) : end // FRAME + margin] = True
    noise = float(np.median(power[~near])) if (~near).any() else QUIETEST
    level = None
    if spoken.sum() * FRAME / RATE >= LEAST_SPEECH:
        level = max(float(power[spoken].mean()) - noise, QUIETEST)
    return Levels(power, near, level, noise)


def _band_power(samples: npt.NDArray[np.int16]) -> npt.NDArray[np.float32]:
    frames = np.pad(samples, (0, -len(samples) % FRAME)).reshape(-1, FRAME)
    frequency = np.fft.rfftfreq(FRAME, 1 / RATE)
    inside = (frequency >= BAND[0]) & (frequency <= BAND[1])
    window = np.hanning(FRAME).astype(np.float32)
    scale = 2 / (FRAME * float(np.square(window).sum()) * 32768.0**2)
    power = [
        np.square(
            np.abs(np.fft.rfft(frames[first : first + 2048] * window, axis=1)[:, inside])
        ).sum(1)
        for first in range(0, len(frames), 2048)
    ]
    return (np.concatenate(power) * scale).astype(np.float32)


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
    noise = np.convolve(levels.power * apart, width, mode="same")
    counted = np.maximum(np.convolve(apart, width, mode="same"), 1)
    loud = apart & (noise / counted >= limit)
    reach = np.ones(2 * (int(SOFT_EDGE * RATE) // FRAME) + 1)
    loud = np.concatenate([[False], np.convolve(loud, reach, mode="same") > 0.5, [False]])
    edges = np.flatnonzero(np.diff(loud.astype(np.int8)))
    seconds = edges.reshape(-1, 2) * FRAME / RATE
    return [(float(a), float(b)) for a, b in seconds if b - a >= SHORTEST_DROWNED]


def quality(sound: Sound, levels: Levels, speech: list[Stretch]) -> Quality:
    """Signal-to-noise ratio in dB in the speech band, clipped share, seconds of speech."""
    ratio = None
    if levels.speech is not None:
        ratio = float(10 * np.log10(levels.speech / max(levels.noise, QUIETEST)))
    return Quality(
        snr_db=None if ratio is None else round(ratio, 1),
        clipped=sound.clipped_share,
        speech_seconds=sum(end - start for start, end in speech) / RATE,
    )


def dropouts(samples: npt.NDArray[np.int16], shortest: float = 0.3) -> list[tuple[float, float]]:
    """Runs of exact zeros (seconds) in a recording whose background is otherwise never zero.

    A recording that is gated or synthetic has silence of exact zeros throughout: there they mean nothing.
    """
    zero = np.concatenate([[False], samples == 0, [False]])
    edges = np.flatnonzero(np.diff(zero.astype(np.int8))).reshape(-1, 2)
    runs = edges[edges[:, 1] - edges[:, 0] >= shortest * RATE]
    if not len(runs) or not (runs[:, 1] - runs[:, 0]).sum() < 0.5 * len(samples):
        return []
    frames = samples[: len(samples) // FRAME * FRAME].reshape(-1, FRAME)
    quiet = np.sqrt(np.square(frames.astype(np.float32)).mean(axis=1))
    background = float(np.percentile(quiet[quiet > 0], 5)) if (quiet > 0).any() else 0.0
    gated = len(runs) > max(3.0, len(samples) / RATE / 20)
    return [] if gated or background < 2 else [(a / RATE, b / RATE) for a, b in runs.tolist()]
