"""What is still to be said, zone by zone in the order of the walk?"""

from __future__ import annotations

from dataclasses import dataclass

from spokenfor.models import Result
from spokenfor.packs.load import load_pack
from spokenfor.reporting.gaps import by_zone, not_covered


@dataclass(frozen=True)
class ZoneToSay:
    """A zone and the labels of its required items that have no result yet."""

    zone: str
    items: list[str]

    @property
    def count(self) -> int:
        return len(self.items)


def left_to_say(result: Result) -> list[ZoneToSay]:
    """What an inspection that was checked has not covered."""
    return [
        ZoneToSay(group.zone.name, [one.label for one in group.items])
        for group in by_zone(result, not_covered(result), required=True)
    ]


def all_to_say(pack: str) -> list[ZoneToSay]:
    """The whole sheet of a pack. Raises InputError for one that cannot be used."""
    sheet = load_pack(pack)
    zones = [
        ZoneToSay(
            zone.prefLabel,
            [one.label for one in sheet.items if one.zone == zone.id and one.required],
        )
        for zone in sheet.zones
    ]
    return [one for one in zones if one.items]
