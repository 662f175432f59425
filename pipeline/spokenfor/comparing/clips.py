"""How does the sound behind a remark travel with the page?

Cut into the page, as short Opus clips in data: addresses: a page of feedback is one file that a trainer mails
or a trainee opens on a phone, and the recording does not come with it. (Where the sound stays beside the
page, as in the workbench, a media fragment does the same: `sound_address.fragment`.)
"""

from __future__ import annotations

import base64
import io
from collections.abc import Iterable
from pathlib import Path

import av
import numpy as np
import numpy.typing as npt

from spokenfor.comparing.sound_address import Sound
from spokenfor.comparing.walks import Walk
from spokenfor.errors import InputError
from spokenfor.hearing.decode import RATE, decode
from spokenfor.models import Evidence
from spokenfor.reporting.timeline import PAD

LONGEST = 30.0
CLIPS_AT_MOST = 3_000_000
"""Bytes of all clips of a page together (as EMBED_AT_MOST of the report); those beyond it are left out."""
BIT_RATE = 24_000


def cut_clips(passages: Iterable[tuple[Walk, Evidence]]) -> Sound:
    """Cut the passages out of their recordings, the first given first, up to CLIPS_AT_MOST bytes in all.

    Each recording is decoded once and let go. Raises InputError where one cannot be read.
    """
    wanted: dict[tuple[str, int], list[tuple[float, float]]] = {}
    files: dict[tuple[str, int], Path] = {}
    for walk, said in passages:
        if said.recording in walk.sounds:
            key = (walk.mark, said.recording)
            files[key] = walk.sounds[said.recording]
            wanted.setdefault(key, []).append((said.start, said.end))
    cut: dict[tuple[str, int, float, float], str] = {}
    size = 0
    for key, spans in wanted.items():
        samples = _samples(files[key])
        for start, end in dict.fromkeys(spans):
            clip = opus(samples[_sample(start - PAD) : _sample(min(end, start + LONGEST) + PAD)])
            if clip is not None and size + len(clip) <= CLIPS_AT_MOST:
                size += len(clip)
                address = base64.b64encode(clip).decode("ascii")
                cut[*key, start, end] = f"data:audio/ogg;base64,{address}"
    return lambda walk, said: cut.get((walk.mark, said.recording, said.start, said.end))


def opus(samples: npt.NDArray[np.int16]) -> bytes | None:
    """Mono samples at 16 kHz as Ogg/Opus (RFC 7845), the same bytes for the same samples; None for none."""
    if not len(samples):
        return None
    file = io.BytesIO()
    with av.open(file, "w", format="ogg", options={"fflags": "+bitexact"}) as container:
        stream = container.add_stream("libopus", rate=RATE)
        stream.layout, stream.bit_rate = "mono", BIT_RATE
        frame = av.AudioFrame.from_ndarray(samples[np.newaxis], format="s16", layout="mono")
        frame.sample_rate = RATE
        for packet in [*stream.encode(frame), *stream.encode(None)]:
            container.mux(packet)
    return file.getvalue()


def _samples(path: Path) -> npt.NDArray[np.int16]:
    try:
        return decode(path).samples
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise InputError(f"'{path}' cannot be read: {reason}", "Check who may read it") from error


def _sample(seconds: float) -> int:
    return max(0, round(seconds * RATE))
