"""What words are in the sound? Whisper over windows of speech, word times back on the recording."""

from __future__ import annotations

import os
import zlib
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from spokenfor.errors import InputError
from spokenfor.hearing.decode import RATE
from spokenfor.hearing.sound_score import SoundScorer
from spokenfor.hearing.voice import Stretch, levelled
from spokenfor.hearing.weights import Weights
from spokenfor.models import Word

BATCH = 2
"""Windows decoded together; words can differ with it, so it does not follow the machine."""

AT_ONCE = 2
"""Batches at work side by side: beside one batch of 4 a fifth faster on two cores, for the same memory."""

BEAM = 5
"""Hardly slower than 2 (the encoder costs most), with fewer loops and 3 % more words right."""

AGAIN_BEAM = 2


@dataclass(frozen=True)
class Heard:
    """What one window gave: words in time order, seconds of the recording.

    `mean_log_probability` is over tokens (nats), `no_speech` 0..1, `compression` the ratio of text to
    its deflated size (2.4 and above is a loop; Radford et al. 2022, section 4.5).
    """

    words: list[Word]
    mean_log_probability: float
    no_speech: float
    compression: float


class Recogniser:
    """Whisper weights in memory, decoding without sampling, so that the same sound gives the same words."""

    def __init__(self, weights: Weights) -> None:
        from faster_whisper import WhisperModel

        self.weights = weights
        try:
            self._model = WhisperModel(
                str(weights.folder),
                device="cpu",
                compute_type="int8",
                cpu_threads=min(4, os.cpu_count() or 1),
                num_workers=AT_ONCE,
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
        progress: Callable[[int], None],
    ) -> Iterator[Heard]:
        """Words of each window in turn; `progress` is told how many windows are done."""
        yield from self._hear(samples, windows, gain, BEAM, progress)

    def hear_again(
        self, samples: npt.NDArray[np.int16], windows: list[list[Stretch]], gain: float
    ) -> Iterator[Heard]:
        """The same with a narrower beam, which seldom falls into the same loop."""
        yield from self._hear(samples, windows, gain, AGAIN_BEAM, lambda done: None)

    def _hear(
        self,
        samples: npt.NDArray[np.int16],
        windows: list[list[Stretch]],
        gain: float,
        beam: int,
        progress: Callable[[int], None],
    ) -> Iterator[Heard]:
        groups = [windows[first : first + BATCH] for first in range(0, len(windows), BATCH)]
        done = 0
        with ThreadPoolExecutor(AT_ONCE) as pool:
            work = [pool.submit(self._words_of, samples, group, gain, beam) for group in groups]
            try:
                for group, job in zip(groups, work, strict=True):
                    yield from job.result()
                    done += len(group)
                    progress(done)
            finally:
                pool.shutdown(cancel_futures=True)

    def _words_of(
        self, samples: npt.NDArray[np.int16], group: list[list[Stretch]], gain: float, beam: int
    ) -> list[Heard]:
        from faster_whisper import BatchedInferencePipeline

        layouts = [_Layout(window) for window in group]
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
        return [
            _heard(parts, layout, clip["start"])
            for layout, clip, parts in zip(layouts, clips, found, strict=True)
        ]


class _Layout:
    """Stretches of one window laid end to end, and the way back to the recording."""

    def __init__(self, window: list[Stretch]) -> None:
        self._window = window
        self._starts = np.cumsum([0] + [end - start for start, end in window])
        self.length = int(self._starts[-1])

    def sound(self, samples: npt.NDArray[np.int16], gain: float) -> npt.NDArray[np.float32]:
        return np.concatenate([levelled(samples[start:end], gain) for start, end in self._window])

    def on_recording(self, start: float, end: float) -> tuple[float, float]:
        """A word's times moved to the stretch that holds its middle, and kept inside it."""
        middle = (start + end) / 2 * RATE
        index = int(np.searchsorted(self._starts[1:-1], middle, side="right"))
        first, last = self._window[index]
        shift = first - int(self._starts[index])
        held = [min(max(time * RATE + shift, first), last) / RATE for time in (start, end)]
        return held[0], held[1]


def _heard(parts: list[Any], layout: _Layout, offset: float) -> Heard:
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
