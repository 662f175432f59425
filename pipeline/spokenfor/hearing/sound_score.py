"""How probable is a wording, given the sound? The acoustic model's own token probabilities.

Source: Whisper's decoder forced over a given text (ctranslate2 `Whisper.align`), on the part of the encoder's
output that belongs to the utterance. The encoder ran once, for the first transcription.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.layout import Layout

if TYPE_CHECKING:
    from faster_whisper import WhisperModel

FRAMES_PER_SECOND = 50
"""Encoder frames: 20 ms each (Radford et al. 2022, section 2.2)."""

_MARGIN_FRAMES = 15
_FRAMES_AT_ONCE = 8000
"""Frames that are scored in one batch; what the decoder keeps of them bounds the memory."""
_LEAST_PROBABILITY = 1e-9


@dataclass(frozen=True)
class WindowSound:
    """What the encoder made of one window: `frames` of shape (frames, width), and where they lie."""

    frames: npt.NDArray[np.float32]
    layout: Layout

    def part(self, start: float, end: float) -> npt.NDArray[np.float32]:
        """The frames of an utterance (seconds of the recording) and a little around it."""
        first = int(self.layout.in_window(start) * FRAMES_PER_SECOND) - _MARGIN_FRAMES
        after = int(self.layout.in_window(end) * FRAMES_PER_SECOND) + _MARGIN_FRAMES
        return self.frames[max(0, first) : min(after, len(self.frames))]


class SoundScorer:
    """Scores texts against windows of sound with the weights of a WhisperModel."""

    def __init__(self, model: WhisperModel) -> None:
        from faster_whisper.tokenizer import Tokenizer

        self._model = model
        self._tokenizer = Tokenizer(
            model.hf_tokenizer, model.model.is_multilingual, task="transcribe", language="en"
        )
        self._previous = model.hf_tokenizer.token_to_id("<|startofprev|>")

    def scores(
        self, part: npt.NDArray[np.float32], texts: Sequence[str], before: str = ""
    ) -> list[npt.NDArray[np.float32]]:
        """Log probability in nats of each token of each text, as the words of an utterance's frames,
        shape (frames, width); `before` stands as what was said before."""
        import ctranslate2

        start = list(self._tokenizer.sot_sequence)
        if before:
            start = [self._previous, *self._tokenizer.encode(f" {before}"), *start]
        tokens = [self._tokenizer.encode(f" {text}") for text in texts]
        most = max(1, _FRAMES_AT_ONCE // max(1, len(part)))
        aligned = []
        for first in range(0, len(tokens), most):
            some = tokens[first : first + most]
            batch = np.repeat(part[np.newaxis], len(some), axis=0)
            sound = ctranslate2.StorageView.from_array(np.ascontiguousarray(batch))
            aligned += self._model.model.align(sound, start, some, [2 * len(part)] * len(some))
        return [
            np.log(np.maximum(one.text_token_probs, _LEAST_PROBABILITY)).astype(np.float32)
            for one in aligned
        ]
