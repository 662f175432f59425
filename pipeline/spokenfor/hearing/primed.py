"""What is heard by one who knows the names? Windows decoded once more, told which names belong there.

Told names, the model hears more of them, and some that nobody said: what it gives here is never taken for what
was said. It raises questions (primed_questions.py), and the sound is asked about each without any names.
Source: text that stands before a window as context biases the decoder towards its words (Radford et al. 2022,
section 4.5); that both windows of a batch must be told as many tokens is a limit of ctranslate2.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import cycle
from typing import TYPE_CHECKING, Any, Protocol

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.layout import Layout
from spokenfor.models import Word

if TYPE_CHECKING:
    from faster_whisper import WhisperModel

TOLD_TOKENS = 90
"""Tokens of names that are told: about 25 names. Twice as many cost half as much time again, for no more."""

BEAM = 2
NO_REPEAT = 4
"""So many tokens never come twice in the same order: without that, a narrow beam runs into loops, which take
as long as a wide one. On development narrations this found as many right names as a beam of 5 without, in
half of the time."""

UNSURE = 0.65
SURE_SHARE = 0.05
"""Where no larger share of a window's words is less probable than `UNSURE`, nobody is told. It buys time: of
ten minutes of all bundled sounds telling took 2, 13, 15 and 22 s with 0.5, 0.6, 0.65 and 0.7; with 0.6 a list
of servos on a bundled recording was lost by tiny.en."""

LONGEST = 220
"""Tokens that thirty seconds of speech may have; a loop would go on for 448."""

_FRAMES_PER_SECOND = 100


class Names(Protocol):
    """The names that may have been said."""

    def of(self, windows: Sequence[Sequence[Word]]) -> list[list[str]]:
        """Given the words of neighbouring windows, for each the names that belong there, likeliest first."""

    def new_in(self, told: str, heard: Sequence[Word]) -> bool:
        """Whether a text has a name that words heard do not have, or has it more often."""


def is_sure(words: Sequence[Word]) -> bool:
    """Whether a window was heard so surely that there is nothing to tell."""
    unsure = sum(word.probability < UNSURE for word in words)
    return bool(words) and bool(unsure <= SURE_SHARE * len(words))


class PrimedHearing:
    """Decodes windows whose encoder output is at hand once more, told names."""

    def __init__(self, model: WhisperModel) -> None:
        self._model = model
        self._plain = self._tokenizer(_told_tokenizer())

    def words(
        self,
        windows: npt.NDArray[np.float32],
        layouts: Sequence[Layout],
        heard: Sequence[Sequence[Word]],
        names: Names,
    ) -> list[list[Word] | None]:
        """The words of each window, told the names that belong there: None where there are none or where it
        was `heard` surely, and no words where they would tell of no name that was not heard anyhow.

        `windows` holds the encoder's output, shape (windows, frames, width). Times are seconds of the
        recording; probabilities are those of one who was not told."""
        found: list[list[Word] | None] = [None for _ in layouts]
        told = names.of(heard)
        asked = [at for at, words in enumerate(heard) if told[at] and not is_sure(words)]
        if not asked:
            return found
        tokenizers = [self._told(told[at]) for at in asked]
        prompts = [[*one.sot_sequence, one.no_timestamps] for one in tokenizers]
        written = self._model.model.generate(
            _as_storage(windows[asked]),
            prompts,
            beam_size=BEAM,
            no_repeat_ngram_size=NO_REPEAT,
            max_length=len(prompts[0]) + LONGEST,
        )
        for at, tokenizer, one in zip(asked, tokenizers, written, strict=True):
            tokens = [token for token in one.sequences_ids[0] if token < tokenizer.eot]
            found[at] = []
            if names.new_in(tokenizer.decode(tokens), heard[at]):
                found[at] = self._timed(windows[at : at + 1], layouts[at], tokens)
        return found

    def _tokenizer(self, kind: type[Any]) -> Any:
        multilingual = self._model.model.is_multilingual
        return kind(self._model.hf_tokenizer, multilingual, task="transcribe", language="en")

    def _told(self, names: Sequence[str]) -> Any:
        """A tokenizer that begins with the likeliest names, as many as fit; they are told last."""
        told = self._tokenizer(_told_tokenizer())
        tokens: list[int] = []
        for name in cycle(names):
            tokens = [*told.encode(f" {name},"), *tokens]
            if len(tokens) >= TOLD_TOKENS:
                break
        told.names = tokens[-TOLD_TOKENS:]
        return told

    def _timed(
        self, frames: npt.NDArray[np.float32], layout: Layout, tokens: list[int]
    ) -> list[Word]:
        """When the words were said, and how probable they are to one who was not told."""
        length = layout.length * _FRAMES_PER_SECOND // RATE
        [aligned] = self._model.find_alignment(self._plain, [tokens], _as_storage(frames), [length])
        words: list[Word] = []
        for one in aligned:
            text = one["word"]
            if text.startswith(" ") or not words:
                start, end = layout.on_recording(float(one["start"]), float(one["end"]))
                if text.strip():
                    words.append(
                        Word(
                            text=text.strip(),
                            start=round(start, 2),
                            end=round(max(start, end), 2),
                            probability=round(float(one["probability"]), 3),
                        )
                    )
            else:
                words[-1] = words[-1].model_copy(update={"text": words[-1].text + text})
        return words


def _as_storage(frames: npt.NDArray[np.float32]) -> Any:
    import ctranslate2

    return ctranslate2.StorageView.from_array(np.ascontiguousarray(frames))


@cache
def _told_tokenizer() -> type[Any]:
    """A tokenizer whose transcripts begin with names that were told before; made late, as faster-whisper
    loads slowly."""
    from faster_whisper.tokenizer import Tokenizer

    class Told(Tokenizer):  # type: ignore[misc]
        names: Sequence[int] = ()

        @property
        def sot_sequence(self) -> list[int]:
            told = [self.sot_prev, *self.names] if self.names else []
            return [*told, *super().sot_sequence]

    return Told
