"""What was found on one asset more than once?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from spokenfor.errors import InputError
from spokenfor.models import Finding
from spokenfor.reporting.labels import Labels
from spokenfor.web.opened import Opened
from spokenfor.web.state import Workbench

_AT_MOST = 200
"""Inspections of one asset that are looked through, the newest."""


@dataclass(frozen=True)
class Found:
    """One finding in one inspection."""

    opened: Opened
    finding: Finding
    label: str


def repeats(bench: Workbench, asset: str) -> dict[str, Any]:
    """`inspections` of the asset, newest first; `again`: findings of the same condition on the same
    component and position in two inspections or more; `unread`: folders that could not be read."""
    found: list[Opened] = []
    unread: list[str] = []
    for name in bench.listing.of_asset(asset)[:_AT_MOST]:
        try:
            found.append(bench.shelf.open("inspections", name))
        except InputError as error:
            unread.append(f"{name}: {error.wrong}")
    groups: dict[tuple[str | None, ...], list[Found]] = {}
    for opened in found:
        labels = Labels(opened.review.result)
        for one in opened.review.result.findings:
            key = (one.component, one.position, one.condition)
            groups.setdefault(key, []).append(Found(opened, one, labels.finding(one)))
    again = [rows for rows in groups.values() if len({one.opened.id for one in rows}) > 1]
    again.sort(key=lambda rows: -len({one.opened.id for one in rows}))
    return {"inspections": found, "again": again, "unread": unread}
