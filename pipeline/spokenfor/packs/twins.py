"""Zones that can be taken for each other: the same things on the other side of the machine."""

from __future__ import annotations

from collections import defaultdict

from spokenfor.packs.load import Pack

SHARED = 0.5
"""Two zones are twins where they share at least so much of the smaller one's components."""


def twins(pack: Pack) -> dict[str, frozenset[str]]:
    """For each zone with a position of its own, the zones of another position that hold the same things."""
    components: dict[str, set[str]] = defaultdict(set)
    for item in pack.items:
        components[item.zone].add(item.component)
    sided = [zone for zone in pack.zones if zone.position]
    return {
        zone.id: frozenset(
            other.id
            for other in sided
            if set(other.position) != set(zone.position)
            and len(components[zone.id] & components[other.id])
            >= SHARED * min(len(components[zone.id]), len(components[other.id]))
        )
        for zone in sided
    }
