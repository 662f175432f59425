"""How probable is a wording, given the sound? The acoustic model's own token probabilities.

Source: Whisper's decoder forced over a given text (ctranslate2 `Whisper.align`), on the part of the encoder's
output that belongs to the utterance; the encoder runs once for each window of up to 30 s.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from faster_whisper import WhisperModel

WINDOW_SECONDS = 30.0
_FRAMES_PER_SECOND = 50  # encoder frames: 20 ms each (Radford et al. 2022, section 2.2)
_MARGIN_FRAMES = 15
_LEAST_PROBABILITY = 1e-9


class SoundScorer:
    """Scores texts against windows of sound with the weights of a WhisperModel."""

    def __init__(self, model: WhisperModel) -> None:
        from faster_whisper.tokenizer import Tokenizer

        self._model = model
        self._tokenizer = Tokenizer(
            model.hf_tokenizer, model.model.is_multilingual, task="transcribe", language="en"
        )

    def encode(self, samples: npt.NDArray[np.float32]) -> npt.NDArray[np.float32]:
        """Encoder output, shape (frames, width), of up to 30 s of sound at 16 kHz."""
        features = self._model.feature_extractor(samples)[..., :3000]
        padding = 3000 - features.shape[-1]
        features = np.pad(features, [(0, 0), (0, padding)])
        encoded = np.asarray(self._model.encode(features[np.newaxis]), dtype=np.float32)
        frames: npt.NDArray[np.float32] = encoded[0]
        return frames

    def scores(
        self, encoded: npt.NDArray[np.float32], start: float, end: float, texts: Sequence[str]
    ) -> list[float]:
        """Log probability, in nats, of each text as the words between `start` and `end` (seconds in the
        window)."""
        import ctranslate2

        first = max(0, int(start * _FRAMES_PER_SECOND) - _MARGIN_FRAMES)
        after = min(len(encoded), int(end * _FRAMES_PER_SECOND) + _MARGIN_FRAMES)
        part = np.repeat(encoded[np.newaxis, first:after], len(texts), axis=0)
        aligned = self._model.model.align(
            ctranslate2.StorageView.from_array(np.ascontiguousarray(part)),
            self._tokenizer.sot_sequence,
            [self._tokenizer.encode(f" {text}") for text in texts],
            [2 * (after - first)] * len(texts),
        )
        return [
            float(np.log(np.maximum(one.text_token_probs, _LEAST_PROBABILITY)).sum())
            for one in aligned
        ]
