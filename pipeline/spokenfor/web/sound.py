"""What does a recording look like, and can a browser play it from any second? Made once, kept by SHA-256.

Times are those of `hearing.decode`, which fills with silence what a damaged file lacks; so a recording that
browsers cannot seek in (a stream made by MediaRecorder, AMR), or whose times would differ, gets a listening
copy. The recording itself stays as it is.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import numpy.typing as npt

from spokenfor.errors import InputError
from spokenfor.hearing.decode import RATE, Sound, decode
from spokenfor.record.digests import sha256_of_file
from spokenfor.web.peaks import PER_SECOND, read_peaks

_SEEKABLE = {".wav", ".flac", ".mp3", ".m4a", ".mp4", ".ogg", ".oga", ".opus"}
_FLOOR_DB = -60.0


def prepare(path: Path, cache: Path, longest: float) -> float:
    """Make peaks, and a listening copy where one is needed; return the seconds of sound.

    Raises InputError for what cannot be decoded, or is longer than `longest` seconds.
    """
    sha256 = sha256_of_file(path)
    known = read_peaks(cache, sha256)
    if known is not None:
        return known.seconds
    sound = decode(path)
    if sound.duration > longest:
        raise InputError(
            f"{path.name} holds {sound.duration / 3600:.1f} hours of sound, more than is taken at once",
            f"Split it into recordings of at most {longest / 3600:g} hours",
        )
    if path.suffix.lower() not in _SEEKABLE or sound.missing:
        _write_copy(sound, cache / f"{sha256}.flac")
    levels = [round(float(one), 2) for one in _levels(sound.samples)]
    aside = cache / f".{sha256}.json"
    aside.write_text(json.dumps({"seconds": sound.duration, "levels": levels}))
    aside.replace(cache / f"{sha256}.json")
    return sound.duration


def _levels(samples: npt.NDArray[np.int16]) -> npt.NDArray[np.float64]:
    step = RATE // PER_SECOND
    whole = -(-len(samples) // step) * step
    padded = np.zeros(whole, dtype=np.int16)
    padded[: len(samples)] = samples
    peaks = np.abs(padded.reshape(-1, step).astype(np.int32)).max(axis=1) / 32768
    decibels = 20 * np.log10(np.maximum(peaks, 1e-6))
    levels: npt.NDArray[np.float64] = np.clip(1 - decibels / _FLOOR_DB, 0, 1)
    return levels


def _write_copy(sound: Sound, target: Path) -> None:
    """16 kHz mono FLAC, at once seekable and exact to the sample."""
    import av

    aside = target.with_name(f".{target.name}")
    with av.open(str(aside), "w", format="flac") as file:
        stream = file.add_stream("flac", rate=RATE)
        stream.layout = "mono"
        block = RATE * 10
        for start in range(0, len(sound.samples), block):
            frame = av.AudioFrame.from_ndarray(
                sound.samples[None, start : start + block], format="s16", layout="mono"
            )
            frame.sample_rate = RATE
            file.mux(stream.encode(frame))
        file.mux(stream.encode(None))
    aside.replace(target)
