"""Where does each stay, slope and attempt stand in the drawings?

As in the report's drawing of the walk: x in percent, so that a drawing fits any width with its lettering
unscaled; y in pixels.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from spokenfor.comparing.comparison import Comparison
from spokenfor.comparing.walks import Walk
from spokenfor.models import Unheard
from spokenfor.reporting.timeline import Span
from spokenfor.reporting.wording import clock, counted, day_and_time

ROW_HEIGHT = 26
LANE_HEIGHT = 15
LANE_HEAD = 20
LANE_FOOT = 5
AXIS_HEIGHT = 22
PLOT_HEIGHT = 220
_STEPS = (5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600)
_TICKS_AT_MOST = 5
_NARROWEST = 0.3  # percent: a stay of a second still shows
SHAPES = ("circle", "square", "triangle", "diamond", "cross")


@dataclass(frozen=True)
class Bar:
    """A stay in a zone, or a stretch there that was not heard (`unheard`)."""

    x: float
    width: float
    y: int
    title: str
    unheard: bool = False


@dataclass(frozen=True)
class Lane:
    """The lane of a zone: its name, and below it one line a walk."""

    name: str
    y: int
    height: int


@dataclass(frozen=True)
class Lanes:
    """Zones as lanes against time; in each lane a line for each walk, told by the walk's mark beside it."""

    lanes: list[Lane]
    bars: list[Bar]
    marks: list[tuple[int, str]]
    ticks: list[tuple[float, str]]

    @property
    def foot(self) -> int:
        return sum(one.height for one in self.lanes)

    @property
    def height(self) -> int:
        return self.foot + AXIS_HEIGHT


def lanes(comparison: Comparison) -> Lanes | None:
    """Lay all walks out on one time axis, as long as the longest; None where there is no time at all."""
    walks = comparison.walks
    longest = max(walk.timeline.total for walk in walks)
    if longest <= 0:
        return None
    height = LANE_HEAD + LANE_HEIGHT * len(walks) + LANE_FOOT
    rows, marks = [], []
    bars: list[Bar] = []
    for place, zone in enumerate(comparison.sheet.zones):
        rows.append(Lane(zone.name, place * height, height))
        for line, walk in enumerate(walks):
            y = place * height + LANE_HEAD + line * LANE_HEIGHT
            marks.append((y + LANE_HEIGHT - 4, walk.mark))
            bars += _bars(walk, zone.id, zone.name, y, longest)
    step = next((one for one in _STEPS if one >= longest / _TICKS_AT_MOST), _STEPS[-1])
    ticks = [(_percent(at, longest), clock(at)) for at in range(0, int(longest) + 1, step)]
    return Lanes(rows, bars, marks, ticks)


def _bars(walk: Walk, zone: str, name: str, y: int, longest: float) -> Iterator[Bar]:
    stay = walk.zones.get(zone)
    for one in stay.visits if stay else ():
        yield _bar(walk, [one], name, y, longest)
    unheard = [one for one in walk.result.unheard if not one.zones or zone in one.zones]
    for several in _side_by_side(walk, unheard, longest):
        yield _bar(walk, several, name, y, longest, unheard=True)


def _bar(
    walk: Walk, spans: Sequence[Span], name: str, y: int, longest: float, unheard: bool = False
) -> Bar:
    first, last = spans[0], spans[-1]
    x = _percent(walk.timeline.place(first.recording, first.start), longest)
    end = _percent(walk.timeline.place(last.recording, last.end), longest)
    when = walk.timeline.passage(first).span
    if len(spans) > 1:
        begins, ends = (walk.timeline.passage(one).begins for one in (first, last))
        when = f"{counted(len(spans), 'stretch', 'stretches')} between {begins} and {ends}"
    title = f"{walk.called}, {name}, {when}{', unheard' if unheard else ''}"
    return Bar(x, max(round(end - x, 2), _NARROWEST), y, title, unheard)


def _side_by_side(
    walk: Walk, spans: Sequence[Unheard], longest: float
) -> Iterator[Sequence[Unheard]]:
    """Stretches in time order, those together that no drawing could tell apart."""
    some: list[Unheard] = []
    for one in spans:
        x = _percent(walk.timeline.place(one.recording, one.start), longest)
        if (
            some
            and x - _percent(walk.timeline.place(some[-1].recording, some[-1].end), longest)
            > _NARROWEST
        ):
            yield some
            some = []
        some.append(one)
    if some:
        yield some


@dataclass(frozen=True)
class Slope:
    """From a zone's place in the sheet to its place in the walk, y in pixels; `moved`: out of order."""

    start: int
    end: int
    moved: bool


@dataclass(frozen=True)
class Slopes:
    """The sheet's order on the left, the order walked on the right; what was not walked stands below, without
    a slope. `walked` are (name, out of order)."""

    mark: str
    expected: list[str]
    walked: list[tuple[str, bool]]
    not_walked: list[str]
    slopes: list[Slope]
    row_height: int = ROW_HEIGHT

    @property
    def height(self) -> int:
        return len(self.expected) * self.row_height


def slopes(comparison: Comparison, mark: str) -> Slopes:
    """The order of one walk, drawn against the sheet's."""
    order = comparison.orders[mark]
    names = {zone.id: zone.name for zone in comparison.sheet.zones}
    lines = [
        Slope(_middle(place), _middle(order.walked.index(zone)), zone in order.moved)
        for place, zone in enumerate(order.expected)
        if zone in order.walked
    ]
    return Slopes(
        mark=mark,
        expected=[names[one] for one in order.expected],
        walked=[(names[one], one in order.moved) for one in order.walked],
        not_walked=[names[one] for one in order.expected if one not in order.walked],
        slopes=sorted(lines, key=lambda one: one.moved),
    )


@dataclass(frozen=True)
class Attempt:
    """A walk in the plot of progress: x in percent, y in pixels, its mark and what it says in words."""

    x: float
    y: float
    mark: str
    title: str


@dataclass(frozen=True)
class Line:
    """The attempts of one person, told by shape, dashes and name."""

    name: str
    shape: str
    attempts: list[Attempt]


@dataclass(frozen=True)
class Plot:
    """Required lines covered, in percent of the common sheet's, against the attempts in order; `level` is the
    reference's y and words, `dates` are x and words of each walk."""

    lines: list[Line]
    level: tuple[float, str] | None
    dates: list[tuple[float, str]]
    grid: list[tuple[float, str]]
    foot: int = PLOT_HEIGHT

    @property
    def height(self) -> int:
        return self.foot + 2 * AXIS_HEIGHT


def progress_plot(comparison: Comparison) -> Plot | None:
    """Plot the attempts of whoever made two or more; None where nobody did."""
    if all(len(person.walks) < 2 for person in comparison.people):
        return None
    total = len(comparison.sheet.required)
    if not total:
        return None
    walks = [walk for walk in comparison.walks if not walk.reference]
    x = {
        walk.mark: round(8 + 84 * place / max(len(walks) - 1, 1), 2)
        for place, walk in enumerate(walks)
    }
    lines = [
        Line(
            person.name,
            SHAPES[number % len(SHAPES)],
            [
                Attempt(
                    x[walk.mark],
                    _level(comparison.covered[walk.mark], total),
                    walk.mark,
                    f"{person.name}, {walk.when}: {comparison.covered[walk.mark]} of "
                    f"{counted(total, 'required line')} covered",
                )
                for walk in person.walks
            ],
        )
        for number, person in enumerate(comparison.people)
    ]
    level = None
    if comparison.reference:
        reached = comparison.covered[comparison.reference.mark]
        level = (_level(reached, total), f"reference: {reached}")
    return Plot(
        lines=lines,
        level=level,
        dates=[(x[walk.mark], _day(walk)) for walk in walks],
        grid=[(_level(part, 4), f"{25 * part} %") for part in range(5)],
    )


def _day(walk: Walk) -> str:
    return (
        day_and_time(walk.result.inspection.started).partition(",")[0] if walk.moment else "no date"
    )


def _level(part: int, total: int) -> float:
    return round(10 + (PLOT_HEIGHT - 10) * (1 - part / total), 1)


def _percent(seconds: float, longest: float) -> float:
    return round(100 * seconds / longest, 2)


def _middle(place: int) -> int:
    return place * ROW_HEIGHT + ROW_HEIGHT // 2
