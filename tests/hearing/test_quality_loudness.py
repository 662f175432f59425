"""Loudness against the standard's own numbers and against two other programs."""

from __future__ import annotations

from fractions import Fraction

import av
import numpy as np
import pytest
from tests.hearing.sounds import as_sound, band_noise

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.filtered import HOP, filtered_powers
from spokenfor.hearing.loudness import integrated, k_weighting


def loudness(sound: np.ndarray) -> float | None:
    """Integrated loudness of one channel, full scale 1."""
    samples = as_sound(sound * 32767).samples
    return integrated(filtered_powers(samples, (k_weighting,))[0])


def tone(hertz: float, seconds: float, level: float) -> np.ndarray:
    """A sine whose peak is `level` dB of full scale."""
    return 10 ** (level / 20) * np.sin(2 * np.pi * hertz * np.arange(int(seconds * RATE)) / RATE)


def test_a_full_scale_tone_in_one_channel_reads_what_the_standard_says():
    """ITU-R BS.1770: a 0 dB FS 997 Hz sine in one front channel reads -3.01 LKFS."""
    assert loudness(tone(997, 20, 0)) == pytest.approx(-3.01, abs=0.01)


# Tones of 1 kHz by turns, (dB, seconds), and what a meter must show to 0.1 LU: EBU Tech 3341, minimum
# requirements, cases 1 to 5, from memory. There the tone is in two channels, here in one: 3.01 less.
CASES = {
    "-23": ([(-23, 20)], -23),
    "-33": ([(-33, 20)], -33),
    "relative gate": ([(-36, 10), (-23, 60), (-36, 10)], -23),
    "both gates": ([(-72, 10), (-36, 10), (-23, 60), (-36, 10), (-72, 10)], -23),
    "no gate": ([(-26, 20), (-20, 20.1), (-26, 20)], -23),
}


@pytest.mark.parametrize(("parts", "reads"), CASES.values(), ids=CASES)
def test_the_gates_open_and_close_as_the_broadcasters_test_them(parts, reads):
    sound = np.concatenate([tone(1000, seconds, level) for level, seconds in parts])
    assert loudness(sound) == pytest.approx(reads - 3.01, abs=0.1)


def upsampled(sound: np.ndarray) -> np.ndarray:
    """The same sound at 48 kHz, the rate for which the standard states its filters."""
    spectrum = np.fft.rfft(sound)
    length = 3 * len(sound)
    return 3 * np.fft.irfft(np.pad(spectrum, (0, length // 2 + 1 - len(spectrum))), length)


def by_ffmpeg(sound: np.ndarray) -> float:
    """FFmpeg's filter ebur128."""
    graph = av.filter.Graph()
    source = graph.add_abuffer(
        sample_rate=48_000, format="dbl", layout="mono", time_base=Fraction(1, 48_000)
    )
    meter, sink = graph.add("ebur128", "metadata=1"), graph.add("abuffersink")
    source.link_to(meter)
    meter.link_to(sink)
    graph.configure()
    frame = av.AudioFrame.from_ndarray(upsampled(sound)[None], format="dbl", layout="mono")
    frame.sample_rate, frame.pts = 48_000, 0
    source.push(frame)
    source.push(None)
    shown = None
    while True:
        try:
            shown = sink.pull().metadata.get("lavfi.r128.I", shown)
        except (av.error.EOFError, BlockingIOError):
            assert shown is not None
            return float(shown)


def by_pyloudnorm(sound: np.ndarray) -> float:
    pyloudnorm = pytest.importorskip("pyloudnorm")
    # Its "DeMan" filters are those of the standard; the default ones are near.
    meter = pyloudnorm.Meter(48_000, filter_class="DeMan")
    return float(meter.integrated_loudness(upsampled(sound)))


SOUNDS = {
    "60 Hz": lambda: tone(60, 10, -6),
    "300 Hz": lambda: tone(300, 10, -6),
    "5 kHz": lambda: tone(5000, 10, -6),
    "7.5 kHz": lambda: tone(7500, 10, -6),
    "noise": lambda: band_noise(20, 0, 8000) * 0.1,
    "rumble": lambda: band_noise(20, 10, 150) * 0.1,
    "noise by turns": lambda: (
        band_noise(40, 100, 4000) * 0.1 * (np.arange(40 * RATE) % (3 * RATE) < 2 * RATE)
    ),
}


@pytest.mark.parametrize("other", [by_ffmpeg, by_pyloudnorm], ids=["ffmpeg", "pyloudnorm"])
@pytest.mark.parametrize("make", SOUNDS.values(), ids=SOUNDS)
def test_other_programs_read_the_same(make, other):
    sound = make()
    assert loudness(sound) == pytest.approx(other(sound), abs=0.05)


def test_speech_reads_the_same_in_another_program(speech):
    sound = speech.samples / 32768
    assert loudness(sound) == pytest.approx(by_ffmpeg(sound), abs=0.05)


@pytest.mark.parametrize("sound", [np.zeros(RATE * 5), tone(1000, 0.35, -6), tone(1000, 5, -75)])
def test_silence_and_what_is_shorter_than_a_block_have_no_loudness(sound):
    assert loudness(sound) is None


def test_a_filter_is_the_same_wherever_a_block_begins():
    """Against one transform of the whole, at odd lengths and at the ends."""
    sound = as_sound(band_noise(21.37, 20, 8000) * 3000).samples
    (powers,) = filtered_powers(sound, (k_weighting,))
    assert len(powers) == len(sound) // HOP
    padded = np.concatenate([np.zeros(RATE), sound / 32768, np.zeros(RATE)])
    gain = k_weighting(np.fft.rfftfreq(len(padded), 1 / RATE))
    whole = np.fft.irfft(np.fft.rfft(padded) * gain, len(padded))[RATE:][: len(powers) * HOP]
    assert powers == pytest.approx(np.square(whole).reshape(-1, HOP).mean(axis=1), rel=1e-3)
