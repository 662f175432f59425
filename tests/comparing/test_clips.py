"""The clip behind a remark holds the seconds of the remark, and no more."""

from __future__ import annotations

import base64
import io
import wave
from pathlib import Path

import av
import numpy as np
import pytest
from tests.comparing.made_walks import learner, said, write_walk

from spokenfor.comparing import clips
from spokenfor.comparing.clips import cut_clips, opus
from spokenfor.comparing.reading_walks import read_walk
from spokenfor.comparing.sound_address import fragment
from spokenfor.comparing.walks import Walk
from spokenfor.hearing.decode import RATE


@pytest.fixture
def walk(tmp_path: Path) -> Walk:
    """A recording of 10 s: 400 Hz, but 1 kHz from second 4 to 6."""
    times = np.arange(10 * RATE) / RATE
    pitch = np.where((times >= 4) & (times < 6), 1000, 400)
    with wave.open(str(tmp_path / "walk.wav"), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes((12_000 * np.sin(2 * np.pi * pitch * times)).astype("<i2").tobytes())
    result = learner()
    result.recordings[0].file = "walk.wav"
    return read_walk(write_walk(tmp_path / "folder", result, [tmp_path / "walk.wav"]))


def samples(address: str) -> np.ndarray:
    kind, _, data = address.partition(",")
    assert kind == "data:audio/ogg;base64"
    with av.open(io.BytesIO(base64.b64decode(data))) as container:
        assert container.streams.audio[0].codec_context.name in ("opus", "libopus")
        rate = container.streams.audio[0].rate
        frames = [one.to_ndarray()[0] for one in container.decode(audio=0)]
    assert rate == 48_000
    return np.concatenate(frames)


def test_a_clip_is_the_seconds_that_were_said(walk: Walk) -> None:
    words = said("There is a crack.", 4.0, 6.0)
    clip = samples(cut_clips([(walk, words)])(walk, words))
    assert len(clip) / 48_000 == pytest.approx(2.6, abs=0.05)  # 0.3 s before and after
    middle = clip[48_000 : 2 * 48_000]
    assert np.argmax(np.abs(np.fft.rfft(middle))) == pytest.approx(1000, abs=2)
    before = clip[2000:12_000]
    assert np.argmax(np.abs(np.fft.rfft(before, 48_000))) == pytest.approx(400, abs=10)


def test_a_clip_at_the_edges_of_the_recording(walk: Walk) -> None:
    for start, end, length in ((0.1, 1.0, 1.3), (9.5, 10.0, 0.8), (0.0, 9.9, 10.0)):
        words = said("edge", start, end)
        clip = samples(cut_clips([(walk, words)])(walk, words))
        assert len(clip) / 48_000 == pytest.approx(length, abs=0.05)
    beyond = said("beyond the end", 20.0, 21.0)
    assert cut_clips([(walk, beyond)])(walk, beyond) is None


def test_no_sound_no_clip(walk: Walk) -> None:
    other = said("in the second recording, which is not there", 1, 2).model_copy(
        update={"recording": 1}
    )
    assert cut_clips([(walk, other)])(walk, other) is None
    assert cut_clips([])(walk, said("never asked for", 1, 2)) is None


def test_clips_stop_at_the_limit(walk: Walk, monkeypatch: pytest.MonkeyPatch) -> None:
    first, second = said("first", 1, 2), said("second", 3, 4)
    size = len(base64.b64decode(cut_clips([(walk, first)])(walk, first).partition(",")[2]))
    monkeypatch.setattr(clips, "CLIPS_AT_MOST", size)
    sound = cut_clips([(walk, first), (walk, second)])
    assert sound(walk, first) is not None and sound(walk, second) is None


def test_the_same_sound_gives_the_same_bytes() -> None:
    noise = np.random.default_rng(1).integers(-9000, 9000, RATE).astype(np.int16)
    assert opus(noise) == opus(noise)


def test_a_fragment_names_the_seconds() -> None:
    # W3C Media Fragments URI 1.0, 4.2.1: #t=start,end in seconds (npt).
    assert fragment("/sound/0", said("x", 12.5, 14.0)) == "/sound/0#t=12.20,14.30"
    assert fragment("/sound/0", said("x", 0.1, 1.0)) == "/sound/0#t=0.00,1.30"
