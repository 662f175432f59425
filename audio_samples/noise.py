"""What else is heard while an engineer speaks: a quiet room, a hangar at work, a windy apron."""

from __future__ import annotations

import numpy as np
from audio_samples.script import NoiseSettings
from numpy.typing import NDArray

from spokenfor.voices import RATE, Sound

Samples = NDArray[np.float64]


def add_noise(speech: Sound, spoken: NDArray[np.bool_], settings: NoiseSettings) -> Sound:
    """`speech` with noise at `settings.snr_db` below its level where `spoken` is true.

    The signal-to-noise ratio is the root mean square of the spoken samples against that of the
    whole noise, in dB. The same seed gives the same noise.
    """
    make = {"room": _room, "hangar": _hangar, "apron": _apron}[settings.kind]
    noise = make(speech.size, np.random.default_rng(settings.seed))
    wanted = _rms(speech[spoken]) / 10 ** (settings.snr_db / 20)
    mixed = speech + noise * (wanted / _rms(noise))
    peak = float(np.abs(mixed).max())
    return (mixed / max(1.0, peak / 0.98)).astype(np.float32)


def _room(size: int, rng: np.random.Generator) -> Samples:
    """Ventilation heard through a wall, and the microphone's own hiss."""
    return _coloured(size, rng, slope=1.0, low=40, high=6000) + 0.05 * rng.standard_normal(size)


def _hangar(size: int, rng: np.random.Generator) -> Samples:
    """Broadband rumble, a turbine running outside, an air compressor and dropped tools."""
    broadband = _coloured(size, rng, slope=0.8, low=60, high=9000)
    return (
        broadband + 0.35 * _whine(size, rng) + 0.9 * _bursts(size, rng) + 2.5 * _impacts(size, rng)
    )


def _apron(size: int, rng: np.random.Generator) -> Samples:
    """Outdoors beside the hangar: its noise farther off, and wind on the microphone."""
    return 0.7 * _hangar(size, rng) + 1.5 * _wind(size, rng)


def _wind(size: int, rng: np.random.Generator) -> Samples:
    """Rumble below 400 Hz that swells and dies with gusts of a few seconds."""
    rumble = _coloured(size, rng, slope=3.0, low=20, high=400)
    steps = size // RATE + 2
    gusts = np.interp(
        np.arange(size) / RATE, np.arange(steps), np.maximum(rng.normal(0.3, 0.6, steps), 0.0)
    )
    return rumble * gusts


def reverberant(speech: Sound, seconds: float, seed: int) -> Sound:
    """`speech` as heard in a large hard room whose sound dies by 60 dB in so many seconds (RT60): its
    direct sound and exponentially dying noise (Polack's model), 6 dB below it in level."""
    rng = np.random.default_rng(seed)
    tail = rng.standard_normal(int(seconds * RATE))
    tail *= 10 ** (-3 * np.arange(tail.size) / tail.size)
    tail[: RATE // 100] = 0
    tail *= 0.5 / float(np.sqrt(np.sum(np.square(tail))))
    room = np.concatenate([[1.0], tail])
    return _smooth(speech.astype(np.float64), room).astype(np.float32)


def telephone(speech: Sound) -> Sound:
    """`speech` as a telephone passes it: 300 to 3400 Hz (ITU-T G.712, from memory)."""
    spectrum = np.fft.rfft(speech)
    hertz = np.fft.rfftfreq(speech.size, 1 / RATE)
    spectrum[(hertz < 300) | (hertz > 3400)] = 0
    return np.fft.irfft(spectrum, speech.size).astype(np.float32)


def _coloured(
    size: int, rng: np.random.Generator, slope: float, low: float, high: float
) -> Samples:
    """Noise whose amplitude falls as frequency to the power of -slope/2; root mean square 1."""
    spectrum = np.fft.rfft(rng.standard_normal(size))
    hertz = np.fft.rfftfreq(size, 1 / RATE)
    shape = np.where((hertz >= low) & (hertz <= high), np.maximum(hertz, 1.0) ** (-slope / 2), 0.0)
    sound = np.fft.irfft(spectrum * shape, size)
    return sound / _rms(sound)


def _whine(size: int, rng: np.random.Generator) -> Samples:
    """Two compressor stages whose speed wanders by about two per cent."""
    steps = size // RATE + 2
    wander = np.interp(
        np.arange(size) / RATE, np.arange(steps), np.cumsum(rng.normal(0, 0.004, steps))
    )
    speed = 1 + np.clip(wander, -0.02, 0.02)
    sound = sum(
        strength * np.sin(2 * np.pi * np.cumsum(hertz * speed) / RATE)
        for hertz, strength in ((2350.0, 1.0), (3720.0, 0.6), (7050.0, 0.25))
    )
    return np.asarray(sound) / _rms(np.asarray(sound))


def _bursts(size: int, rng: np.random.Generator) -> Samples:
    """An air compressor that runs for 3 to 6 seconds about every half minute."""
    running = np.zeros(size)
    start = int(RATE * rng.uniform(6, 15))
    while start < size:
        length = int(RATE * rng.uniform(3, 6))
        running[start : start + length] = 1.0
        start += length + int(RATE * rng.uniform(15, 30))
    edge = np.ones(RATE // 5) / (RATE // 5)
    swell = np.clip(_smooth(running, edge), 0, 1)
    throb = 1 + 0.6 * np.sin(2 * np.pi * 24.0 * np.arange(size) / RATE)
    return _coloured(size, rng, slope=1.4, low=50, high=4000) * swell * throb


def _smooth(signal: Samples, window: Samples) -> Samples:
    length = signal.size + window.size
    product = np.fft.rfft(signal, length) * np.fft.rfft(window, length)
    return np.fft.irfft(product, length)[: signal.size]


def _impacts(size: int, rng: np.random.Generator) -> Samples:
    """Metal on concrete: a few ringing tones that die within half a second, every 5 to 14 s."""
    sound = np.zeros(size)
    start = int(RATE * rng.uniform(2, 6))
    ring = np.arange(RATE // 2) / RATE
    while start < size:
        clang = sum(
            np.sin(2 * np.pi * hertz * ring + rng.uniform(0, 6.28)) * np.exp(-ring * decay)
            for hertz, decay in zip(rng.uniform(700, 5200, 5), rng.uniform(10, 40, 5), strict=True)
        )
        stretch = sound[start : start + ring.size]
        stretch += rng.uniform(0.5, 1.0) * np.asarray(clang)[: stretch.size]
        start += int(RATE * rng.uniform(5, 14))
    return sound


def _rms(signal: NDArray[np.floating]) -> float:
    return float(np.sqrt(np.mean(np.square(signal, dtype=np.float64))))
