"""The walk of walk.yaml as Transcript and Result, and a tone for each recording."""

from __future__ import annotations

import wave
from pathlib import Path

import numpy as np
import pytest
from tests.reporting.spoken_walk import RATE, WALK, make_result, make_transcript

from spokenfor.models import Result, Transcript


def write_tone(path: Path, seconds: float) -> Path:
    """A tone whose pitch steps once a second, 8 bit, so that the page embeds it by default."""
    times = np.arange(int(seconds * RATE)) / RATE
    tone = np.sin(2 * np.pi * (220 + 20 * np.floor(times) % 400) * times)
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(1)
        file.setframerate(RATE)
        file.writeframes((128 + 40 * tone).astype(np.uint8).tobytes())
    return path


@pytest.fixture
def result() -> Result:
    return make_result()


@pytest.fixture
def transcript() -> Transcript:
    return make_transcript()


@pytest.fixture(scope="session")
def sounds(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    folder = tmp_path_factory.mktemp("sounds")
    return [write_tone(folder / one["file"], one["seconds"]) for one in WALK["recordings"]]
