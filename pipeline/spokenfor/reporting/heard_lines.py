"""How does the transcript read, line by line: as heard, repairs and unheard stretches marked?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from spokenfor.models import Repair, Result, Segment, Transcript, Unheard, Word
from spokenfor.reporting.timeline import Passage, Timeline
from spokenfor.reporting.wording import REASON_WORDS


@dataclass(frozen=True)
class Run:
    """Words as heard, and what they became where they were repaired."""

    heard: str
    became: str | None = None


@dataclass(frozen=True)
class HeardLine:
    """One line of the transcript: `unheard` holds the reason where there are no words."""

    passage: Passage
    runs: list[Run]
    doubtful: bool = False
    unheard: str | None = None


def heard_lines(
    transcript: Transcript, result: Result, timeline: Timeline
) -> list[list[HeardLine]]:
    """The transcript as one list of lines a recording, in time order."""
    pages: list[list[HeardLine]] = []
    for recording in range(len(transcript.recordings)):
        segments = [one for one in transcript.segments if one.recording == recording]
        stretches = [one for one in result.unheard if one.recording == recording]
        repairs = [one for one in result.repairs if one.evidence.recording == recording]
        lines = [_segment_line(one, repairs, timeline) for one in segments]
        lines += [_unheard_line(one, timeline) for one in stretches]
        pages.append(sorted(lines, key=lambda line: (line.passage.start, line.passage.end)))
    return pages


def _segment_line(segment: Segment, repairs: Sequence[Repair], timeline: Timeline) -> HeardLine:
    mine = [repair for repair in repairs if _overlap(segment, repair)]
    runs = list(_runs(segment.words, mine))
    return HeardLine(timeline.passage(segment), runs, doubtful=segment.doubtful)


def _unheard_line(stretch: Unheard, timeline: Timeline) -> HeardLine:
    return HeardLine(timeline.passage(stretch), [], unheard=REASON_WORDS[stretch.reason])


def _overlap(segment: Segment, repair: Repair) -> bool:
    return repair.evidence.start < segment.end and segment.start < repair.evidence.end


def _runs(words: Sequence[Word], repairs: Sequence[Repair]) -> Iterator[Run]:
    """Split the words at the repairs; one whose words cannot be found again is shown at the end."""
    found: dict[int, tuple[int, Repair]] = {}
    lost: list[Repair] = []
    for repair in repairs:
        place = _find(words, repair, taken=found)
        if place is None:
            lost.append(repair)
        else:
            found[place[0]] = (place[1], repair)
    at = plain_from = 0
    while at < len(words):
        if at in found:
            if plain_from < at:
                yield Run(_said(words[plain_from:at]))
            end, repair = found[at]
            yield Run(_said(words[at:end]), repair.became)
            at = plain_from = end
        else:
            at += 1
    if plain_from < len(words):
        yield Run(_said(words[plain_from:]))
    for repair in lost:
        yield Run(repair.heard, repair.became)


def _find(
    words: Sequence[Word], repair: Repair, taken: dict[int, tuple[int, Repair]]
) -> tuple[int, int] | None:
    """First and past-last index of the repaired words, in the repair's seconds, not yet taken."""
    wanted = [_bare(part) for part in repair.heard.split()]
    for first in range(len(words) - len(wanted) + 1):
        last = first + len(wanted)
        run = words[first:last]
        if not run or any(first < end and start < last for start, (end, _) in taken.items()):
            continue
        inside = run[0].end > repair.evidence.start and run[-1].start < repair.evidence.end
        if inside and [_bare(word.text) for word in run] == wanted:
            return first, last
    return None


def _bare(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter.isalnum())


def _said(words: Sequence[Word]) -> str:
    return " ".join(word.text for word in words)
