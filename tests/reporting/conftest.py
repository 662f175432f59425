"""The walk of walk.yaml as Transcript and Result, a tone for each recording, and a browser."""

from __future__ import annotations

import os
import shutil
import wave
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser, sync_playwright
from tests.reporting.spoken_walk import RATE, WALK, make_result, make_transcript

from spokenfor.models import Result, Transcript

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


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


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    chromium = shutil.which("chromium") or shutil.which("google-chrome")
    if chromium is None and not os.environ.get("CI"):
        pytest.skip("no Chromium on this machine")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=chromium, args=ARGUMENTS)
        yield opened
        opened.close()
