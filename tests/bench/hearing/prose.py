"""Ten minutes of ordinary prose read aloud: no word of it may become a trade word.

    python -m tests.bench.hearing.prose CACHE

Each voice of the test half reads a part of prose.txt, in quiet and in 10 dB of hangar noise; every pack listens.
Prints the minutes heard, and each repair and statement, of which there should be none.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import typer
from audio_samples.build import write_opus
from audio_samples.noise import add_noise
from audio_samples.script import NoiseSettings
from tests.bench.hearing.material import HERE, VOICES

from spokenfor.hearing.listen import hear
from spokenfor.hearing.weights import DEFAULT_MODEL
from spokenfor.models import Transcript
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import read
from spokenfor.voices import RATE, voice

PACKS = ("helicopter-light-twin", "aeroplane-piston-single", "goods-vehicle")
LEVELS = {"quiet": 30.0, "10 dB": 10.0}
PAUSE = 0.5


def speak(folder: Path) -> dict[str, list[Path]]:
    """Recordings by level of noise, one a voice, made where they are not there yet."""
    sentences = (HERE / "prose.txt").read_text().split("\n")
    voices = VOICES["test"]
    made: dict[str, list[Path]] = {level: [] for level in LEVELS}
    for number, settings in enumerate(voices):
        mine = [
            s
            for at, s in enumerate(sentences)
            if s and at * len(voices) // len(sentences) == number
        ]
        paths = {
            level: folder / f"prose-{number}-{level.replace(' ', '')}.opus" for level in LEVELS
        }
        for level, path in paths.items():
            made[level].append(path)
        if all(path.exists() for path in paths.values()):
            continue
        folder.mkdir(parents=True, exist_ok=True)
        say = voice(settings, {})
        pause = np.zeros(round(PAUSE * RATE), np.float32)
        parts = [sound for sentence in mine for sound in (say(sentence), pause)]
        spoken = np.concatenate([np.full(s.size, s is not pause) for s in parts])
        for level, path in paths.items():
            kind = "room" if level == "quiet" else "hangar"
            noise = NoiseSettings(kind=kind, snr_db=LEVELS[level], seed=number)
            write_opus(add_noise(np.concatenate(parts), spoken, noise), path)
    return made


def transcript(paths: list[Path], pack: str, kept: Path) -> Transcript:
    """What a pack's hearing makes of them, from the cache or made now."""
    if not kept.exists():
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.write_text(hear(paths, pack=load_pack(pack)).model_dump_json())
    return Transcript.model_validate_json(kept.read_text())


def main(cache: Path) -> None:
    for level, paths in speak(cache / "sound").items():
        for pack in PACKS:
            kept = cache / DEFAULT_MODEL / f"prose-{pack}-{level.replace(' ', '')}.json"
            heard = transcript(paths, pack, kept)
            reading = read(heard, pack)
            minutes = sum(one.duration for one in heard.recordings) / 60
            print(
                f"{level}, {pack}: {minutes:.1f} minutes, {len(reading.repairs)} repairs, "
                f"{len(reading.statements)} statements"
            )
            for repair in reading.repairs:
                print(f"  {repair.heard} => {repair.became} ({repair.probability})")
            for one in reading.statements:
                print(f"  {one.verdict.value}: {one.evidence.text}")


if __name__ == "__main__":
    typer.run(main)
