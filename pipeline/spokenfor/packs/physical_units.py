"""Physical units, as pint spells them, and what they measure."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry


@lru_cache(maxsize=1)
def unit_registry() -> UnitRegistry[float]:
    """The units that pint defines, read once: it takes a tenth of a second."""
    from pint import UnitRegistry

    return UnitRegistry(autoconvert_offset_to_baseunit=True)


@lru_cache(maxsize=500)
def kind_of(unit: str) -> str | None:
    """What a unit measures: its root units, which tell a share, an angle and a count apart. None for what is no
    unit."""
    from pint import UndefinedUnitError

    try:
        return str(unit_registry().Quantity(1.0, unit).to_root_units().units)
    except (UndefinedUnitError, ValueError, AttributeError, TypeError):
        return None
