"""What words are in the sound? Whisper over windows of speech, word times back on the recording."""

from __future__ import annotations

import os
import threading
import zlib
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from spokenfor.errors import InputError
from spokenfor.hearing.decode import RATE
from spokenfor.hearing.layout import Layout
from spokenfor.hearing.primed import Names, PrimedHearing
from spokenfor.hearing.sound_score import FRAMES_PER_SECOND, SoundScorer, WindowSound
from spokenfor.hearing.voice import Stretch
from spokenfor.hearing.weights import Weights
from spokenfor.models import Word

BATCH = 2
"""Windows decoded together; words can differ with it, so it does not follow the machine."""

AT_ONCE = 2
"""Batches at work side by side, the processor's threads shared among them: beside one batch of 4 a fifth
faster on two cores, and an eighth faster than with all threads for each, for the same memory and words."""

LONG_SECONDS = 1800.0
"""Of a recording longer than this, one batch after the other is heard: its samples need the memory (about
250 MiB) that a second batch at work takes. The words are the same."""

_THREADS = min(4, os.cpu_count() or 1)

BEAM = 5
"""Hardly slower than 2 (the encoder costs most), with fewer loops and 3 % more words right."""

AGAIN_BEAM = 2


Understood = TypeVar("Understood")


def batches_at_once(samples: int) -> int:
    """How many batches of a recording of so many samples may be at work side by side."""
    return AT_ONCE if samples <= LONG_SECONDS * RATE else 1


@dataclass(frozen=True)
class Heard:
    """What one window gave: words in time order, seconds of the recording.

    `mean_log_probability` is over tokens (nats), `no_speech` 0..1, `compression` the ratio of text to
    its deflated size (2.4 and above is a loop; Radford et al. 2022, section 4.5); `sound` what the
    encoder made of it, None once nobody needs it any more; `primed` the words heard by one who was told
    the names that belong there (primed.py), None where nobody was told.
    """

    words: list[Word]
    mean_log_probability: float
    no_speech: float
    compression: float
    sound: WindowSound | None = None
    primed: list[Word] | None = None


class Recogniser:
    """Whisper weights in memory, decoding without sampling, so that the same sound gives the same words."""

    def __init__(self, weights: Weights, at_once: int = AT_ONCE) -> None:
        """`at_once` batches are at work side by side."""
        from faster_whisper import WhisperModel

        self.weights = weights
        self.at_once = at_once
        try:
            self._model = _keeping(WhisperModel)(
                str(weights.folder),
                device="cpu",
                compute_type="int8",
                cpu_threads=max(1, _THREADS // at_once),
                num_workers=at_once,
                local_files_only=True,
            )
        except Exception as error:  # the tokenizer library raises nothing narrower
            raise InputError(
                f"The weights in {weights.folder} cannot be loaded",
                "Give a folder that holds a CTranslate2 Whisper model",
            ) from error

    def scorer(self) -> SoundScorer:
        """The same weights, ready to score wordings against sound."""
        return SoundScorer(self._model)

    def hear(
        self,
        samples: npt.NDArray[np.int16],
        windows: list[list[Stretch]],
        gain: float,
        understand: Callable[[Heard], Understood],
        progress: Callable[[int], None],
        names: Names | None = None,
    ) -> Iterator[Understood]:
        """What `understand` makes of each window, in turn; it works beside the decoding of others.
        `progress` is told how many windows are done; with `names`, windows are heard primed as well."""
        yield from self._hear(samples, windows, gain, BEAM, understand, progress, names)

    def hear_again(
        self,
        samples: npt.NDArray[np.int16],
        windows: list[list[Stretch]],
        gain: float,
        understand: Callable[[Heard], Understood],
        names: Names | None = None,
    ) -> Iterator[Understood]:
        """The same with a narrower beam, which seldom falls into the same loop."""
        yield from self._hear(
            samples, windows, gain, AGAIN_BEAM, understand, lambda done: None, names
        )

    def _hear(
        self,
        samples: npt.NDArray[np.int16],
        windows: list[list[Stretch]],
        gain: float,
        beam: int,
        understand: Callable[[Heard], Understood],
        progress: Callable[[int], None],
        names: Names | None,
    ) -> Iterator[Understood]:
        groups = [windows[first : first + BATCH] for first in range(0, len(windows), BATCH)]
        done = 0

        def understood(group: list[list[Stretch]]) -> list[Understood]:
            return [
                understand(heard) for heard in self._words_of(samples, group, gain, beam, names)
            ]

        with ThreadPoolExecutor(self.at_once) as pool:
            work = [pool.submit(understood, group) for group in groups]
            try:
                for group, job in zip(groups, work, strict=True):
                    yield from job.result()
                    done += len(group)
                    progress(done)
            finally:
                pool.shutdown(cancel_futures=True)

    def _words_of(
        self,
        samples: npt.NDArray[np.int16],
        group: list[list[Stretch]],
        gain: float,
        beam: int,
        names: Names | None,
    ) -> list[Heard]:
        from faster_whisper import BatchedInferencePipeline

        layouts = [Layout(window) for window in group]
        clips, offset = [], 0
        for layout in layouts:
            clips.append({"start": offset / RATE, "end": (offset + layout.length) / RATE})
            offset += layout.length
        # Time tokens stay off: with them the pipeline throws away what follows the last one. It keeps
        # the end of the last speech between calls, hence one of its own for each group.
        segments, _ = BatchedInferencePipeline(self._model).transcribe(
            np.concatenate([layout.sound(samples, gain) for layout in layouts]),
            language="en",
            beam_size=beam,
            temperature=0.0,
            word_timestamps=True,
            without_timestamps=True,
            clip_timestamps=clips,
            batch_size=BATCH,
        )
        found: list[list[Any]] = [[] for _ in group]
        starts = [clip["start"] for clip in clips]
        for segment in segments:
            index = int(np.searchsorted(starts, segment.seek / 100 + 0.011, side="right")) - 1
            found[max(index, 0)].append(segment)
        windows = self._model.last_encoded()
        heard = [
            _heard(parts, layout, clip["start"], frames)
            for layout, clip, parts, frames in zip(layouts, clips, found, windows, strict=True)
        ]
        if names is None:
            return heard
        words = [one.words for one in heard]
        primed = PrimedHearing(self._model).words(windows, layouts, words, names)
        return [replace(one, primed=told) for one, told in zip(heard, primed, strict=True)]


def _keeping(base: type[Any]) -> type[Any]:
    """A WhisperModel that keeps what its encoder gave last, for each thread."""

    class Keeping(base):  # type: ignore[misc]
        _kept = threading.local()

        def encode(self, features: npt.NDArray[np.float32]) -> Any:
            self._kept.encoded = super().encode(features)
            return self._kept.encoded

        def last_encoded(self) -> npt.NDArray[np.float32]:
            """Shape (windows, frames, width)."""
            encoded, self._kept.encoded = self._kept.encoded, None
            return np.array(encoded, np.float32)

    return Keeping


def _heard(
    parts: list[Any], layout: Layout, offset: float, frames: npt.NDArray[np.float32]
) -> Heard:
    words: list[Word] = []
    reached = 0.0
    for heard in (word for part in parts for word in part.words):
        text = heard.word.strip()
        if not text:
            continue
        if words and not heard.word.startswith(" "):
            words[-1] = _glued(words[-1], text, heard.probability)
            continue
        start, end = layout.on_recording(heard.start - offset, heard.end - offset)
        start = round(max(start, reached), 2)
        reached = end = round(max(end, start), 2)
        words.append(Word(text=text, start=start, end=end, probability=round(heard.probability, 3)))
    text = " ".join(word.text for word in words)
    return Heard(
        words=words,
        mean_log_probability=min((part.avg_logprob for part in parts), default=0.0),
        no_speech=max((part.no_speech_prob for part in parts), default=0.0),
        compression=compression(text),
        sound=WindowSound(frames[: layout.length * FRAMES_PER_SECOND // RATE + 1], layout),
    )


def _glued(word: Word, text: str, probability: float) -> Word:
    """The rest of a word that the model's tokens split, as in 5 and .80."""
    return word.model_copy(
        update={
            "text": word.text + text,
            "probability": round(min(word.probability, probability), 3),
        }
    )


def compression(text: str) -> float:
    """Length of a text in bytes over that of its deflated form; 2.4 and above is a loop."""
    raw = text.encode()
    return len(raw) / len(zlib.compress(raw)) if raw else 0.0
