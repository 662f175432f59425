"""What does the terminal say when a check is done, in ten lines or fewer?"""

from __future__ import annotations

from collections.abc import Sequence

from spokenfor.models import Result, Verdict
from spokenfor.reporting.gaps import ZoneItems, bottom_line, by_zone, not_covered, tally
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.sound_quality import advice_lines
from spokenfor.reporting.timeline import Timeline
from spokenfor.reporting.wording import duration, listed

# Ten lines, less the four that always stand: coverage, not covered, found, unheard.
_ROOM = 6
_FINDINGS_AT_LEAST = 4
_NAMES = 4


def summary_lines(result: Result) -> list[str]:
    """At most ten lines: what was covered, skipped (by zone), found (with time) and unheard, and where the
    sound was poor what to do next time."""
    line = bottom_line(result)
    gaps = not_covered(result)
    zones = by_zone(result, gaps, required=True)
    found = _findings(result)
    advice = advice_lines(result)
    room = _ROOM - len(advice)
    zone_room = max(room - len(found), room - _FINDINGS_AT_LEAST)
    zone_lines = _zone_lines(zones, zone_room)
    return [
        f"{line.covered}, {line.missing}",
        "Not covered: " + (", ".join(f"{n} {word}" for word, n in tally(gaps)) or "nothing"),
        *zone_lines,
        f"Found: {line.defects}, {line.remarks}",
        *_at_most(found, room - len(zone_lines)),
        _unheard_line(result),
        *advice,
    ]


def _at_most(lines: Sequence[str], room: int) -> list[str]:
    if len(lines) <= room:
        return list(lines)
    return [*lines[: room - 1], f"  and {len(lines) - room + 1} more, see the report"]


def _zone_lines(zones: Sequence[ZoneItems], room: int) -> list[str]:
    lines = [_zone_line(zone) for zone in zones]
    if len(lines) <= room:
        return lines
    rest = zones[room - 1 :]
    missing = sum(len(zone.items) for zone in rest)
    names = listed([zone.zone.name for zone in rest])
    return [*lines[: room - 1], f"  and {missing} more in {names}"]


def _zone_line(gap: ZoneItems) -> str:
    if len(gap.items) == gap.total and gap.total > _NAMES:
        return f"  {gap.zone.name}: none of its {gap.total} required items covered"
    names = [item.label for item in gap.items[:_NAMES]]
    more = len(gap.items) - len(names)
    return f"  {gap.zone.name}: {', '.join(names)}" + (f" and {more} more" if more else "")


def _findings(result: Result) -> list[str]:
    timeline, labels = Timeline(result.recordings, ()), Labels(result)
    return [
        f"  {finding.verdict.value} at {timeline.passage(finding.evidence).begins}: "
        f"{labels.finding(finding)}"
        for finding in sorted(result.findings, key=lambda one: one.verdict is not Verdict.DEFECT)
    ]


def _unheard_line(result: Result) -> str:
    qualities = [recording.quality for recording in result.recordings if recording.quality]
    if not result.unheard:
        silent = qualities and not any(quality.speech_seconds for quality in qualities)
        unsure = [zone.name for zone in result.zones if not zone.side_sure]
        if unsure:
            return f"Unheard: on which side of the machine, in {listed(unsure)}"
        return "Unheard: nothing; there was no speech at all" if silent else "Unheard: nothing"
    labels = Labels(result)
    zones = dict.fromkeys(labels.zone(one) for stretch in result.unheard for one in stretch.zones)
    longest = max(stretch.end - stretch.start for stretch in result.unheard)
    length = bottom_line(result).unheard.removesuffix(" unheard")
    where = f", in {listed(list(zones))}" if zones else ""
    return f"Unheard: {length}, longest stretch {duration(longest)}{where}"
