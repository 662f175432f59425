"""Sounds with known answers: bursts in place of speech, noise of given bands, wind, hum."""

from __future__ import annotations

import numpy as np

from spokenfor.hearing.decode import RATE, Sound
from spokenfor.hearing.voice import Stretch

VOICE = 3000.0
"""Root mean square of the bursts that stand for speech, in steps of 16 bits (-20.8 dB of full scale)."""


def band_noise(seconds: float, low: float, high: float, seed: int = 1) -> np.ndarray:
    """Noise of root mean square 1 whose spectrum is flat from `low` to `high` Hz and nothing elsewhere."""
    noise = np.random.default_rng(seed).standard_normal(int(seconds * RATE))
    sound = passed(noise, low, high)
    return sound / sound.std()


def passed(sound: np.ndarray, low: float, high: float) -> np.ndarray:
    """What a perfect line from `low` to `high` Hz leaves of a sound."""
    spectrum = np.fft.rfft(sound)
    hertz = np.fft.rfftfreq(len(sound), 1 / RATE)
    spectrum[(hertz < low) | (hertz > high)] = 0
    return np.fft.irfft(spectrum, len(sound))


def talk(seconds: float) -> tuple[np.ndarray, list[Stretch]]:
    """Two seconds of "speech" and one of pause by turns, and where the speech is, in samples."""
    sound = band_noise(seconds, 200, 8000, 2) * VOICE
    speech = [
        (start, min(start + 2 * RATE, len(sound))) for start in range(0, len(sound), 3 * RATE)
    ]
    spoken = np.zeros(len(sound), bool)
    for start, end in speech:
        spoken[start:end] = True
    return sound * spoken, speech


def as_sound(samples: np.ndarray, **given: object) -> Sound:
    """A decoded recording of these samples."""
    fields = {
        "file": "made.wav",
        "sha256": "0" * 64,
        "samples": np.clip(np.rint(samples), -32768, 32767).astype(np.int16),
        "sample_rate": RATE,
        "channels": 1,
        "missing": [],
        "clipped": [],
        "clipped_share": 0.0,
    }
    return Sound(**{**fields, **given})  # type: ignore[arg-type]


def gusts(seconds: float, share: float) -> tuple[np.ndarray, np.ndarray]:
    """Rumble of 20 to 150 Hz, root mean square 1 within gusts, in gusts of 2 s that take up `share` of
    the time; and which samples are in a gust."""
    period = round(2 / share * RATE)
    blowing = np.arange(int(seconds * RATE)) % period < 2 * RATE
    return band_noise(seconds, 20, 150, 3) * blowing, blowing
