"""What is a trainee told of their last walk: what was covered, and what to say next time?"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from spokenfor.comparing.comparison import Comparison
from spokenfor.comparing.progress import Person
from spokenfor.comparing.side_by_side import FindingRow
from spokenfor.comparing.walks import Walk
from spokenfor.comparing.wording_remarks import (
    ADVICE,
    HABIT_WORDS,
    AspectCount,
    Habit,
    WordingRemark,
)
from spokenfor.comparing.zones import Standing, ZoneView
from spokenfor.models import Item
from spokenfor.reporting.wording import counted, listed

_NOT_WALKED = (Standing.SKIPPED, Standing.SAID_NOT_INSPECTED)


@dataclass(frozen=True)
class HabitRemarks:
    """The remarks on one habit, with one sentence of advice for all."""

    habit: Habit
    remarks: list[WordingRemark]

    @property
    def words(self) -> str:
        return HABIT_WORDS[self.habit]

    @property
    def advice(self) -> str:
        return ADVICE[self.habit]


@dataclass(frozen=True)
class Feedback:
    """Feedback on the last walk of one person. `gaps` are the zones not wholly covered, each with its lines
    that were not mentioned; `unheard` the lines that the recording does not let anybody judge."""

    person: Person
    walk: Walk
    covered: int
    total: int
    well: list[str]
    habits: list[HabitRemarks]
    skipped: list[tuple[str, ZoneView]]
    gaps: list[tuple[str, list[Item]]]
    unheard: list[tuple[str, list[Item]]]
    aspects: list[AspectCount]
    found: list[FindingRow]
    missed: list[FindingRow]


def feedback(comparison: Comparison, person: Person) -> Feedback:
    """Put together what to tell one person; everything in it stands in the comparison too."""
    walk = person.walks[-1]
    mark = walk.mark
    views = [(zone.name, comparison.zones[zone.id][mark]) for zone in comparison.sheet.zones]
    remarks = comparison.remarks[mark]
    reference = comparison.reference
    return Feedback(
        person=person,
        walk=walk,
        covered=comparison.covered[mark],
        total=len(comparison.sheet.required),
        well=_well(comparison, person, views),
        habits=[
            HabitRemarks(habit, list(group))
            for habit, group in groupby(remarks, key=lambda one: one.habit)
        ],
        skipped=[(name, view) for name, view in views if view.standing in _NOT_WALKED],
        gaps=_lines(views, "not_mentioned"),
        unheard=_lines(views, "unheard", everywhere=True),
        aspects=[one for one in comparison.aspects[mark] if one.unsaid],
        found=[row for row in comparison.findings if mark in row.marks],
        missed=[
            row
            for row in comparison.findings
            if reference and reference.mark in row.marks and mark not in row.marks
        ],
    )


def _lines(
    views: list[tuple[str, ZoneView]], status: str, *, everywhere: bool = False
) -> list[tuple[str, list[Item]]]:
    """The lines of a status by zone; those of zones that were not walked only if `everywhere`."""
    found = [
        (name, [item for item in view.missing if item.status.value == status])
        for name, view in views
        if everywhere or view.standing not in _NOT_WALKED
    ]
    return [(name, items) for name, items in found if items]


def _well(comparison: Comparison, person: Person, views: list[tuple[str, ZoneView]]) -> list[str]:
    """What went well, in sentences that state a fact each; none where there is nothing to say."""
    walk = person.walks[-1]
    covered, total = comparison.covered[walk.mark], len(comparison.sheet.required)
    lines = [f"{covered} of {counted(total, 'required line')} have a result of their own."]
    whole = [name for name, view in views if view.standing is Standing.COVERED]
    if whole:
        lines.append(f"Covered from end to end: {listed(whole)}.")
    order = comparison.orders[walk.mark]
    if order.tau is not None and not order.moved:
        lines.append(f"{counted(len(order.walked), 'zone')} walked, all in the sheet's order.")
    placed = [row for row in comparison.findings if walk.mark in row.marks and row.placed]
    if placed:
        things = [f"{row.thing}: {row.condition}" if row.condition else row.thing for row in placed]
        lines.append(f"Found and said so that it could be placed: {'; '.join(things)}.")
    full = [one.name for one in comparison.aspects[walk.mark] if one.asked and not one.unsaid]
    if full:
        lines.append(
            f"Stated wherever the sheet asks for it and a result was given: {listed(full)}."
        )
    if len(person.walks) > 1:
        before = comparison.covered[person.walks[-2].mark]
        more = covered - before
        change = (
            f"{more} more than" if more > 0 else "as many as" if not more else f"{-more} fewer than"
        )
        lines.append(f"That is {change} in the walk before, of {person.walks[-2].when}.")
    return lines
