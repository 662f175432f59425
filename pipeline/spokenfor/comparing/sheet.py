"""Which lines of the sheet can the walks be compared on?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spokenfor.comparing.walks import Walk
from spokenfor.errors import InputError
from spokenfor.models import Item, PackIdentity
from spokenfor.reporting.wording import counted, listed


@dataclass(frozen=True)
class SheetZone:
    """A zone of the common sheet: the lines in it, in the sheet's order."""

    id: str
    name: str
    items: list[Item]

    @property
    def required(self) -> list[Item]:
        """The lines that must be covered; all where the sheet requires none of this zone."""
        return [one for one in self.items if one.required] or self.items


@dataclass(frozen=True)
class CommonSheet:
    """The lines that every walk has, as the leading walk's sheet orders and names them. `differs` says in one
    sentence that the packs are not the same; None where they are."""

    zones: list[SheetZone]
    differs: str | None

    @property
    def items(self) -> list[Item]:
        return [item for zone in self.zones for item in zone.items]

    @property
    def required(self) -> list[Item]:
        """The lines that the sheet requires."""
        return [item for item in self.items if item.required]


def common_sheet(walks: Sequence[Walk]) -> CommonSheet:
    """The common lines; the reference leads, else the first walk. Raises InputError where there are none."""
    lead = next((one for one in walks if one.reference), walks[0])
    shared = set(lead.items).intersection(*(one.items for one in walks))
    packs = list(dict.fromkeys(map(_pack, walks)))
    if not shared:
        raise InputError(
            f"The walks have no line of a sheet in common ({listed(packs)})",
            "Compare walks that were checked with the same pack",
        )
    zones = [
        SheetZone(zone.id, zone.name, [one for one in items if one.id in shared])
        for zone in lead.zones.values()
        if (items := [one for one in lead.result.items if one.zone == zone.id])
        and any(one.id in shared for one in items)
    ]
    differs = None
    if len(packs) > 1:
        left = len(set().union(*(one.items for one in walks)) - shared)
        differs = (
            f"The walks were checked with different packs ({listed(packs)}), so only the "
            f"{counted(len(shared), 'line')} that all of them have "
            f"{'is' if len(shared) == 1 else 'are'} compared and {left} left out; names, order and what is "
            f"required are those of {_pack(lead)}."
        )
    return CommonSheet(zones, differs)


def _pack(walk: Walk) -> str:
    pack: PackIdentity = walk.result.inspection.pack
    return f"{pack.name} {pack.version}, {pack.sha256[:8]}"
