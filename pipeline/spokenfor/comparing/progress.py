"""How did each person's walks come on, attempt by attempt?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spokenfor.comparing.sheet import CommonSheet
from spokenfor.comparing.walks import Walk
from spokenfor.reporting.gaps import is_covered


@dataclass(frozen=True)
class Person:
    """The walks of one person, earliest first. Where no name is stated each walk stands for itself."""

    name: str
    walks: list[Walk]


def people(walks: Sequence[Walk]) -> list[Person]:
    """The walks by who made them, the reference left out; names that differ in case alone are one."""
    found: dict[str, list[Walk]] = {}
    for walk in walks:
        if not walk.reference:
            name = walk.result.inspection.by
            found.setdefault(" ".join(name.casefold().split()) if name else walk.mark, []).append(
                walk
            )
    return [Person(group[0].by, group) for group in found.values()]


def covered_lines(sheet: CommonSheet, walk: Walk) -> int:
    """How many of the common required lines are covered in a walk."""
    return sum(is_covered(walk.items[one.id]) for one in sheet.required)
