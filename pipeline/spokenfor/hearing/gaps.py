"""What did the first pass drop? Speech without words, and loops, are heard again one by one."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.ledger import Span, uncovered
from spokenfor.hearing.segments import segments as split
from spokenfor.hearing.transcribe import Recogniser
from spokenfor.hearing.voice import Stretch
from spokenfor.hearing.windows import LONGEST
from spokenfor.models import Segment

SECONDS_A_RETRY = 15.0
"""One second hearing is allowed for each so many seconds of sound; what is over stays unheard."""

MARGIN = 0.3
NEAR = 1.0


def hear_gaps(
    recogniser: Recogniser,
    samples: npt.NDArray[np.int16],
    gain: float,
    recording: int,
    found: list[Segment],
    speech: list[Span],
    loops: Sequence[Span] = (),
) -> list[Segment]:
    """Hear again, each alone, speech that has no words and spans where the text ran in a loop.

    What is then sure joins `found`, in place of doubtful segments there; nothing else is dropped.
    The longest places come first where there are too many. Words that are merely unsure are not
    heard again: in noise that brought next to nothing for twice the time.
    """
    looped = [s for s in found if any(s.start < end and s.end > start for start, end in loops)]
    words = [word for segment in found if segment not in looped for word in segment.words]
    places = _joined(uncovered(speech, words))
    allowed = 2 + int(len(samples) / RATE / SECONDS_A_RETRY)
    chosen = sorted(sorted(places, key=lambda span: span[0] - span[1])[:allowed])
    windows = [[_around(span, found, len(samples))] for span in chosen]
    kept = list(found)
    for heard in recogniser.hear_again(samples, windows, gain):
        anew = [s for s in split(recording, heard) if not s.doubtful]
        sure = [s for s in kept if not s.doubtful]
        anew = [s for s in anew if not any(_overlap(s, other) for other in sure)]
        kept = [s for s in kept if not (s.doubtful and any(_overlap(s, other) for other in anew))]
        kept += anew
    return sorted(kept, key=lambda segment: (segment.start, segment.end))


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
