"""Measures of sound quality against sounds made with known answers."""

from __future__ import annotations

import re
import tracemalloc
from dataclasses import replace
from pathlib import Path

import av
import numpy as np
import pytest
from audio_samples.script import load_script, script_paths
from tests.hearing.sounds import VOICE, as_sound, band_noise, gusts, passed, talk

from spokenfor.hearing.decode import RATE, Sound, decode
from spokenfor.hearing.dropouts import breaks, dropouts
from spokenfor.hearing.levels import measure, stretch_bounds
from spokenfor.hearing.listen import account, find_speech
from spokenfor.hearing.quality import quality
from spokenfor.hearing.voice import Stretch
from spokenfor.models import Quality, SoundFault

SAMPLES = Path(__file__).resolve().parents[2] / "audio_samples"


def measured(sound: Sound, speech: list[Stretch]) -> Quality:
    found = account(sound, 0, [], speech)[0].quality
    assert found is not None
    return found


def in_noise(ratio: float, seconds: float = 60) -> tuple[np.ndarray, list[Stretch]]:
    """Speech and noise flat over the same band, so that their ratio is the one in the speech band."""
    sound, speech = talk(seconds)
    return sound + band_noise(seconds, 200, 8000, 9) * VOICE * 10 ** (-ratio / 20), speech


@pytest.mark.parametrize("ratio", [30, 20, 10, 5, 0])
def test_the_ratio_of_speech_to_noise_is_the_one_it_was_mixed_at(ratio):
    sound, speech = in_noise(ratio)
    found = measured(as_sound(sound), speech)
    assert found.snr_db == pytest.approx(ratio, abs=0.5)
    assert [one.snr_db for one in found.stretches] == pytest.approx([ratio] * 6, abs=1)


def test_noise_that_begins_half_way_is_told_in_its_stretches():
    quiet, speech = in_noise(30, 80)
    loud, _ = in_noise(6, 80)
    half = 40 * RATE
    found = measured(as_sound(np.concatenate([quiet[:half], loud[half:]])), speech)
    ratios = [one.snr_db for one in found.stretches]
    assert ratios[:3] == pytest.approx([30] * 3, abs=1)
    assert ratios[5:] == pytest.approx([6] * 3, abs=1)
    noisy = [SoundFault.NOISE in one.faults for one in found.stretches]
    assert noisy[:3] == [False] * 3 and noisy[5:] == [True] * 3
    assert SoundFault.NOISE in found.faults


def test_a_lost_tail_is_no_quiet_room():
    """Zeros that fill up a cut file must not count as pauses without noise."""
    sound, speech = in_noise(8)
    cut = np.concatenate([sound, np.zeros(120 * RATE)])
    found = measured(as_sound(cut, missing=[(60.0, 180.0)]), speech)
    assert found.snr_db == pytest.approx(8, abs=0.5)
    assert (found.damaged_seconds, found.stretches[-1].missing_seconds) == (120, 10)


@pytest.mark.parametrize("duration", [0.02, 4.9, 10, 14.99, 15.0, 60.7, 3600])
def test_stretches_cover_a_recording_in_tens_of_seconds(duration):
    bounds = stretch_bounds(duration)
    lengths = np.diff(bounds)
    assert (bounds[0], bounds[-1]) == (0, duration)
    assert all(lengths[:-1] == 10) and lengths[-1] < 15
    assert len(lengths) == 1 or lengths[-1] >= 5


@pytest.mark.parametrize("high", [2500, 3400, 4000, 6000, 7900])
def test_the_voice_stops_where_its_band_ends(high):
    sound, speech = talk(30)
    room = band_noise(30, 50, 8000, 5) * 20
    found = measured(as_sound(passed(sound + room, 300, high)), speech)
    assert found.upper_hz == pytest.approx(high, abs=150)
    assert (SoundFault.NARROW_BAND in found.faults) is (high < 5000)
    assert all(one.upper_hz == pytest.approx(high, abs=150) for one in found.stretches)


@pytest.mark.parametrize(("high", "reads"), [(8000, 8000), (3400, 3400)])
def test_the_rounding_of_a_faint_voice_is_not_taken_for_voice(high, reads):
    """At 45 dB under a usual level the rounding to 16 bits lies only 40 dB below the voice."""
    sound, speech = talk(30)
    found = measured(as_sound(passed(sound, 200, high) / 180), speech)
    assert found.upper_hz == pytest.approx(reads, abs=200)


@pytest.mark.parametrize("share", [0.1, 0.25, 0.5])
def test_gusts_are_wind_for_as_long_as_they_blow(share):
    sound, speech = talk(240)
    wind, blowing = gusts(240, share)
    pauses = sound == 0
    sound += band_noise(240, 50, 8000, 4) * 20
    found = measured(as_sound(sound + wind * VOICE), speech)
    assert found.wind == pytest.approx(blowing[pauses].mean(), abs=0.08)
    assert SoundFault.WIND in found.faults


def hum(seconds: float) -> np.ndarray:
    return np.sin(2 * np.pi * 50 * np.arange(int(seconds * RATE)) / RATE) * VOICE


def rumble(seconds: float) -> np.ndarray:
    return band_noise(seconds, 20, 150) * VOICE


def machine(seconds: float) -> np.ndarray:
    """A compressor that runs for 4 s of every 12: as unsteady as wind, but not so low."""
    running = np.arange(int(seconds * RATE)) % (12 * RATE) < 4 * RATE
    return band_noise(seconds, 50, 4000) * running * VOICE * 2


def deep_voice(seconds: float) -> np.ndarray:
    """A strong fundamental of 90 Hz, only while speech lasts."""
    speaking = talk(seconds)[0] != 0
    return np.sin(2 * np.pi * 90 * np.arange(len(speaking)) / RATE) * speaking * 3 * VOICE


@pytest.mark.parametrize("make", [hum, rumble, machine, deep_voice])
def test_what_is_no_wind(make):
    sound, speech = talk(120)
    found = measured(as_sound(sound + make(120) + band_noise(120, 50, 8000, 4) * 20), speech)
    assert found.wind == 0
    assert SoundFault.WIND not in found.faults


def test_speech_without_a_pause_leaves_wind_untold():
    sound = band_noise(30, 200, 8000) * VOICE
    assert measured(as_sound(sound), [(0, 30 * RATE)]).wind is None


def test_short_breaks_in_full_voice_are_counted_one_by_one():
    sound, speech = in_noise(30)
    cuts = [(second * RATE, second * RATE + length) for second, length in ((4, 640), (16, 1600))]
    for start, end in cuts:
        sound[start:end] = 0
    samples = as_sound(sound).samples
    assert breaks(samples) == [
        (pytest.approx(start / RATE, abs=0.001), pytest.approx(end / RATE, abs=0.001))
        for start, end in cuts
    ]
    found = measured(as_sound(sound), speech)
    assert (found.dropouts, found.dropout_seconds) == (2, pytest.approx(0.14, abs=0.01))


def test_a_gate_that_closes_on_fading_sound_makes_no_breaks():
    """Silent for a fifth of a second after a fade of a tenth, and open again at once."""
    fade = np.ones(3 * RATE)
    fade[RATE : RATE + RATE // 10] = np.linspace(1, 0, RATE // 10)
    fade[RATE + RATE // 10 : RATE + 3 * RATE // 10] = 0
    samples = as_sound(band_noise(60, 200, 8000) * VOICE * np.tile(fade, 20)).samples
    assert breaks(samples) == []
    samples[RATE : RATE + RATE // 10] = samples[2 * RATE : 2 * RATE + RATE // 10]
    assert breaks(samples) == [(pytest.approx(1.1, abs=0.001), pytest.approx(1.3, abs=0.001))]


def test_a_long_dropout_is_found_to_the_sample():
    samples = as_sound(in_noise(30)[0]).samples.copy()
    samples[samples == 0] = 1
    samples[100_003:150_007] = 0
    assert dropouts(samples) == [(100_003 / RATE, 150_007 / RATE)]
    assert dropouts(np.concatenate([samples[:100], np.zeros(9000, np.int16)])) == []


def encoded(path: Path, samples: np.ndarray, codec: str, rate: int, layout: str) -> Path:
    with av.open(str(path), "w") as container:
        stream = container.add_stream(codec, rate=rate, layout="mono", format=layout)
        stream.bit_rate = 48_000
        resampler = av.AudioResampler(format=layout, layout="mono", rate=rate)
        frame = av.AudioFrame.from_ndarray(samples[None], format="s16", layout="mono")
        frame.sample_rate = RATE
        for part in [*resampler.resample(frame), *resampler.resample(None)]:
            part.pts = None
            container.mux(stream.encode(part))
        container.mux(stream.encode(None))
    return path


@pytest.mark.parametrize(
    ("ending", "codec", "rate", "layout"),
    [
        ("wav", "pcm_s16le", 16000, "s16"),
        ("m4a", "aac", 44100, "fltp"),
        ("opus", "libopus", 48000, "flt"),
        ("mp3", "libmp3lame", 44100, "s16p"),
    ],
)
def test_clipping_is_found_through_a_codec_and_only_where_it_is(
    tmp_path, speech, ending, codec, rate, layout
):
    """A lossy codec rounds flat tops off, so it takes more than runs of equal samples to see them."""
    if codec not in av.codecs_available:
        pytest.skip(f"this FFmpeg has no encoder {codec}")
    loudest = speech.samples * (32767 / np.abs(speech.samples).max())
    clean = decode(encoded(tmp_path / f"a.{ending}", loudest.astype(np.int16), codec, rate, layout))
    assert clean.clipped == []
    start, end = speech.spans[2]
    loudest[int(start * RATE) : int(end * RATE)] *= 8
    clipped = np.clip(loudest, -32768, 32767).astype(np.int16)
    sound = decode(encoded(tmp_path / f"b.{ending}", clipped, codec, rate, layout))
    assert sound.clipped and all(start - 0.2 <= a < b <= end + 0.2 for a, b in sound.clipped)
    found = measured(sound, find_speech(sound))
    assert found.clipped_seconds == pytest.approx(sum(b - a for a, b in sound.clipped), abs=0.01)
    assert found.clipped_seconds > 1
    assert sum(one.clipped_seconds for one in found.stretches) == pytest.approx(
        found.clipped_seconds, abs=0.02
    )


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*.opus")), ids=lambda path: path.stem)
def test_of_the_bundled_samples_only_the_hangar_calls_for_advice(path):
    sound = decode(path)
    found = measured(sound, find_speech(sound))
    if path.stem == "hangar-noise":
        assert found.faults == [SoundFault.NOISE]
        assert found.snr_db == pytest.approx(12, abs=2)
        assert found.advice == (
            "Next time hold the microphone closer to the mouth "
            f"(the voice was only {found.snr_db:.0f} dB above the noise)."
        )
    else:
        assert (found.faults, found.advice) == ([], None)
        assert not any(one.faults for one in found.stretches)
        assert found.upper_hz > 6500 and found.wind == 0
        assert found.snr_db > min(35, _noise_of(path.stem) - 2)
        assert -27 < found.loudness_lufs < -22


def _noise_of(sample: str) -> float:
    """Level of speech over that of the noise put in, in dB, as the sample's script has it."""
    [script] = [one for one in script_paths() if sample.startswith(one.stem)]
    return load_script(script).noise.snr_db


def test_the_same_sound_gives_the_same_rounded_numbers():
    sound, speech = in_noise(12)
    first, second = (measured(as_sound(sound), speech).model_dump_json() for _ in range(2))
    assert first == second
    assert not re.search(r"\d\.\d{4}", first)
    assert Quality.model_validate_json(first).model_dump_json() == first


@pytest.fixture(scope="module")
def hour() -> tuple[Sound, list[Stretch]]:
    sound, speech = in_noise(15, 60)
    one = as_sound(sound)
    minute = len(sound)
    later = [(start + n * minute, end + n * minute) for n in range(60) for start, end in speech]
    return replace(one, samples=np.tile(one.samples, 60)), later


def test_an_hour_takes_little_memory_beside_its_samples(hour):
    sound, speech = hour
    tracemalloc.start()
    quality(sound, measure(sound, speech, dropouts(sound.samples)), speech)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 40 * 2**20
