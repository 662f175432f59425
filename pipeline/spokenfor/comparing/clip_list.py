"""Which clips does a page carry, and by what does a line of it call its own?"""

from __future__ import annotations

from dataclasses import dataclass

from spokenfor.comparing.sound_address import Sound
from spokenfor.comparing.walks import Walk
from spokenfor.models import Evidence


@dataclass(frozen=True)
class Heard:
    """The passage behind a line: when it begins (`text`) and its seconds (`label`), both in words, and the id
    of its clip; None where there is no sound."""

    text: str
    label: str
    clip: str | None


class ClipList:
    """The clips of one page, each once, in the order they were asked for."""

    def __init__(self, sound: Sound) -> None:
        self._sound = sound
        self._heard: dict[tuple[str, int, float, float], Heard] = {}
        self.clips: list[tuple[str, str, str]] = []
        """Id, address and label of each."""

    def heard(self, walk: Walk, said: Evidence) -> Heard:
        """The passage in words, and its clip if there is one."""
        key = (walk.mark, said.recording, said.start, said.end)
        if key not in self._heard:
            self._heard[key] = self._new(walk, said)
        return self._heard[key]

    def _new(self, walk: Walk, said: Evidence) -> Heard:
        passage = walk.timeline.passage(said)
        label = f"{walk.called}, {passage.span}"
        address = self._sound(walk, said)
        if address is None:
            return Heard(passage.begins, label, None)
        clip = f"clip-{len(self.clips) + 1}"
        self.clips.append((clip, address, label))
        return Heard(passage.begins, label, clip)
