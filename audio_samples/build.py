"""Rebuilds the sound of the samples from their scripts: python -m audio_samples.build [NAME...]."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import av
import numpy as np
import typer
from audio_samples.noise import add_noise
from audio_samples.script import FOLDER, Script, Stay, Utterance, load_script, script_paths
from rich.progress import track

from spokenfor.voices import RATE, Sound, Speak, voice

BIT_RATE = 24_000
PAUSE = (0.3, 0.8)
ZONE_PAUSE = (1.5, 3.0)
LEAD_IN = 1.0


def build(
    names: Annotated[
        list[str] | None, typer.Argument(help="Scripts to build; all by default")
    ] = None,
    out: Annotated[Path, typer.Option(help="Folder that takes the .opus files")] = FOLDER,
) -> None:
    """Speak the scripts and write one Ogg/Opus file for each recording."""
    out.mkdir(parents=True, exist_ok=True)
    wanted = [path for path in script_paths() if not names or path.stem in names]
    for path in track(wanted, description="Speaking"):
        speak_script(path, out)


def speak_script(path: Path, out: Path) -> list[Path]:
    """Speaks one script; returns the recordings written into `out`, in order."""
    return [one.path for one in speak_one(load_script(path), out)]


@dataclass(frozen=True)
class Spoken:
    """A recording that was written, and when each utterance begins and ends in it, in seconds."""

    path: Path
    utterances: list[tuple[float, float, Utterance]]


def speak_one(
    script: Script, out: Path, heard: Callable[[Sound], Sound] = lambda sound: sound
) -> list[Spoken]:
    """The same for a script at hand; `heard` is what room and line do to the speech."""
    speak = voice(script.voice, script.pronounce)
    written = []
    for number, (file, stays) in enumerate(script.recordings.items()):
        sound, times = _record(script, speak, stays, number, heard)
        write_opus(sound, out / file)
        written.append(Spoken(out / file, times))
    return written


def _record(
    script: Script,
    speak: Speak,
    stays: list[Stay],
    number: int,
    heard: Callable[[Sound], Sound],
) -> tuple[Sound, list[tuple[float, float, Utterance]]]:
    """One recording: the sentences of `stays` with pauses, in the noise of the script."""
    rng = np.random.default_rng([script.voice.seed, number])
    pieces: list[tuple[Sound, bool]] = [(_silence(LEAD_IN), False)]
    times: list[tuple[float, float, Utterance]] = []
    for position, stay in enumerate(stays):
        if position:
            pieces.append((_silence(rng.uniform(*ZONE_PAUSE)), False))
        for utterance in stay.says:
            begins = sum(sound.size for sound, _ in pieces) / RATE
            for sentence in utterance.sentences:
                pieces.append((speak(sentence), True))
                ends = sum(sound.size for sound, _ in pieces) / RATE
                pieces.append((_silence(rng.uniform(*PAUSE)), False))
            times.append((round(begins, 2), round(ends, 2), utterance))
    pieces.append((_silence(LEAD_IN), False))
    spoken = np.concatenate([np.full(sound.size, voiced) for sound, voiced in pieces])
    noise = script.noise.model_copy(update={"seed": script.noise.seed + number})
    clear = heard(np.concatenate([sound for sound, _ in pieces]))
    return add_noise(clear, spoken, noise), times


def _silence(seconds: float) -> Sound:
    return np.zeros(round(seconds * RATE), np.float32)


def write_opus(sound: Sound, path: Path) -> None:
    """Write mono sound at 24 kHz as Ogg/Opus, 24 kbit/s; the same sound gives the same bytes."""
    # Without bitexact the Ogg stream takes a random serial number.
    with av.open(str(path), "w", format="ogg", options={"fflags": "+bitexact"}) as container:
        stream = container.add_stream("libopus", rate=RATE, layout="mono")
        stream.bit_rate = BIT_RATE
        stream.options = {"application": "voip"}
        frame = av.AudioFrame.from_ndarray(
            np.clip(np.round(sound * 32767), -32768, 32767).astype(np.int16)[None, :], "s16", "mono"
        )
        frame.sample_rate = RATE
        for packet in [*stream.encode(frame), *stream.encode(None)]:
            container.mux(packet)


if __name__ == "__main__":
    typer.run(build)
