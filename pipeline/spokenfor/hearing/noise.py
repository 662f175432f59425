"""Steady noise taken down before words are recognised: what a fan, a turbine, a compressor puts under speech.

Only the recogniser hears it; the recording, its levels and what is called unheard go by the sound as it is.

Sources: the noise by minimum statistics (Martin 2001, IEEE Trans. Speech and Audio Processing 9(5)), the
gain by Wiener's rule on the decision-directed ratio (Ephraim & Malah 1984), both from memory; that some of
the noise must stay for a recogniser that learned from noisy sound was measured (docs/benchmarks.md).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE

FRAME = 400
HOP = 160
"""Samples: 25 ms every 10 ms, as the recogniser's own (Radford et al. 2022, section 2.2)."""

SHARE = 0.8
"""Of the sound with its noise taken down, in what is heard; the rest stays as it was."""

NOISY, CLEAN = 16.0, 22.0
"""dB of speech over noise up to which that share holds, and from which on nothing is changed."""

BAND = slice(5, 101)
"""Bins of 40 Hz from 200 to 4000 Hz, where most of speech lies."""

LEAST_GAIN = 0.1
MEMORY = 0.98
"""Of the ratio of the frame before, in the decision-directed ratio."""

SMOOTHED = 9
LOWEST_WITHIN = 301
BIAS = 2.0
"""The noise is this times the lowest smoothed power (over 90 ms) within 3 s: 2 dB under that of white noise,
so that weak speech is not taken for noise."""

STEADY = 101
CONTEXT = 2 * RATE
"""Samples before and after a span from which its noise is known too."""

_CHUNK = 400
_WARM_UP = 100
_LEAST_POWER = 1e-13
_WINDOW = np.hanning(FRAME + 1)[:FRAME].astype(np.float32)

Samples = npt.NDArray[np.float32]


def quieter(samples: npt.NDArray[np.int16], start: int, end: int) -> Samples:
    """Samples `start` to `end` of a recording at 16 kHz, full scale 1, with steady noise taken down."""
    first, after = max(0, start - CONTEXT), min(len(samples), end + CONTEXT)
    sound = samples[first:after].astype(np.float32) / np.float32(32768)
    if len(sound) < FRAME:
        return sound[start - first : end - first]
    spectrum = _spectrum(sound)
    power = np.square(spectrum.real) + np.square(spectrum.imag)
    noise = noise_power(power)
    share = share_for(power, noise)
    if share > 0:
        cleaned = _sound(spectrum * wiener_gain(np.asarray(power / noise, np.float32)), len(sound))
        sound = np.float32(share) * cleaned + np.float32(1 - share) * sound
    return sound[start - first : end - first]


def share_for(power: Samples, noise: Samples) -> float:
    """How much (0..1) of the cleaned sound is to be heard, given the powers of sound and noise in each bin
    of each frame: clean speech is only spoilt by it."""
    over = float(power[:, BAND].mean()) / float(noise[:, BAND].mean())
    decibels = 10 * float(np.log10(max(over, 1e-3)))
    return SHARE * float(np.clip((CLEAN - decibels) / (CLEAN - NOISY), 0.0, 1.0))


def noise_power(power: Samples) -> Samples:
    """Power of the steady noise in each bin of each frame, shape as `power` (frames, bins)."""
    lowest = _lowest(_mean(power, SMOOTHED), LOWEST_WITHIN)
    return np.asarray(
        _mean(lowest, STEADY) * np.float32(BIAS) + np.float32(_LEAST_POWER), np.float32
    )


def wiener_gain(ratio: Samples) -> Samples:
    """Gain (amplitude) for each bin of each frame, given its power over that of the noise, shape
    (frames, bins). Worked out in chunks of 4 s side by side, each with a second before it."""
    frames, bins = ratio.shape
    count = -(-frames // _CHUNK)
    padded = np.pad(ratio, ((_WARM_UP, count * _CHUNK - frames), (0, 0)), constant_values=1.0)
    chunks = np.lib.stride_tricks.sliding_window_view(padded, _WARM_UP + _CHUNK, axis=0)
    beside = chunks[::_CHUNK].transpose(2, 0, 1)
    gains = np.empty((_WARM_UP + _CHUNK, count, bins), np.float32)
    before = np.ones((count, bins), np.float32)
    for gain, now in zip(gains, beside, strict=True):
        likely = MEMORY * before + (1 - MEMORY) * np.maximum(now - 1, 0)
        np.divide(likely, 1 + likely, out=gain)
        before = gain * gain * now
    found = gains[_WARM_UP:].transpose(1, 0, 2).reshape(count * _CHUNK, bins)[:frames]
    return np.maximum(found, np.float32(LEAST_GAIN))


def _spectrum(sound: Samples) -> npt.NDArray[np.complex64]:
    """Frames (rows) of a sound and their bins; the sound lies in the middle of a margin of zeros."""
    count = -(-len(sound) // HOP) + 2
    padded = np.pad(sound, (FRAME, (count + 3) * HOP - len(sound)))
    frames = np.lib.stride_tricks.sliding_window_view(padded, FRAME)[::HOP][: count + 2]
    return np.asarray(np.fft.rfft(frames * _WINDOW, axis=1), np.complex64)


def _sound(spectrum: npt.NDArray[np.complex64], length: int) -> Samples:
    """The sound of frames, by weighted overlap and add (Griffin & Lim 1984, from memory)."""
    frames = np.fft.irfft(spectrum, FRAME, axis=1).astype(np.float32) * _WINDOW
    both = _added(frames), _added(np.broadcast_to(np.square(_WINDOW), frames.shape))
    whole = both[0] / np.maximum(both[1], 1e-6)
    return np.asarray(whole[FRAME : FRAME + length], np.float32)


def _added(frames: Samples) -> Samples:
    parts = -(-FRAME // HOP)
    blocks = np.pad(frames, ((0, 0), (0, parts * HOP - FRAME))).reshape(len(frames), parts, HOP)
    total = np.zeros((len(frames) + parts - 1, HOP), np.float32)
    for part in range(parts):
        total[part : part + len(frames)] += blocks[:, part]
    return total.reshape(-1)


def _mean(values: Samples, width: int) -> Samples:
    """Mean over an odd number of frames around each, the edges held."""
    half = width // 2
    padded = np.pad(values, ((half + 1, half), (0, 0)), mode="edge")
    sums = np.cumsum(padded, axis=0, dtype=np.float64)
    return np.asarray((sums[width:] - sums[:-width]) / width, np.float32)


def _lowest(values: Samples, width: int) -> Samples:
    """Least over an odd number of frames around each: by doubling, each pass twice as wide."""
    half = width // 2
    least = np.pad(values, ((half, half), (0, 0)), constant_values=np.inf)
    held = 1
    while held < width:
        step = min(held, width - held)
        least = np.minimum(least[: len(least) - step], least[step:])
        held += step
    return least
