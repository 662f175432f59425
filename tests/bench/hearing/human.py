"""Human speech in noise: what taking the noise down gives, and what another model gives.

    python -m tests.bench.hearing.human [--model NAME_OR_FOLDER] [--prompts] [--levels 10,3]

Five sentences of a LibriVox reading (pocketsphinx-testdata, Debian; public domain), or with `--prompts` the
telephone prompts of five to forty plain words in one woman's voice (asterisk-core-sounds-en-g722, Debian; CC-BY-SA
3.0: heard, never learned from). Pauses stand between them, the bench's noises over them at several levels. Prints
word error with the sound as it is and with steady noise taken down, and seconds of work for each second of sound.
"""

from __future__ import annotations

import gzip
import re
import time
import wave
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from pathlib import Path
from typing import Annotated
from unittest.mock import patch

import av
import numpy as np
import typer
from audio_samples.noise import add_noise
from audio_samples.script import NoiseSettings
from numpy.typing import NDArray
from tests.bench.hearing.truth import heard_words, word_error

from spokenfor.hearing.decode import RATE, Sound
from spokenfor.hearing.listen import hear_one
from spokenfor.hearing.transcribe import Recogniser
from spokenfor.hearing.weights import resolve
from spokenfor.packs.wording import words_of

LIBRIVOX = Path("/usr/share/pocketsphinx/test/data/librivox")
PROMPTS = Path("/usr/share/asterisk/sounds")
PROMPT_TEXTS = Path("/usr/share/doc/asterisk-core-sounds-en/core-sounds-en.txt.gz")
NO_PLAIN_TEXT = re.compile(r"[\d#*\[\]()<]")
FEWEST, MOST = 5, 40
"""Words of a prompt that is used."""

LEVELS = "15,10,5,3,0"
TIMES = 4
PAUSE = 1.5


def _as_it_is(samples: NDArray[np.int16], start: int, end: int) -> NDArray[np.float32]:
    return samples[start:end].astype(np.float32) / np.float32(32768)


WAYS: dict[str, Callable[[], AbstractContextManager[object]]] = {
    "as it is": lambda: patch("spokenfor.hearing.layout.quieter", _as_it_is),
    "noise taken down": nullcontext,
}


def _between_pauses(
    sounds: list[NDArray[np.int16]],
) -> tuple[NDArray[np.float32], NDArray[np.bool_]]:
    """Sounds one after another with a pause before and behind each, and which samples are spoken."""
    pause = np.zeros(round(PAUSE * RATE), np.float32)
    parts = [pause]
    for sound in sounds:
        parts += [sound.astype(np.float32) / 32768, pause]
    spoken = np.concatenate([np.full(part.size, part is not pause) for part in parts])
    return np.concatenate(parts), spoken


def reading() -> tuple[NDArray[np.float32], NDArray[np.bool_], list[str]]:
    """Samples at 16 kHz, which of them are spoken, and the words said."""
    names = (LIBRIVOX / "fileids").read_text().split()
    lines = (LIBRIVOX / "transcription").read_text().splitlines()
    sounds: list[NDArray[np.int16]] = []
    for name in names:
        with wave.open(str(LIBRIVOX / f"{name}.wav")) as file:
            sounds.append(np.frombuffer(file.readframes(file.getnframes()), np.int16))
    said = [word for line in lines for word in words_of(re.sub(r"</?s>|\(.*\)", "", line))]
    return *_between_pauses(sounds), said


def prompts() -> tuple[NDArray[np.float32], NDArray[np.bool_], list[str]]:
    """The same of the telephone prompts whose text is plain words."""
    [folder] = PROMPTS.glob("en_US_f_*")
    sounds: list[NDArray[np.int16]] = []
    said: list[str] = []
    with gzip.open(PROMPT_TEXTS, "rt", errors="replace") as lines:
        texts = [line.partition(":") for line in lines]
    for name, _, text in texts:
        words = words_of(text.strip())
        file = folder / f"{name}.g722"
        if NO_PLAIN_TEXT.search(text) or not FEWEST <= len(words) <= MOST or not file.exists():
            continue
        with av.open(str(file), format="g722") as sound:
            frames = [frame.to_ndarray().ravel() for frame in sound.decode(audio=0)]
        sounds.append(np.concatenate(frames))
        said += words
    return *_between_pauses(sounds), said


def main(
    model: Annotated[str | None, typer.Option(help="Name or folder of weights")] = None,
    of_prompts: Annotated[bool, typer.Option("--prompts", help="Prompts, not the reading")] = False,
    levels: Annotated[str, typer.Option(help="Speech over noise, dB")] = LEVELS,
    times: Annotated[int, typer.Option(help="Noises of each level")] = TIMES,
) -> None:
    recogniser = Recogniser(resolve(model))
    speech, spoken, said = prompts() if of_prompts else reading()
    print("| speech over noise | " + " | ".join(WAYS) + " |\n" + "| --- " * (1 + len(WAYS)) + "|")
    spent = sound = 0.0
    for level in (None, *map(float, levels.split(","))):
        wrong: dict[str, list[float]] = {way: [] for way in WAYS}
        for seed in range(times if level is not None else 1):
            noisy = speech
            if level is not None:
                kind = ("hangar", "apron")[seed % 2]
                noisy = add_noise(
                    speech, spoken, NoiseSettings(kind=kind, snr_db=level, seed=500 + seed)
                )
            samples = np.asarray(noisy * 32767, np.int16)
            one = Sound("reading", "0" * 64, samples, RATE, 1, [], [], 0.0)
            for way, hearing in WAYS.items():
                began = time.perf_counter()
                with hearing():
                    heard = hear_one(recogniser, one, 0, lambda *_: None).segments
                spent += time.perf_counter() - began
                sound += one.duration
                wrong[way].append(word_error(said, heard_words(heard)))
        name = "as recorded" if level is None else f"{level:.0f} dB"
        print(f"| {name} | " + " | ".join(f"{np.mean(w):.3f}" for w in wrong.values()) + " |")
    print(f"\n{len(said)} words; {spent / sound:.3f} s of work for each second of sound")


if __name__ == "__main__":
    typer.run(main)
