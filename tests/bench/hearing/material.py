"""Narrations as sound: which voice speaks which, in what noise. Split by narration and by voice.

Thresholds see only development; the test half is for measuring.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Literal

from audio_samples.build import speak_one
from audio_samples.noise import reverberant, telephone
from audio_samples.script import NoiseSettings, Script, VoiceSettings, load_script, script_paths

from spokenfor.voices import Sound

HERE = Path(__file__).resolve().parent
Half = Literal["dev", "test"]
CONDITIONS = {"quiet": 30.0, "10 dB": 10.0, "5 dB": 5.0, "3 dB": 3.0, "0 dB": 0.0, "-2 dB": -2.0}
PRONOUNCE = {"pitot": "pee toe", "oleo": "oh lee oh", "oleos": "oh lee ohs", "aft": "aft"}

# Nine voices of four kinds; none is in both halves, piper's kind in the test half only. hibari has one
# voice: at another rate it has another throat.
VOICES: dict[Half, tuple[VoiceSettings, ...]] = {
    "dev": (
        VoiceSettings(engine="hibari", name="heart", seed=1),
        VoiceSettings(engine="flite", name="awb", seed=1),
        VoiceSettings(engine="espeak", name="en-gb", pace=0.95, seed=1),
        VoiceSettings(engine="flite", name="slt", pace=0.95, seed=1),
        VoiceSettings(engine="espeak", name="en-us", pace=0.95, seed=1),
    ),
    "test": (
        VoiceSettings(engine="hibari", name="heart", pitch=0.82, pace=1.02, seed=2),
        VoiceSettings(engine="flite", name="rms", pace=1.05, seed=2),
        VoiceSettings(engine="piper", name="joe", pace=1.08, seed=7),
        VoiceSettings(engine="espeak", name="en-gb-x-rp", pace=0.95, pitch=0.8, seed=2),
    ),
}


@dataclass(frozen=True)
class Case:
    """One narration in one condition."""

    half: Half
    name: str
    condition: str
    script: Script
    heard: Callable[[Sound], Sound]

    @property
    def id(self) -> str:
        """Names the sound: its noise too, which follows the conditions that were asked for together."""
        noise = self.script.noise
        return (
            f"{self.half}-{self.name}-{self.condition.replace(' ', '')}-{noise.kind}-{noise.seed}"
        )

    def sounds(self, folder: Path) -> list[Path]:
        """Its recordings, spoken into `folder` where they are not there yet, with `times.json` beside
        them: for each recording, begin and end in seconds of each utterance in order."""
        made = folder / self.id
        if not made.is_dir():
            aside = folder / f"{self.id}.part"
            aside.mkdir(parents=True, exist_ok=True)
            spoken = speak_one(self.script, aside, self.heard)
            times = [[(begin, end) for begin, end, _ in one.utterances] for one in spoken]
            (aside / "times.json").write_text(json.dumps(times))
            aside.rename(made)
        return sorted(made.glob("*.opus"))

    def times(self, folder: Path) -> list[list[tuple[float, float]]]:
        """Begin and end in seconds of each utterance, by recording."""
        self.sounds(folder)
        return [
            [(a, b) for a, b in one]
            for one in json.loads((folder / self.id / "times.json").read_text())
        ]


def narrations(half: Half) -> list[Path]:
    """Scripts of one half; those of the bundled samples belong to development."""
    bundled = script_paths() if half == "dev" else []
    return [*bundled, *sorted((HERE / half).glob("*.yaml"))]


def cases(half: Half, conditions: tuple[str, ...] = tuple(CONDITIONS)) -> list[Case]:
    """Every narration of a half in each condition, with the voice that falls to it."""
    made = []
    for number, path in enumerate(narrations(half)):
        script = load_script(path)
        speaker = VOICES[half][number % len(VOICES[half])]
        for turn, name in enumerate(conditions):
            kind: Literal["room", "hangar", "apron"] = (
                "room" if name == "quiet" else ("hangar", "apron")[(number + turn) % 2]
            )
            noise = NoiseSettings(kind=kind, snr_db=CONDITIONS[name], seed=1000 * turn + number)
            spoken = script.model_copy(
                update={
                    "voice": speaker,
                    "noise": noise,
                    "pronounce": {**PRONOUNCE, **script.pronounce},
                }
            )
            made.append(Case(half, path.stem, name, spoken, _line(number)))
    return made


def _line(number: int) -> Callable[[Sound], Sound]:
    """Every third narration is in a reverberant hangar, every fourth over a telephone."""
    if number % 3 == 2:
        return partial(reverberant, seconds=1.2, seed=number)
    return telephone if number % 4 == 3 else partial(_as_spoken)


def _as_spoken(sound: Sound) -> Sound:
    return sound
