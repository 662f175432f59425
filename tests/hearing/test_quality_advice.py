"""One plain sentence for the engineer where something was wrong, none where nothing was."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.hearing.sounds import VOICE, as_sound, band_noise, gusts, passed, talk

from spokenfor.hearing.advice import advice, faults, stretch_faults
from spokenfor.hearing.decode import RATE
from spokenfor.hearing.listen import account
from spokenfor.models import Quality, QualityStretch, SoundFault


def good(**changed: Any) -> Quality:
    fields = {
        "snr_db": 30.0,
        "clipped": 0.0,
        "speech_seconds": 400.0,
        "loudness_lufs": -24.0,
        "upper_hz": 7800,
        "wind": 0.0,
        **changed,
    }
    return Quality(**fields)


def stretch(**changed: Any) -> QualityStretch:
    fields = {
        "start": 0,
        "end": 10,
        "snr_db": 30.0,
        "upper_hz": 7800,
        "clipped_seconds": 0,
        "missing_seconds": 0,
        "wind": None,
        **changed,
    }
    return QualityStretch(**fields)


def said(**changed: Any) -> str | None:
    quality = good(**changed)
    return advice(quality, faults(quality, 600.0))


SENTENCES = {
    "good": ({}, None),
    "a shout clipped": ({"clipped_seconds": 1.5}, None),
    "one short break": ({"dropouts": 1, "dropout_seconds": 0.04}, None),
    "nobody spoke in a quiet room": ({"snr_db": None, "loudness_lufs": -52.0}, None),
    "one noisy stretch of ten": (
        {"stretches": [stretch(snr_db=4.0)] + [stretch() for _ in range(9)]},
        None,
    ),
    "noise": (
        {"snr_db": 9.4},
        "Next time hold the microphone closer to the mouth "
        "(the voice was only 9 dB above the noise).",
    ),
    "noise drowned all": (
        {"snr_db": None, "loudness_lufs": -20.0, "upper_hz": None},
        "Next time hold the microphone closer to the mouth (no speech stood out from the noise).",
    ),
    "noise at times": (
        {
            "stretches": [
                stretch(snr_db=4.0, faults=[SoundFault.NOISE]),
                stretch(snr_db=8.0, faults=[SoundFault.NOISE]),
                *(stretch() for _ in range(8)),
            ]
        },
        "Next time hold the microphone closer to the mouth "
        "(the noise was nearly as loud as the voice in 2 of 10 stretches).",
    ),
    "wind": (
        {"wind": 0.231},
        "Next time put a wind shield on the microphone and keep clothing off it "
        "(wind or rubbing in 23 % of the time).",
    ),
    "clipped": (
        {"clipped_seconds": 14.2},
        "Next time set the recording level lower (14 s were too loud for it).",
    ),
    "telephone": (
        {"upper_hz": 3400},
        "Next time use a sound recorder at 16 kHz or more instead of a phone call "
        "(the voice stops at 3.4 kHz).",
    ),
    "breaks": (
        {"dropouts": 7, "dropout_seconds": 0.5},
        "Next time record on the device itself, not over a wireless link "
        "(the sound broke off 7 times).",
    ),
    "one long dropout": (
        {"dropouts": 1, "dropout_seconds": 4.0},
        "Next time record on the device itself, not over a wireless link "
        "(the sound broke off once).",
    ),
    "cut file": (
        {"damaged_seconds": 5.04},
        "Next time stop the recorder before copying the file (5.0 s of sound are missing).",
    ),
    "faint": (
        {"loudness_lufs": -48.3},
        "Next time set the recording level higher or hold the microphone closer "
        "(loudness only -48 LUFS).",
    ),
    "microphone off": (
        {"snr_db": None, "loudness_lufs": None, "upper_hz": None},
        "Next time check that the microphone is switched on and uncovered (nothing was recorded).",
    ),
    "two things": (
        {"wind": 0.5, "snr_db": 3.0},
        "Next time hold the microphone closer to the mouth "
        "(the voice was only 3 dB above the noise), and put a wind shield on the microphone and "
        "keep clothing off it (wind or rubbing in 50 % of the time).",
    ),
}


@pytest.mark.parametrize(("changed", "sentence"), SENTENCES.values(), ids=SENTENCES)
def test_the_sentence(changed, sentence):
    assert said(**changed) == sentence


def test_the_two_weightiest_of_all_faults_are_named():
    sentence = said(
        damaged_seconds=3, dropouts=9, clipped_seconds=60, wind=0.5, snr_db=2.0, upper_hz=3000
    )
    assert sentence is not None
    assert sentence.startswith("Next time stop the recorder")
    assert "closer" in sentence and "wind" not in sentence and "level" not in sentence
    assert sentence.count("Next time") == 1 and sentence.endswith(").")


@pytest.mark.parametrize(
    ("changed", "fault"),
    [
        ({"snr_db": 9.9}, SoundFault.NOISE),
        ({"upper_hz": 3400}, SoundFault.NARROW_BAND),
        ({"clipped_seconds": 0.6}, SoundFault.CLIPPED),
        ({"missing_seconds": 0.4}, SoundFault.DROPOUTS),
        ({"wind": 0.4}, SoundFault.WIND),
        ({"snr_db": None, "upper_hz": None}, None),
    ],
)
def test_what_is_wrong_with_ten_seconds(changed, fault):
    assert stretch_faults(stretch(**changed)) == ([fault] if fault else [])


def quality_of(samples: np.ndarray, speech: list[tuple[int, int]]) -> Quality:
    found = account(as_sound(samples), 0, [], speech)[0].quality
    assert found is not None
    return found


def test_from_the_sound_itself():
    """The whole way: made sound in, sentence out."""
    sound, speech = talk(60)
    room = band_noise(60, 50, 8000, 4) * 20
    assert quality_of(sound + room, speech).advice is None
    windy = quality_of(sound + room + gusts(60, 0.5)[0] * VOICE, speech)
    assert "wind shield" in str(windy.advice)
    narrow = quality_of(passed(sound + room, 300, 3400), speech)
    assert "phone call (the voice stops at 3.4 kHz)" in str(narrow.advice)
    noisy = quality_of(sound + band_noise(60, 200, 8000, 4) * VOICE / 2, speech)
    assert "closer to the mouth (the voice was only 6 dB above the noise)" in str(noisy.advice)
    assert "uncovered" in str(quality_of(np.zeros(5 * RATE), []).advice)
    drowned = quality_of(band_noise(20, 50, 8000) * VOICE, [])
    assert "no speech stood out" in str(drowned.advice)
