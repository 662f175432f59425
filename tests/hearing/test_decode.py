"""Sound files of many kinds, and files that are none."""

from __future__ import annotations

import hashlib
import os
import shutil
from pathlib import Path

import av
import numpy as np
import pytest

from spokenfor.errors import InputError
from spokenfor.hearing.decode import RATE, decode

# file ending, codec, rate in Hz, layout, sample format
FORMATS = [
    ("wav", "pcm_s16le", 8000, "mono", "s16"),
    ("wav", "pcm_s16le", 48000, "stereo", "s16"),
    ("wav", "pcm_s24le", 44100, "mono", "s32"),
    ("wav", "pcm_f32le", 16000, "mono", "flt"),
    ("wav", "pcm_u8", 11025, "mono", "u8"),
    ("flac", "flac", 44100, "mono", "s16"),
    ("mp3", "libmp3lame", 44100, "stereo", "s16p"),
    ("m4a", "aac", 44100, "mono", "fltp"),
    ("ogg", "libopus", 48000, "mono", "flt"),
    ("opus", "libopus", 48000, "stereo", "flt"),
    ("3gp", "aac", 16000, "mono", "fltp"),
    ("amr", "libopencore_amrnb", 8000, "mono", "s16"),
]


def encode(path: Path, codec: str, rate: int, layout: str, sample_format: str, seconds=6.0) -> Path:
    """A 440 Hz tone, half of full scale, in the wanted form."""
    time = np.arange(int(seconds * 48000)) / 48000
    tone = (np.sin(2 * np.pi * 440 * time) * 16000).astype(np.int16)
    with av.open(str(path), "w") as container:
        stream = container.add_stream(codec, rate=rate, layout=layout, format=sample_format)
        resampler = av.AudioResampler(format=sample_format, layout=layout, rate=rate)
        frame = av.AudioFrame.from_ndarray(tone[None], format="s16", layout="mono")
        frame.sample_rate = 48000
        for part in [*resampler.resample(frame), *resampler.resample(None)]:
            part.pts = None
            container.mux(stream.encode(part))
        container.mux(stream.encode(None))
    return path


@pytest.mark.parametrize(("ending", "codec", "rate", "layout", "form"), FORMATS)
def test_every_format_becomes_16_khz_mono(tmp_path, ending, codec, rate, layout, form):
    if codec not in av.codecs_available:
        pytest.skip(f"this FFmpeg has no encoder {codec}")
    path = encode(tmp_path / f"tone.{ending}", codec, rate, layout, form)
    before = path.read_bytes()
    sound = decode(path)
    assert path.read_bytes() == before
    assert sound.sha256 == hashlib.sha256(before).hexdigest()
    assert sound.sample_rate == rate
    assert sound.channels == (2 if layout == "stereo" else 1)
    assert sound.duration == pytest.approx(6.0, abs=0.12)
    assert sound.missing == []
    assert sound.clipped == []
    middle = sound.samples[2 * RATE : 4 * RATE].astype(float)
    loudest = np.argmax(np.abs(np.fft.rfft(middle))) / 2
    assert loudest == pytest.approx(440, abs=1)
    spread = 2 if layout == "stereo" else np.sqrt(2)  # one voice on two channels is put at -3 dB
    assert middle.std() == pytest.approx(16000 / spread, rel=0.15)


@pytest.mark.parametrize(
    "ending, codec, form", [("wav", "pcm_s16le", "s16"), ("flac", "flac", "s16")]
)
def test_a_cut_file_keeps_its_promised_length_as_missing_sound(tmp_path, ending, codec, form):
    whole = encode(tmp_path / f"whole.{ending}", codec, 44100, "mono", form, seconds=20)
    cut = tmp_path / f"cut.{ending}"
    cut.write_bytes(whole.read_bytes()[: whole.stat().st_size // 2])
    sound = decode(cut)
    assert sound.duration == pytest.approx(20, abs=0.1)
    ((start, end),) = sound.missing
    assert 5 < start < 15 and end == pytest.approx(sound.duration)
    assert not sound.samples[int(start * RATE) :].any()


def test_damaged_packets_leave_a_hole_and_later_times_stand(tmp_path):
    whole = encode(tmp_path / "whole.flac", "flac", 44100, "mono", "s16", seconds=20)
    data = bytearray(whole.read_bytes())
    third = len(data) // 3
    data[third : third + len(data) // 5] = bytes(len(data) // 5)
    damaged = tmp_path / "damaged.flac"
    damaged.write_bytes(data)
    sound = decode(damaged)
    assert sound.duration == pytest.approx(20, abs=0.1)
    assert sum(end - start for start, end in sound.missing) == pytest.approx(4, abs=1.5)


def test_flat_tops_are_found_where_they_are(tmp_path, speech, save):
    samples = speech.samples.astype(float)
    first, last = speech.spans[2]
    samples[int(first * RATE) : int(last * RATE)] *= 30
    sound = decode(save(tmp_path / "clipped.wav", samples))
    assert sound.clipped_share > 0.02
    assert all(first - 0.2 <= start and end <= last + 0.2 for start, end in sound.clipped)
    assert decode(save(tmp_path / "clean.wav", speech.samples)).clipped == []


def unreadable(path: Path) -> Path:
    path.write_bytes(b"RIFF")
    path.chmod(0)
    return path


def written(path: Path, data: bytes) -> Path:
    path.write_bytes(data)
    return path


def header_of_a_wav(path: Path) -> Path:
    encode(path, "pcm_s16le", 16000, "mono", "s16", seconds=1)
    return written(path, path.read_bytes()[:44])


def folder(path: Path) -> Path:
    path.mkdir()
    return path


BAD = {
    "absent": (lambda p: p, "no file"),
    "empty": (lambda p: written(p, b""), "empty"),
    "text renamed": (lambda p: written(p, b"Nose cone secure.\n" * 40), "cannot be read as sound"),
    "random bytes": (lambda p: written(p, np.random.default_rng(3).bytes(5000)), "bad.wav"),
    "header only": (header_of_a_wav, "bad.wav"),
    "a folder": (folder, "folder"),
}


@pytest.mark.parametrize("make, says", BAD.values(), ids=BAD.keys())
def test_what_is_no_sound_is_refused_in_one_line(tmp_path, make, says):
    with pytest.raises(InputError) as refused:
        decode(make(tmp_path / "bad.wav"))
    assert says in refused.value.wrong
    assert refused.value.mend and "\n" not in str(refused.value)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read every file")
def test_a_file_that_may_not_be_read_is_refused(tmp_path):
    with pytest.raises(InputError, match="cannot be read: permission denied"):
        decode(unreadable(tmp_path / "bad.wav"))


def test_a_video_without_sound_is_refused(tmp_path):
    path = tmp_path / "silent.mp4"
    with av.open(str(path), "w") as container:
        stream = container.add_stream("mpeg4", rate=5, width=64, height=64, pix_fmt="yuv420p")
        frame = av.VideoFrame.from_ndarray(np.zeros((64, 64, 3), np.uint8), format="rgb24")
        container.mux(stream.encode(frame))
        container.mux(stream.encode(None))
    with pytest.raises(InputError, match="holds no sound"):
        decode(path)


def test_only_reading_is_needed(tmp_path, speech, save):
    path = save(tmp_path / "speech.wav", speech.samples)
    copy = shutil.copy(path, tmp_path / "copy.wav")
    path.chmod(0o444)
    assert decode(path).sha256 == decode(Path(copy)).sha256
