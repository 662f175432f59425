"""Where does somebody speak? Silero's voice detector, set to miss nothing rather than to be sure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE

FRAME = 512
"""Samples a detector frame (32 ms)."""

BLOCK = 2048 * FRAME
WARM_UP = 64 * FRAME
LOUD_ENOUGH = 0.1


@dataclass(frozen=True)
class VoiceSettings:
    """Thresholds of the detector (probabilities 0..1) and shaping of its stretches (seconds).

    Lower than the library's 0.5 / 0.35: measured on synthetic narration from clean down to -2 dB of
    broadband noise and whine, 62 to 88 % of speech frames pass `on` and at most 1 % of pause frames.
    """

    on: float = 0.35
    off: float = 0.15
    shortest: float = 0.12
    padding: float = 0.3


Stretch = tuple[int, int]
"""First and one past the last sample of a stretch."""


def levelled(samples: npt.NDArray[np.int16], gain: float) -> npt.NDArray[np.float32]:
    """Samples as float32 at the recording's working level (see `working_gain`)."""
    values = samples.astype(np.float32) * np.float32(gain / 32768)
    return np.clip(values, -1.0, 1.0, out=values)


def working_gain(samples: npt.NDArray[np.int16]) -> float:
    """Factor that brings the loud parts of a quiet recording to speaking level; never below 1.

    The detector was trained on ordinary levels and goes deaf to a distant microphone.
    """
    frames = samples[: len(samples) // FRAME * FRAME].reshape(-1, FRAME)
    if not len(frames):
        return 1.0
    loud = max(float(np.percentile(_root_mean_square(frames), 95)), 1e-4)
    return float(np.clip(LOUD_ENOUGH / loud, 1.0, 30.0))


def _root_mean_square(frames: npt.NDArray[np.int16]) -> npt.NDArray[np.float32]:
    parts = [np.square(part.astype(np.float32) / 32768).mean(axis=1) for part in _split(frames)]
    return np.asarray(np.sqrt(np.concatenate(parts)), np.float32)


def _split(frames: npt.NDArray[np.int16]) -> Iterator[npt.NDArray[np.int16]]:
    for first in range(0, len(frames), 4096):
        yield frames[first : first + 4096]


def speech_probability(samples: npt.NDArray[np.int16], gain: float) -> npt.NDArray[np.float32]:
    """Probability of speech (0..1) for each started frame of 32 ms.

    Runs in blocks, each with two seconds of what went before, so that memory does not grow with length.
    Source: Silero VAD as shipped with faster-whisper.
    """
    from faster_whisper.vad import get_vad_model

    detector = get_vad_model()
    found = []
    for first in range(0, len(samples), BLOCK):
        warm = min(first, WARM_UP)
        part = levelled(samples[first - warm : first + BLOCK], gain)
        part = np.pad(part, (0, -len(part) % FRAME))
        found.append(np.asarray(detector(part), np.float32).ravel()[warm // FRAME :])
    return np.concatenate(found) if found else np.zeros(0, np.float32)


def speech_stretches(
    probability: npt.NDArray[np.float32], length: int, settings: VoiceSettings
) -> list[Stretch]:
    """Stretches of speech without padding, in samples, in time order, within `length`."""
    stretches: list[Stretch] = []
    begun: int | None = None
    for frame, value in enumerate(probability):
        if begun is None and value >= settings.on:
            begun = frame
        elif begun is not None and value < settings.off:
            stretches.append((begun * FRAME, frame * FRAME))
            begun = None
    if begun is not None:
        stretches.append((begun * FRAME, length))
    shortest = settings.shortest * RATE
    return [(start, min(end, length)) for start, end in stretches if end - start >= shortest]


def padded(stretches: list[Stretch], length: int, padding: float) -> list[Stretch]:
    """The same stretches with soft beginnings and ends: so many seconds, or half the pause between."""
    room = int(padding * RATE)
    ends = [0, *(end for _, end in stretches)]
    starts = [*(start for start, _ in stretches), length]
    pads = [min(room, (start - end) // 2) for end, start in zip(ends, starts, strict=True)]
    pads[0], pads[-1] = min(room, starts[0]), min(room, length - ends[-1])
    return [
        (start - before, end + after)
        for (start, end), before, after in zip(stretches, pads, pads[1:], strict=False)
    ]
