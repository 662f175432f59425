"""Which aspect a written limit is about, by what its unit measures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from spokenfor.packs.physical_units import kind_of
from spokenfor.packs.schema import Aspect, Limit
from spokenfor.packs.sheet_limits import Measured

# Where a unit fits several aspects and nothing else decides: a least length is what is left of a wearing part,
# a greatest one is play (common practice).
_LEAST_FIRST = ("pressure", "charge", "wear", "clearance", "extension", "level", "operation")
_MOST_FIRST = ("pressure", "charge", "play", "clearance", "wear", "level", "operation")


class Measures:
    """The aspects of a vocabulary that can be measured."""

    def __init__(self, aspects: Mapping[str, Aspect]) -> None:
        self._aspects = aspects

    def limit(
        self, measured: Measured, text: str, asked: Sequence[str]
    ) -> tuple[Limit | None, str]:
        """The limit of a component that a written one means; or None, and what is wrong with it. `text` names
        the item and its checks, `asked` are the aspects that were asked for."""
        if measured.alone is not None:
            return None, "does not say whether it is the least or the most"
        if not measured.unit:
            return None, "has no unit that is known"
        kind = kind_of(measured.unit)
        fitting = [
            name
            for name, aspect in self._aspects.items()
            if kind in {kind_of(unit) for unit in aspect.measured_in}
        ]
        order = _LEAST_FIRST if measured.minimum is not None else _MOST_FIRST
        named = [name for name in fitting if name in text.split()]
        wanted = [name for name in asked if name in fitting]
        wanted.sort(key=lambda name: order.index(name) if name in order else len(order))
        first = [*named, *wanted]
        last = [name for name in order if name in fitting]
        chosen = [*first, *last, *fitting]
        if not chosen:
            return None, "is in a unit that no aspect is measured in"
        return Limit(
            of=chosen[0],
            unit=measured.unit,
            minimum=measured.minimum,
            maximum=measured.maximum,
            nominal=measured.nominal,
            tolerance=measured.tolerance,
            percent=measured.percent,
        ), ""
