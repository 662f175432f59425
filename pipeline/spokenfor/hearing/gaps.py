"""What did the first pass drop? Speech without words, and loops, are heard again one by one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.ledger import Span, uncovered
from spokenfor.hearing.primed import Names
from spokenfor.hearing.second_hearing import Asked, SecondHearing
from spokenfor.hearing.segments import looped
from spokenfor.hearing.segments import segments as split
from spokenfor.hearing.transcribe import Heard, Recogniser
from spokenfor.hearing.voice import Stretch
from spokenfor.hearing.windows import LONGEST
from spokenfor.models import Segment

SECONDS_A_RETRY = 15.0
"""One second hearing is allowed for each so many seconds of sound; what is over stays unheard."""

MARGIN = 0.3
NEAR = 1.0


@dataclass(frozen=True)
class Understood:
    """A window's segments, whether its text ran in a loop, and what the sound was asked of them."""

    segments: list[Segment]
    looped: bool
    asked: list[Asked]


@dataclass(frozen=True)
class Understanding:
    """Makes of a window's words segments of recording number `recording`, and asks the sound again
    where there is a second hearing to do so."""

    recording: int
    second: SecondHearing | None = None

    @property
    def names(self) -> Names | None:
        """Which names belong where words were heard, where there is a pack to say so."""
        return self.second.names if self.second is not None else None

    def __call__(self, heard: Heard) -> Understood:
        found = split(self.recording, heard)
        asked: list[Asked] = []
        if self.second is not None and heard.sound is not None:
            asked = self.second.ask(found, heard.sound, heard.primed)
        return Understood(found, looped(heard), asked)


def hear_gaps(
    recogniser: Recogniser,
    samples: npt.NDArray[np.int16],
    gain: float,
    understand: Understanding,
    heard: Sequence[Understood],
    speech: list[Span],
    loops: Sequence[Span] = (),
) -> tuple[list[Segment], list[Asked]]:
    """Hear again, each alone, speech that has no words and spans where the text ran in a loop.

    What is then sure joins what was heard, in place of doubtful segments there; nothing else is
    dropped. The longest places come first where there are too many. Words that are merely unsure are
    not heard again: in noise that brought next to nothing for twice the time.
    """
    kept = [segment for window in heard for segment in window.segments]
    asked = [one for window in heard for one in window.asked]
    in_loops = [s for s in kept if any(s.start < end and s.end > start for start, end in loops)]
    words = [word for segment in kept if segment not in in_loops for word in segment.words]
    places = _joined(uncovered(speech, words))
    allowed = 2 + int(len(samples) / RATE / SECONDS_A_RETRY)
    chosen = sorted(sorted(places, key=lambda span: span[0] - span[1])[:allowed])
    windows = [[_around(span, kept, len(samples))] for span in chosen]
    for again in recogniser.hear_again(samples, windows, gain, understand, understand.names):
        sure = [s for s in kept if not s.doubtful]
        anew = [s for s in again.segments if not s.doubtful]
        anew = [s for s in anew if not any(_overlap(s, other) for other in sure)]
        kept = [s for s in kept if not (s.doubtful and any(_overlap(s, other) for other in anew))]
        kept += anew
        asked += again.asked
    return sorted(kept, key=lambda segment: (segment.start, segment.end)), asked


def _joined(spans: list[Span]) -> list[Span]:
    """Neighbouring places as one, as long as they fit a window."""
    joined: list[Span] = []
    for start, end in sorted(spans):
        if joined and start - joined[-1][1] < NEAR and end - joined[-1][0] < LONGEST / RATE - 1:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return joined


def _around(span: Span, found: list[Segment], length: int) -> Stretch:
    """A little more sound than the gap, but none that sure words already explain."""
    before = max((s.end for s in found if not s.doubtful and s.end <= span[0]), default=0.0)
    after = min((s.start for s in found if not s.doubtful and s.start >= span[1]), default=np.inf)
    start = max(span[0] - MARGIN, min(before, span[0]))
    end = min(span[1] + MARGIN, max(after, span[1]), length / RATE)
    return int(start * RATE), min(int(start * RATE) + LONGEST, int(end * RATE))


def _overlap(one: Segment, other: Segment) -> bool:
    shared = min(one.end, other.end) - max(one.start, other.start)
    return shared > 0.3 * max(min(one.end - one.start, other.end - other.start), 0.1)
