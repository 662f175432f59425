"""How is a long transcript shown page by page, each word with its second?"""

from __future__ import annotations

from dataclasses import dataclass

from spokenfor.models import Segment, Word
from spokenfor.reporting.heard_lines import HeardLine, heard_lines
from spokenfor.reporting.timeline import Timeline
from spokenfor.web.opened import Opened

PAGE = 80
"""Lines a page: about seven minutes of steady talk."""


@dataclass(frozen=True)
class WordLine:
    """A line of the transcript: the report's line, its words with their times, the zone it was said in."""

    line: HeardLine
    words: list[Word]
    zone: str | None
    zone_number: int | None


def word_lines(opened: Opened) -> list[WordLine]:
    """Every line of all recordings, in time order."""
    result, transcript = opened.review.result, opened.inspection.transcript
    by_place: dict[tuple[int, float], Segment] = {
        (one.recording, round(one.start, 2)): one for one in transcript.segments
    }
    lines = []
    for page in heard_lines(transcript, result, Timeline(result.recordings, opened.sound)):
        for line in page:
            at = (line.passage.recording, line.passage.start)
            segment = None if line.unheard else by_place.get(at)
            zone = _zone(opened, *at)
            name, number = zone if zone else (None, None)
            lines.append(WordLine(line, segment.words if segment else [], name, number))
    return lines


def page_of(lines: list[WordLine], recording: int, seconds: float) -> int:
    """The page (from 1) on which a moment is."""
    before = [
        one
        for one in lines
        if (one.line.passage.recording, one.line.passage.start) <= (recording, seconds)
    ]
    return max(0, len(before) - 1) // PAGE + 1


def _zone(opened: Opened, recording: int, seconds: float) -> tuple[str, int] | None:
    for zone in opened.review.result.zones:
        for visit in zone.visits:
            if visit.recording == recording and visit.start <= seconds < visit.end:
                return zone.name, zone.expected_order
    return None
