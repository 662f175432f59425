"""Rebuilds the reports of one sample of each pack: python -m audio_samples.reports."""

from __future__ import annotations

import tempfile
from pathlib import Path

from audio_samples.script import FOLDER

from spokenfor.check import Request
from spokenfor.samples import sample_about, sample_sounds
from spokenfor.terminal import run_check

SAMPLES = ("skipped-zone", "preflight", "yard-check")
REPORTS = FOLDER / "reports"


def build(out: Path = REPORTS) -> None:
    """Check each sample and keep its page and its report.json; the page plays the sample's own sound."""
    out.mkdir(exist_ok=True)
    for name in SAMPLES:
        sounds = sample_sounds(name)
        request = Request(sounds=sounds, by="Sample voice", **sample_about(name))
        with tempfile.TemporaryDirectory() as folder:
            run_check(request, Path(folder), False)
            page = (Path(folder) / "report.html").read_text(encoding="utf-8")
            report = (Path(folder) / "report.json").read_text(encoding="utf-8")
        for sound in sounds:
            page = page.replace(f'"recordings/{sound.name}"', f'"../{sound.name}"')
        (out / f"{name}.html").write_text(page, encoding="utf-8")
        (out / f"{name}.json").write_text(report, encoding="utf-8")


if __name__ == "__main__":
    build()
