"""Steady noise taken down: what it must do to noise, to speech, and to clean sound."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.signal import stft

from spokenfor.hearing import noise
from spokenfor.hearing.decode import RATE

SECONDS = 12


def _int16(sound: np.ndarray) -> np.ndarray:
    return np.clip(sound * 32768, -32768, 32767).astype(np.int16)


def _speechlike(rng: np.random.Generator) -> np.ndarray:
    """Harmonics of 130 Hz in syllables of a fifth of a second, with pauses."""
    time = np.arange(SECONDS * RATE) / RATE
    tone = sum(np.sin(2 * np.pi * 130 * k * time) / k for k in range(2, 20))
    syllables = np.repeat(rng.random(SECONDS * 5) > 0.5, RATE // 5)
    swell = np.convolve(syllables, np.hanning(800) / np.hanning(800).sum(), mode="same")
    return 0.05 * tone * swell


def _decibels(power: float, of: float) -> float:
    return 10 * float(np.log10(power / of))


def test_frames_are_those_of_a_reference_transform():
    """scipy.signal.stft, the same window and hop."""
    sound = np.random.default_rng(1).normal(0, 0.1, RATE).astype(np.float32)
    _, _, theirs = stft(
        sound, nperseg=noise.FRAME, noverlap=noise.FRAME - noise.HOP, boundary=None, padded=False
    )
    theirs = theirs.T * noise._WINDOW.sum()
    # Ours begin a whole frame, 2.5 hops, before the sound: half a hop more makes it three.
    ours = noise._spectrum(np.concatenate([np.zeros(noise.HOP // 2, np.float32), sound]))
    np.testing.assert_allclose(ours[3 : 3 + len(theirs)], theirs, atol=1e-4)


def test_untouched_frames_give_the_sound_back():
    sound = np.random.default_rng(2).normal(0, 0.1, RATE + 77).astype(np.float32)
    back = noise._sound(noise._spectrum(sound), len(sound))
    np.testing.assert_allclose(back, sound, atol=1e-6)


@pytest.mark.parametrize("level", [0.001, 0.02, 0.3])
def test_the_power_of_white_noise_is_found_rather_too_low_than_too_high(level):
    sound = np.random.default_rng(3).normal(0, level, SECONDS * RATE).astype(np.float32)
    spectrum = noise._spectrum(sound)[5:-5]
    power = np.square(np.abs(spectrum)).astype(np.float32)
    found = noise.noise_power(power)
    true = level**2 * float(np.square(noise._WINDOW).sum())
    assert -3 < _decibels(float(np.median(found[:, 2:-2])), true) < 0


def test_noise_goes_down_in_pauses_and_speech_stays():
    rng = np.random.default_rng(4)
    speech = _speechlike(rng)
    hiss = rng.normal(0, 1, speech.size)
    hiss *= np.sqrt(np.mean(speech**2) / np.mean(hiss**2)) / 10 ** (3 / 20)
    heard = noise.quieter(_int16(speech + hiss), 0, speech.size)
    pause = np.abs(speech) < 1e-4
    before = float(np.mean(hiss[pause] ** 2))
    assert _decibels(float(np.mean(heard[pause] ** 2)), before) < -6
    spoken = np.abs(speech) > 0.05
    kept = float(np.dot(heard[spoken], speech[spoken]) / np.dot(speech[spoken], speech[spoken]))
    assert kept > 0.85
    error = heard - speech
    assert _decibels(float(np.mean(error**2)), float(np.mean(hiss**2))) < -3


def test_a_steady_whine_goes_down():
    rng = np.random.default_rng(5)
    speech = _speechlike(rng)
    time = np.arange(speech.size) / RATE
    whine = 0.05 * np.sin(2 * np.pi * 2350 * time)
    heard = noise.quieter(_int16(speech + whine), 0, speech.size)
    left = 2 * abs(np.mean(heard * np.exp(-2j * np.pi * 2350 * time)))
    assert _decibels(left**2, 0.05**2) < -6


def test_clean_sound_is_not_touched():
    rng = np.random.default_rng(6)
    samples = _int16(_speechlike(rng) + rng.normal(0, 1e-4, SECONDS * RATE))
    assert np.array_equal(noise.quieter(samples, 0, len(samples)), samples / np.float32(32768))


def test_a_span_sounds_the_same_as_within_its_recording():
    """So that the words of a window do not hang on what else was recorded."""
    rng = np.random.default_rng(7)
    samples = _int16(_speechlike(rng) + rng.normal(0, 0.05, SECONDS * RATE))
    start, end = 4 * RATE, 7 * RATE
    whole = noise.quieter(samples, 0, len(samples))[start:end]
    alone = noise.quieter(samples, start, end)
    assert float(np.sqrt(np.mean((whole - alone) ** 2))) < 0.1 * float(np.sqrt(np.mean(alone**2)))


@pytest.mark.parametrize("length", [0, 1, 399, 400, 401, 5000])
def test_any_length_is_given_back_as_long_as_it_was(length):
    samples = _int16(np.random.default_rng(8).normal(0, 0.1, length))
    assert noise.quieter(samples, 0, length).shape == (length,)
    assert np.isfinite(noise.quieter(samples, 0, length)).all()


def test_silence_stays_silence():
    samples = np.zeros(3 * RATE, np.int16)
    assert not noise.quieter(samples, 0, len(samples)).any()
