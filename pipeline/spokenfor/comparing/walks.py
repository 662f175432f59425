"""Which walks are compared, and what is known of each?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path
from string import ascii_uppercase

from spokenfor.errors import InputError
from spokenfor.models import Item, Result, Transcript, ZoneWalk
from spokenfor.reporting.gaps import zones_in_order
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.timeline import Timeline
from spokenfor.reporting.wording import day_and_time, moment_of

MOST_WALKS = len(ascii_uppercase)
"""Each walk goes by a letter in the drawings."""

REFERENCE = "ref"


@dataclass(frozen=True)
class Walk:
    """One walk. `result` is as reviewed where it was reviewed. `decided_by` names, for each id of an item or
    finding that a person decided, who; `was` what was proposed where they changed it. `transcript` is None
    where only the report is there; `sounds` are the recordings found, by their number."""

    source: Path
    result: Result
    decided_by: Mapping[str, str] = field(default_factory=dict)
    was: Mapping[str, str] = field(default_factory=dict)
    transcript: Transcript | None = None
    sounds: Mapping[int, Path] = field(default_factory=dict)
    mark: str = "A"

    @property
    def reference(self) -> bool:
        """Whether the others are held against this one."""
        return self.mark == REFERENCE

    @property
    def called(self) -> str:
        """What the pages call it: walk A, or the reference walk."""
        return "the reference walk" if self.reference else f"walk {self.mark}"

    @property
    def by(self) -> str:
        return self.result.inspection.by or "name not stated"

    @property
    def asset(self) -> str:
        return self.result.inspection.asset or "asset not stated"

    @property
    def when(self) -> str:
        """The day and time of the check in words."""
        return day_and_time(self.result.inspection.started)

    @property
    def moment(self) -> datetime | None:
        """The time of the check; None where the report gives none that can be read."""
        return moment_of(self.result.inspection.started)

    @property
    def reviewers(self) -> list[str]:
        """Who decided, most decisions first."""
        return [name for name, _ in Counter(self.decided_by.values()).most_common()]

    @cached_property
    def items(self) -> dict[str, Item]:
        return {item.id: item for item in self.result.items}

    @cached_property
    def zones(self) -> dict[str, ZoneWalk]:
        return {zone.id: zone for zone in zones_in_order(self.result)}

    @cached_property
    def timeline(self) -> Timeline:
        return Timeline(self.result.recordings, self.sounds)

    @cached_property
    def labels(self) -> Labels:
        return Labels(self.result)


def in_order(walks: Sequence[Walk], reference: Walk | None = None) -> list[Walk]:
    """Two or more walks by date, each with its letter; the reference, if any, comes last.

    Raises InputError for fewer than two, for more than there are letters, and for one that is there twice.
    """
    others = [one for one in walks if reference is None or not _same(one, reference)]
    for index, one in enumerate(others):
        if any(_same(one, earlier) for earlier in others[:index]):
            raise InputError(f"'{one.source}' was given twice", "Give each walk once")
    number = len(others) + (reference is not None)
    if number < 2:
        raise InputError(
            "Only one walk was given" if number else "No walk was given",
            "Give two or more inspection folders, or one and --reference",
        )
    if len(others) > MOST_WALKS:
        raise InputError(
            f"{len(others)} walks are too many for one page", f"Give at most {MOST_WALKS}"
        )
    dated = sorted(others, key=_earliest_first)
    marked = [replace(one, mark=ascii_uppercase[place]) for place, one in enumerate(dated)]
    return [*marked, *([replace(reference, mark=REFERENCE)] if reference else [])]


def _earliest_first(walk: Walk) -> tuple[bool, datetime]:
    moment = walk.moment
    return moment is None, moment or datetime.min.replace(tzinfo=UTC)


def _same(one: Walk, other: Walk) -> bool:
    return one.source.resolve() == other.source.resolve()
