"""What does a sound file hold? Any container or codec that PyAV reads, as 16 kHz mono."""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import av
import numpy as np
import numpy.typing as npt

from spokenfor.errors import InputError
from spokenfor.hearing.clipping import ClippingMeter

RATE = 16_000
"""Samples a second after decoding: what the recogniser and the voice detector were trained on."""

# Containers whose header states a length; elsewhere FFmpeg's duration is a guess from the bit rate.
STATES_LENGTH = {"wav", "w64", "aiff", "caf", "flac", "mov", "mp4", "3gp", "matroska", "asf"}
TOLERATED_GAP = 0.25
# What is put at the end of a cut Ogg file, in seconds, so that the loss is seen.
_CUT_TAIL = 1.0
_LARGEST_PAGE = 65_307
LONGEST_STATED = 24 * 3600.0
"""A header that promises more than a day is itself damaged."""

UNKNOWN_SIZE = 0x7FFF0000
"""Programs that write a RIFF stream of unknown length put about this or more in its header."""

MEND_FORMAT = "Give a sound file such as wav, flac, mp3, m4a, ogg, opus, amr or 3gp"


@dataclass(frozen=True)
class Sound:
    """One decoded recording; `missing` and `clipped` are stretches in seconds, in time order.

    `samples` is int16 mono at 16 kHz and lasts `duration` seconds, zeros where sound is missing;
    `sample_rate` (Hz) and `channels` are those of the file; `clipped_share` is 0..1 of its samples.
    """

    file: str
    sha256: str
    samples: npt.NDArray[np.int16]
    sample_rate: int
    channels: int
    missing: list[tuple[float, float]]
    clipped: list[tuple[float, float]]
    clipped_share: float

    @property
    def duration(self) -> float:
        return len(self.samples) / RATE


def decode(path: Path) -> Sound:
    """Decode one sound file; the file is only read.

    What a damaged file lacks (packets that do not decode, a tail that the header promises) is filled
    with zeros and listed in `missing`, so that times stay those of a player.
    Raises InputError where there is no sound in it at all.
    """
    sha256 = file_sha256(path)
    if path.stat().st_size == 0:
        raise InputError(f"{path.name} is empty", "Record or copy it again")
    try:
        with av.open(str(path.resolve()), mode="r", metadata_errors="ignore") as container:
            if not container.streams.audio:
                raise InputError(f"{path.name} holds no sound", MEND_FORMAT)
            stream = container.streams.audio[0]
            stated = wav_stated_seconds(path) or _stated_seconds(container, stream)
            taken = _Taken(container, stream, stated)
            taken.read()
    except (av.error.FFmpegError, ValueError) as error:
        raise InputError(f"{path.name} cannot be read as sound", MEND_FORMAT) from error
    if taken.decoded == 0:
        raise InputError(
            f"{path.name} holds no sound that can be decoded", "Record or copy it again"
        )
    clipped, share = taken.clipping.result()
    samples, missing = taken.samples, taken.missing
    if cut_ogg(path):
        ends = len(samples) // 2
        samples = samples + bytes(2 * int(_CUT_TAIL * RATE))
        missing = [*missing, (ends / RATE, ends / RATE + _CUT_TAIL)]
    return Sound(
        file=os.fsencode(path.name).decode("utf-8", "replace"),
        sha256=sha256,
        samples=np.frombuffer(samples, dtype=np.int16),
        sample_rate=taken.rate,
        channels=taken.channels,
        missing=missing,
        clipped=clipped,
        clipped_share=share,
    )


def cut_ogg(path: Path) -> bool:
    """Whether an Ogg file ends without its end-of-stream page (RFC 3533, section 6): how much was cut off,
    nobody can say."""
    with path.open("rb") as file:
        if file.read(4) != b"OggS":
            return False
        file.seek(max(0, path.stat().st_size - _LARGEST_PAGE))
        tail = file.read()
    page = tail.rfind(b"OggS")
    if page < 0 or len(tail) < page + 27:
        return True
    segments = tail[page + 27 : page + 27 + tail[page + 26]]
    whole = len(tail) >= page + 27 + tail[page + 26] + sum(segments)
    return not (whole and tail[page + 5] & 4)


def file_sha256(path: Path) -> str:
    """SHA-256 of a file's bytes in hexadecimal (FIPS 180-4); raises InputError where it cannot be read."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except FileNotFoundError as error:
        raise InputError(f"There is no file {path}", "Check the name and the folder") from error
    except IsADirectoryError as error:
        raise InputError(f"{path} is a folder", "Name the sound files in it") from error
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise InputError(f"{path} cannot be read: {reason}", "Check who may read it") from error


class _Taken:
    """What has been taken out of one audio stream so far."""

    def __init__(self, container: Any, stream: Any, stated: float | None) -> None:
        self.container = container
        self.stream = stream
        self.rate = int(stream.codec_context.sample_rate or 0)
        self.channels = int(stream.codec_context.channels or 0)
        self.samples = bytearray()
        self.decoded = 0
        self.missing: list[tuple[float, float]] = []
        self.clipping = ClippingMeter()
        self._stated = stated
        self._length = _seconds_of(container, stream)
        self._source_seconds = 0.0
        self._first_time: float | None = None
        self._form: tuple[str, str, int] | None = None
        self._start_afresh()

    def read(self) -> None:
        for frame in self._frames():
            self.rate, self.channels = frame.sample_rate, frame.layout.nb_channels
            form = (frame.format.name, frame.layout.name, frame.sample_rate)
            if form != self._form:
                self._finish()
                self._form = form
            self._bridge_gap(frame)
            self._source_seconds += frame.samples / frame.sample_rate
            frame.pts = None
            self._waiting.write(frame)
            if self._waiting.samples >= frame.sample_rate:
                self._pass_on()
        self._finish()
        lacking = (self._stated or 0.0) - self._seconds
        if TOLERATED_GAP < lacking < LONGEST_STATED:
            self._pad(lacking)

    def _start_afresh(self) -> None:
        self._waiting = av.AudioFifo()
        self._mono = av.AudioResampler(format="s16", layout="mono", rate=RATE)

    def _pass_on(self) -> None:
        """Second by second, since single frames cost more in calls than in samples."""
        block = self._waiting.read()
        if block is not None:
            self.clipping.add(block)
            self._keep(self._mono.resample(block))

    def _finish(self) -> None:
        if self._form is not None:
            self._pass_on()
            self._keep(self._mono.resample(None))
            self._start_afresh()

    def _frames(self) -> Any:
        packets = self.container.demux(self.stream)
        while True:
            try:
                packet = next(packets)
                yield from packet.decode()
            except StopIteration:
                return
            except av.error.EOFError:
                return
            except av.error.InvalidDataError:
                continue

    @property
    def _seconds(self) -> float:
        return len(self.samples) / 2 / RATE

    def _keep(self, frames: Any) -> None:
        for frame in frames:
            values = frame.to_ndarray()
            self.decoded += values.size
            self.samples += values.tobytes()

    def _bridge_gap(self, frame: Any) -> None:
        """Where the stream's own clock runs ahead of the decoded sound, packets were lost."""
        if frame.time is None:
            return
        if self._first_time is None:
            self._first_time = frame.time
        gap = frame.time - self._first_time - self._source_seconds
        if gap <= TOLERATED_GAP or self._source_seconds + gap > (self._length or 0.0) + 1:
            return
        self._finish()
        self._pad(gap)
        self._source_seconds += gap

    def _pad(self, seconds: float) -> None:
        start = self._seconds
        self.samples += bytes(2 * round(seconds * RATE))
        self.missing.append((start, self._seconds))


def _seconds_of(container: Any, stream: Any) -> float | None:
    if stream.duration and stream.time_base:
        return float(stream.duration * stream.time_base)
    return container.duration / av.time_base if container.duration else None


def _stated_seconds(container: Any, stream: Any) -> float | None:
    names = set(container.format.name.split(","))
    return _seconds_of(container, stream) if names & STATES_LENGTH else None


def wav_stated_seconds(path: Path) -> float | None:
    """Seconds that a RIFF header promises, None where it is no such file or was never finished.

    FFmpeg itself goes by the length of the file, and so cannot tell that a copy was cut short.
    """
    with path.open("rb") as file:
        if file.read(4) != b"RIFF" or file.read(8)[4:] != b"WAVE":
            return None
        bytes_a_second = 0
        while len(head := file.read(8)) == 8:
            name, size = head[:4], int.from_bytes(head[4:], "little")
            if name == b"data":
                finished = bytes_a_second and 0 < size < UNKNOWN_SIZE
                return size / bytes_a_second if finished else None
            body = file.read(size + size % 2) if name == b"fmt " else b""
            if name == b"fmt ":
                bytes_a_second = int.from_bytes(body[8:12], "little")
            else:
                file.seek(size + size % 2, 1)
    return None
