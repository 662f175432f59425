"""What was kept of a recording's sound, by its SHA-256: its peaks, and the file that a browser plays?"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

PER_SECOND = 10
"""Peaks a second: an hour is 36,000 numbers."""


@dataclass(frozen=True)
class Peaks:
    """Peak levels 0..1 (0: -60 dB of full scale and below, 1: full scale), PER_SECOND a second."""

    seconds: float
    levels: list[float]


def read_peaks(cache: Path, sha256: str) -> Peaks | None:
    """The peaks of a recording, None where they are not made yet."""
    try:
        found = json.loads((cache / f"{sha256}.json").read_bytes())
        return Peaks(float(found["seconds"]), list(found["levels"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def listening_file(cache: Path, sha256: str, path: Path) -> Path:
    """The file to play: the listening copy where there is one, else the recording."""
    copy = cache / f"{sha256}.flac"
    return copy if copy.is_file() else path
