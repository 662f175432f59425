"""How far has the sheet filled, while the rest is still being heard?"""

from __future__ import annotations

from typing import Any

from spokenfor.models import Result, Verdict
from spokenfor.reporting.gaps import is_covered, zones_in_order
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.wording import clock, plain

_FOUND = {Verdict.DEFECT, Verdict.REMARK}


def sheet_so_far(result: Result) -> dict[str, Any]:
    """Required lines covered, of all and zone by zone in the sheet's order, what was found and the words
    heard last. Nothing of it is final: the sound is asked again, and the whole walk is weighed, at the end."""
    labels = Labels(result)
    zones = []
    for zone in zones_in_order(result):
        items = [one for one in result.items if one.zone == zone.id and one.required]
        if items:
            zones.append([zone.name, sum(map(is_covered, items)), len(items)])
    found = [
        {
            "thing": labels.thing(one) + (f": {plain(one.condition)}" if one.condition else ""),
            "verdict": one.verdict.value,
            "words": one.evidence.text,
            "at": clock(one.evidence.start),
        }
        for one in result.findings
        if one.verdict in _FOUND
    ]
    last = max(
        (one.evidence for one in result.statements),
        key=lambda one: (one.recording, one.end),
        default=None,
    )
    return {
        "covered": result.coverage.required_covered,
        "required": result.coverage.required_total,
        "zones": zones,
        "found": found,
        "last": last.text if last else "",
    }
