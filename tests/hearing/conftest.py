"""Real speech for the hearing tests: LibriVox sentences, public domain, from Debian pocketsphinx-testdata."""

from __future__ import annotations

import os
import re
import wave
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from spokenfor.hearing.transcribe import Recogniser
from spokenfor.hearing.weights import resolve

LIBRIVOX = Path("/usr/share/pocketsphinx/test/data/librivox")
RATE = 16_000


@dataclass(frozen=True)
class Speech:
    """16 kHz mono int16 samples, where each sentence lies in seconds, and what was said."""

    samples: np.ndarray
    spans: list[tuple[float, float]]
    sentences: list[str]


@pytest.fixture(scope="session")
def librivox() -> Path:
    if not LIBRIVOX.is_dir() and not os.environ.get("CI"):
        pytest.skip("needs Debian's pocketsphinx-testdata")
    return LIBRIVOX


@pytest.fixture(scope="session")
def speech(librivox: Path) -> Speech:
    """The five sentences with a second and a half of room between them."""
    rng = np.random.default_rng(1)
    parts, spans, sentences, reached = [_room(rng, 1.5)], [], [], 1.5
    for line in (librivox / "transcription").read_text().splitlines():
        said, name = re.fullmatch(r"<s> (.*) </s> \((.*)\)", line).groups()
        samples = read_wav(librivox / f"{name}.wav")
        spans.append((reached, reached + len(samples) / RATE))
        parts += [samples, _room(rng, 1.5)]
        reached += len(samples) / RATE + 1.5
        sentences.append(said)
    return Speech(np.concatenate(parts), spans, sentences)


@pytest.fixture(scope="session")
def recogniser() -> Recogniser:
    return Recogniser(resolve())


def read_wav(path: Path) -> np.ndarray:
    with wave.open(str(path)) as file:
        assert (file.getframerate(), file.getnchannels()) == (RATE, 1)
        return np.frombuffer(file.readframes(file.getnframes()), np.int16)


def write_wav(path: Path, samples: np.ndarray) -> Path:
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(np.clip(samples, -32768, 32767).astype("<i2").tobytes())
    return path


@pytest.fixture(scope="session")
def save():
    return write_wav


@pytest.fixture(scope="session")
def in_noise():
    """Speech in hangar-like noise (broadband falling with frequency, and a whine) at a ratio in dB."""

    def mix(speech: Speech, ratio: float) -> np.ndarray:
        spoken = np.concatenate(
            [speech.samples[int(a * RATE) : int(b * RATE)] for a, b in speech.spans]
        ).astype(float)
        noise = hangar_noise(len(speech.samples))
        return speech.samples + noise * spoken.std() * 10 ** (-ratio / 20)

    return mix


def hangar_noise(length: int) -> np.ndarray:
    """Noise of standard deviation 1 with a fixed seed."""
    spectrum = np.fft.rfft(np.random.default_rng(7).standard_normal(length))
    frequency = np.fft.rfftfreq(length, 1 / RATE)
    broadband = np.fft.irfft(spectrum / np.sqrt(np.maximum(frequency, 60) / 60), length)
    time = np.arange(length) / RATE
    whine = sum(np.sin(2 * np.pi * pitch * time) for pitch in (420, 1260, 2950))
    noise = broadband / broadband.std() + 0.5 * whine / whine.std()
    return noise / noise.std()


@pytest.fixture(scope="session")
def noise():
    return hangar_noise


def _room(rng: np.random.Generator, seconds: float) -> np.ndarray:
    return rng.normal(0, 8, int(seconds * RATE)).astype(np.int16)
