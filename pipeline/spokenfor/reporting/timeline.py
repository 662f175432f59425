"""Where in which recording does a moment lie, can it be played, and how is it said?"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Protocol

from spokenfor.models import Recording
from spokenfor.reporting.wording import clock

PAD = 0.3
"""Seconds of sound that are played before and after the words; page.js has the same."""


def offsets(recordings: Sequence[Recording]) -> list[float]:
    """Start of each recording in seconds when they are laid end to end."""
    return list(accumulate((one.duration for one in recordings), initial=0.0))[: len(recordings)]


class Span(Protocol):
    """Whatever lies between two times in seconds of one recording."""

    @property
    def recording(self) -> int: ...
    @property
    def start(self) -> float: ...
    @property
    def end(self) -> float: ...


@dataclass(frozen=True)
class Passage:
    """Seconds of one recording, as said (`begins`, `span`) and as played (`start`, `end`)."""

    recording: int
    start: float
    end: float
    begins: str
    span: str
    playable: bool


class Timeline:
    """The recordings of one inspection, and which of them can be played."""

    def __init__(self, recordings: Sequence[Recording], playable: Collection[int]) -> None:
        self.recordings = recordings
        self.offsets = offsets(recordings)
        self.total = sum(one.duration for one in recordings)
        self._playable = frozenset(playable)

    def place(self, recording: int, seconds: float) -> float:
        """Seconds from the start of the first recording, with the recordings laid end to end."""
        return self.offsets[recording] + seconds

    def passage(self, of: Span) -> Passage:
        """The passage behind a line; with several recordings its words name the recording."""
        which = f"rec {of.recording + 1}, " if len(self.recordings) > 1 else ""
        return Passage(
            recording=of.recording,
            start=round(of.start, 2),
            end=round(of.end, 2),
            begins=which + clock(of.start),
            span=f"{which}{clock(of.start)} to {clock(of.end)}",
            playable=of.recording in self._playable,
        )
