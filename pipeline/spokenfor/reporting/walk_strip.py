"""Where does each stay, unheard stretch and finding stand in the drawing of the walk?

The drawing has time along x, in percent of all recordings laid end to end, so that it fits any
width with its lettering unscaled, and one row a zone along y, in pixels.
"""

from __future__ import annotations

from dataclasses import dataclass

from spokenfor.models import Result
from spokenfor.reporting.gaps import zones_in_order
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.timeline import Timeline
from spokenfor.reporting.wording import REASON_WORDS, clock

ROW_HEIGHT = 28
AXIS_HEIGHT = 22
_STEPS = (5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600)
_TICKS_AT_MOST = 6
_NARROWEST = 0.3  # percent: a stay of a second still shows


@dataclass(frozen=True)
class Span:
    """A stretch along x, in percent; `row` is None where it crosses all rows."""

    x: float
    width: float
    title: str
    row: int | None = None


@dataclass(frozen=True)
class Mark:
    """A finding: a point along x in percent, on a row, drawn as the shape of its verdict."""

    x: float
    row: int
    shape: str
    title: str


@dataclass(frozen=True)
class Tick:
    """A moment on the axis, in percent, with its time; `begins` marks the next recording."""

    x: float
    text: str
    begins: bool = False


@dataclass(frozen=True)
class WalkStrip:
    """All that is drawn: row names from the top, stays, unheard stretches, findings and times."""

    rows: list[str]
    stays: list[Span]
    unheard: list[Span]
    marks: list[Mark]
    ticks: list[Tick]
    row_height: int = ROW_HEIGHT

    @property
    def foot(self) -> int:
        """y of the axis in pixels."""
        return len(self.rows) * self.row_height

    @property
    def height(self) -> int:
        """Height of the drawing in pixels."""
        return self.foot + AXIS_HEIGHT


def walk_strip(result: Result, timeline: Timeline) -> WalkStrip | None:
    """Lay the walk out, unplaced findings in a row of their own; None where there is no time."""
    if timeline.total <= 0:
        return None
    labels = Labels(result)
    zones = zones_in_order(result)
    rows = [zone.name for zone in zones]
    row_of = {zone.id: row for row, zone in enumerate(zones)}
    marks = []
    for finding in result.findings:
        item = labels.item_of(finding.item)
        if item is None and len(rows) == len(zones):
            rows.append("not placed")
        marks.append(
            Mark(
                _percent(timeline, finding.evidence.recording, finding.evidence.start),
                row_of[item.zone] if item else len(zones),
                finding.verdict.value,
                f"{finding.verdict.value} at {timeline.passage(finding.evidence).begins}: "
                f"{labels.finding(finding)}",
            )
        )
    stays = [
        _span(timeline, visit.recording, visit.start, visit.end, zone.name, row_of[zone.id])
        for zone in zones
        for visit in zone.visits
    ]
    unheard = [
        _span(timeline, one.recording, one.start, one.end, f"unheard, {REASON_WORDS[one.reason]}")
        for one in result.unheard
    ]
    return WalkStrip(rows, stays, unheard, marks, _ticks(timeline))


def _span(
    timeline: Timeline, recording: int, start: float, end: float, what: str, row: int | None = None
) -> Span:
    x = _percent(timeline, recording, start)
    width = max(_percent(timeline, recording, end) - x, _NARROWEST)
    return Span(x, round(width, 2), f"{what}, {clock(start)} to {clock(end)}", row)


def _percent(timeline: Timeline, recording: int, seconds: float) -> float:
    return round(100 * timeline.place(recording, seconds) / timeline.total, 2)


def _ticks(timeline: Timeline) -> list[Tick]:
    """Times on the axis, counted from the start of each recording as everywhere in the report."""
    wanted = timeline.total / _TICKS_AT_MOST
    step = next((step for step in _STEPS if step >= wanted), _STEPS[-1])
    ticks = []
    for index, recording in enumerate(timeline.recordings):
        for seconds in range(0, int(recording.duration) + 1, step):
            crowded = recording.duration - seconds < step / 2 and seconds > 0
            if not crowded:
                x = _percent(timeline, index, seconds)
                ticks.append(Tick(x, clock(seconds), begins=seconds == 0 and index > 0))
    return ticks
