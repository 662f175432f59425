"""Speaks the texts by many voices, none of the test half.

    python -m tests.bench.hearing.tune.speak WORK

Writes WORK/dry/N.npy, 16 kHz, 16 bits; four texts in a row have one voice. Needs flite, espeak-ng and festival
with the voices kal, ked and slt (Debian), and hibari-tts (PyPI).
"""

from __future__ import annotations

import json
import random
import subprocess
import tempfile
import wave
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Annotated

import numpy as np
import typer
from audio_samples.script import VoiceSettings
from scipy.signal import resample_poly
from tests.bench.hearing.material import PRONOUNCE

from spokenfor.voices import RATE, Speak, voice

TOGETHER = 4


@dataclass(frozen=True)
class Speaker:
    """A voice, its throat (played at another rate: above 1 shorter and higher) and how often it speaks."""

    engine: str
    name: str
    pitch: float
    pace: float
    throat: float
    share: float


def speakers() -> list[Speaker]:
    """Every voice of tuning; those of the test half (hibari lowered to 0.82, flite rms, piper, espeak en-gb-x-rp)
    are not among them."""
    chance = random.Random(7)
    paces = (0.95, 1.1, 1.25)
    found = [
        Speaker("hibari", "heart", pitch, pace, 1.0, 30)
        for pitch in (0.9, 0.95, 1.0, 1.0, 1.07, 1.14)
        for pace in paces
    ]
    found += [
        Speaker("flite", name, 1.0, pace, throat, 9 if name in ("awb", "slt") else 4)
        for name in ("awb", "slt", "kal16", "kal")
        for throat in (0.88, 0.95, 1.0, 1.07, 1.15)
        for pace in paces[:2]
    ]
    accents = ("en-gb", "en-us", "en-gb-scotland", "en-gb-x-gbcwmd", "en-gb-x-gbclan", "en-029")
    found += [
        Speaker("espeak", accent + variant, pitch, chance.choice([0.85, 0.95, 1.1]), 1.0, 3)
        for accent in accents
        for variant in ("", "+m1", "+m3", "+m4", "+m7", "+f2", "+f4")
        for pitch in (0.75, 1.0)
    ]
    found += [
        Speaker("festival", f"voice_{name}", 1.0, 1.0, throat, 8)
        for name in ("kal_diphone", "ked_diphone", "cmu_us_slt_arctic_hts")
        for throat in (0.9, 1.0, 1.1)
    ]
    return found


def _festival(name: str) -> Speak:
    def speak(text: str) -> np.ndarray:
        with tempfile.TemporaryDirectory() as folder:
            out = Path(folder) / "said.wav"
            command = ["text2wave", "-eval", f"({name})", "-o", str(out)]
            subprocess.run(command, input=text.encode(), check=True, capture_output=True)
            with wave.open(str(out)) as held:
                raw = np.frombuffer(held.readframes(held.getnframes()), np.int16)
                rate = held.getframerate()
        sound = raw.astype(np.float32) / 32768
        return resample_poly(sound, RATE // 1000, rate // 1000).astype(np.float32)

    return speak


@cache
def _voice(speaker: Speaker) -> Speak:
    if speaker.engine == "festival":
        return _festival(speaker.name)
    settings = VoiceSettings(
        engine=speaker.engine, name=speaker.name, pitch=speaker.pitch, pace=speaker.pace, seed=1
    )
    return voice(settings, PRONOUNCE)


def _say(job: tuple[Path, Speaker, str]) -> bool:
    file, speaker, text = job
    if file.exists():
        return True
    try:
        sound = resample_poly(_voice(speaker)(text), 2, 3)
    except (subprocess.CalledProcessError, ValueError):
        return False  # A text of signs that this voice cannot read.
    if speaker.throat != 1.0:
        at = np.arange(0, len(sound), speaker.throat)
        sound = np.interp(at, np.arange(len(sound)), sound)
    np.save(file, (np.clip(sound, -1, 1) * 32000).astype(np.int16))
    return True


def main(work: Annotated[Path, typer.Argument(help="Folder for what is made")]) -> None:
    texts = json.loads((work / "texts.json").read_text())
    (work / "dry").mkdir(exist_ok=True)
    voices = speakers()
    shares = [one.share for one in voices]
    jobs = []
    for first in range(0, len(texts), TOGETHER):
        [speaker] = random.Random(first).choices(voices, shares)
        for number in range(first, min(first + TOGETHER, len(texts))):
            jobs.append((work / "dry" / f"{number}.npy", speaker, texts[number]["text"]))
    with ProcessPoolExecutor() as pool:
        done = sum(pool.map(_say, jobs, chunksize=TOGETHER * 8))
    print(f"{done} of {len(jobs)} texts spoken")


if __name__ == "__main__":
    typer.run(main)
