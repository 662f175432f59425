"""What are items, zones, components and findings called?"""

from __future__ import annotations

from spokenfor.models import Finding, Item, Result, Statement
from spokenfor.reporting.gaps import zones_in_order
from spokenfor.reporting.wording import plain


class Labels:
    """The names that a person reads, looked up by the identifiers of one result."""

    def __init__(self, result: Result) -> None:
        self._items = {item.id: item for item in result.items}
        self._zones = {zone.id: zone.name for zone in zones_in_order(result)}

    def item_of(self, item: str | None) -> Item | None:
        """The item with this id, or None where there is none."""
        return self._items.get(item) if item else None

    def zone(self, zone: str) -> str:
        """The name of a zone."""
        return self._zones.get(zone, plain(zone))

    def thing(self, said: Finding | Statement) -> str:
        """The item's label, else position and component in words, else that none was named."""
        item = self.item_of(said.item)
        if item:
            return item.label
        words = [plain(one) for one in (said.position, said.component) if one]
        phrase = " ".join(words) or "component not named"
        return phrase[0].upper() + phrase[1:]

    def finding(self, finding: Finding) -> str:
        """A finding in one phrase: thing, condition, and that it is unplaced where it is."""
        phrase = self.thing(finding)
        if finding.condition:
            phrase += f": {plain(finding.condition)}"
        if finding.note:
            phrase += f" ({finding.note})"
        return phrase if self.item_of(finding.item) else f"{phrase} (unplaced)"
