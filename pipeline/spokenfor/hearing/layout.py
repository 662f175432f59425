"""Where the sound of a window lies on its recording, and back."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.noise import quieter
from spokenfor.hearing.voice import Stretch


class Layout:
    """Stretches of one window laid end to end."""

    def __init__(self, window: list[Stretch]) -> None:
        self._window = window
        self._starts = np.cumsum([0] + [end - start for start, end in window])
        self.length = int(self._starts[-1])

    def sound(self, samples: npt.NDArray[np.int16], gain: float) -> npt.NDArray[np.float32]:
        """The window's samples at working level, steady noise taken down, shape (length,)."""
        first, after = self._window[0][0], self._window[-1][1]
        sound = quieter(samples, first, after)
        parts = [sound[start - first : end - first] for start, end in self._window]
        return np.asarray(np.clip(np.concatenate(parts) * np.float32(gain), -1.0, 1.0), np.float32)

    def on_recording(self, start: float, end: float) -> tuple[float, float]:
        """A word's times moved to the stretch that holds its middle, and kept inside it."""
        middle = (start + end) / 2 * RATE
        index = int(np.searchsorted(self._starts[1:-1], middle, side="right"))
        first, last = self._window[index]
        shift = first - int(self._starts[index])
        held = [min(max(time * RATE + shift, first), last) / RATE for time in (start, end)]
        return held[0], held[1]

    def in_window(self, seconds: float) -> float:
        """Seconds of the recording as seconds of the window; between stretches, the nearest edge."""
        at = seconds * RATE
        for index, (first, last) in enumerate(self._window):
            if at <= last or index == len(self._window) - 1:
                held = min(max(at, first), last)
                return (int(self._starts[index]) + held - first) / RATE
        return 0.0
