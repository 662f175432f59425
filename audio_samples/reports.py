"""Rebuilds the reports of one sample of each pack: python -m audio_samples.reports."""

from __future__ import annotations

from pathlib import Path

from audio_samples.script import FOLDER

from spokenfor.check import Request
from spokenfor.samples import sample_about, sample_sounds
from spokenfor.terminal import run_check

SAMPLES = ("skipped-zone", "preflight", "yard-check")
REPORTS = FOLDER / "reports"


def build(out: Path = REPORTS) -> None:
    """Check each sample and write its reports into a folder of its own; the sound is linked to."""
    for name in SAMPLES:
        request = Request(sounds=sample_sounds(name), by="Sample voice", **sample_about(name))
        run_check(request, out / name, False)


if __name__ == "__main__":
    build()
