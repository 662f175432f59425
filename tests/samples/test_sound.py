"""The sound of the samples is made the same way each time, at the noise its script asks for."""

from __future__ import annotations

from pathlib import Path

import av
import numpy as np
import pytest
from audio_samples.build import write_opus
from audio_samples.noise import add_noise
from audio_samples.script import NoiseSettings, VoiceSettings

from spokenfor.voices import RATE, voice

SENTENCES = ("Nose oleo is clean and dry.", "Any leaks? None.")


def spoken(pitch: float = 1.0) -> list[np.ndarray]:
    speak = voice(VoiceSettings(engine="hibari", name="heart", pitch=pitch, seed=3), {})
    return [speak(sentence) for sentence in SENTENCES]


@pytest.mark.parametrize(("kind", "snr_db"), [("room", 38.0), ("hangar", 10.0)])
def test_noise_lies_below_the_speech_as_the_script_says(kind: str, snr_db: float) -> None:
    rng = np.random.default_rng(0)
    speech = np.zeros(12 * RATE, np.float32)
    speaking = np.zeros(speech.size, bool)
    speaking[2 * RATE : 7 * RATE] = True
    speech[speaking] = 0.05 * rng.standard_normal(5 * RATE)
    settings = NoiseSettings.model_validate({"kind": kind, "snr_db": snr_db, "seed": 1})
    noise = add_noise(speech, speaking, settings) - speech
    level = 10 * np.log10(np.mean(speech[speaking] ** 2) / np.mean(noise**2))
    assert level == pytest.approx(snr_db, abs=0.1)


def test_the_same_script_gives_the_same_bytes(tmp_path: Path) -> None:
    for name in ("first.opus", "second.opus"):
        write_opus(np.concatenate(spoken()), tmp_path / name)
    assert (tmp_path / "first.opus").read_bytes() == (tmp_path / "second.opus").read_bytes()


def test_a_written_file_is_as_long_as_its_sound(tmp_path: Path) -> None:
    sound = np.concatenate(spoken())
    write_opus(sound, tmp_path / "sample.opus")
    with av.open(str(tmp_path / "sample.opus")) as written:
        assert written.streams.audio[0].codec_context.name == "opus"
        assert written.duration is not None
        assert written.duration / 1_000_000 == pytest.approx(sound.size / RATE, abs=0.05)


def test_a_lower_pitch_is_lower_but_about_as_long() -> None:
    def centre(sound: np.ndarray) -> float:
        power = np.abs(np.fft.rfft(sound)) ** 2
        return float((np.fft.rfftfreq(sound.size, 1 / RATE) * power).sum() / power.sum())

    for usual, lower in zip(spoken(), spoken(pitch=0.84), strict=True):
        assert centre(lower) < 0.95 * centre(usual)
        assert lower.size == pytest.approx(usual.size, rel=0.15)


def test_a_respelling_is_what_the_voice_is_given() -> None:
    settings = VoiceSettings(engine="hibari", name="heart", seed=3)
    respelt = voice(settings, {"pitot": "pee toe"})("Left Pitot tube.")
    assert np.array_equal(respelt, voice(settings, {})("Left pee toe tube."))
