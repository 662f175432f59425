"""How a measured quantity stands to a component's limits (units by pint)."""

from __future__ import annotations

import math
from functools import lru_cache

from pydantic import Field

from spokenfor.models import Quantity
from spokenfor.packs.physical_units import kind_of, unit_registry
from spokenfor.packs.schema import Component, Limit
from spokenfor.reading.manners import Bound, Lean, Manner

# What is this long or holds this much may be the size of a mark; a pressure or a voltage is not.
_SIZES = ("meter", "meter ** 3")


class Measured(Quantity):
    """A quantity with what else was said of it, which is not handed on: `manner`, how exact it is; `lean` and
    `bound`, where it is a distance from a limit; `held`, whether it is a reading of the component at all;
    `mark`, whether it is the size of a flaw; `aspects` that were named with it."""

    manner: Manner = Field(default=Manner.EXACT, exclude=True)
    lean: Lean | None = Field(default=None, exclude=True)
    bound: Bound | None = Field(default=None, exclude=True)
    held: bool = Field(default=True, exclude=True)
    mark: bool = Field(default=False, exclude=True)
    aspects: frozenset[str] = Field(default=frozenset(), exclude=True)


def against_limits(quantity: Quantity, component: Component) -> Quantity:
    """The quantity held against the component's limit of the same dimension: of an aspect named with it, or
    the first. A bound itself is within (`on_limit` says so). `within` stays None where there is no such
    limit, or where what was said ("less than 90 psi", "a crack 2 mm long") does not decide it."""
    said = quantity if isinstance(quantity, Measured) else Measured(**quantity.model_dump())
    plain = Quantity(**quantity.model_dump(include=set(Quantity.model_fields)))
    limit = _limit(said, component)
    if limit is None:
        return plain
    value = _value(said, limit)
    plain.limit = limit_text(limit, _conversion(said, value, limit))
    plain.within = _within(said, value, limit)
    exact = said.manner in (Manner.EXACT, Manner.ABOUT) and value is not None
    plain.on_limit = (
        exact
        and plain.within is True
        and any(
            math.isclose(value or 0.0, bound, rel_tol=1e-9)
            for bound in (limit.minimum, limit.maximum)
            if bound is not None
        )
    )
    return plain


def limit_text(limit: Limit, conversion: str = "") -> str:
    """A limit in words, with a conversion to its unit, saying that it is an example where it is one."""
    if limit.minimum is None:
        bounds = f"at most {limit.maximum:g}"
    elif limit.maximum is None:
        bounds = f"at least {limit.minimum:g}"
    else:
        bounds = f"{limit.minimum:g} to {limit.maximum:g}"
    notes = [conversion] * bool(conversion) + ["example, not approved data"] * limit.example
    return f"{bounds} {limit.unit}" + (f" ({'; '.join(notes)})" if notes else "")


def convert(value: float, unit: str, to: str) -> float | None:
    """A value in another unit (both as pint spells them), None where the dimensions differ."""
    if not _same_dimension(unit, to):
        return None
    return round(float(unit_registry().Quantity(value, unit).to(to).magnitude), 9)


@lru_cache(maxsize=1024)
def _same_dimension(unit: str, to: str) -> bool:
    return kind_of(unit) == kind_of(to)


def _limit(said: Measured, component: Component) -> Limit | None:
    """The limit a quantity is to be held against."""
    fitting = [limit for limit in component.limits if _same_dimension(said.unit, limit.unit)]
    named = [limit for limit in fitting if limit.of in said.aspects]
    if not said.held:
        return None
    if said.mark and kind_of(said.unit) in _SIZES:
        return named[0] if named else None
    return next(iter(named or fitting), None)


def _value(said: Measured, limit: Limit) -> float | None:
    """What was measured, in the limit's unit: the number, or the bound it was said to be a distance from."""
    if said.lean is None or said.bound is None:
        return convert(said.value, said.unit, limit.unit)
    exact = said.manner in (Manner.EXACT, Manner.ABOUT)
    bound = _bound(said.bound, said.lean, limit) if exact else None
    step = convert(said.value, said.unit, limit.unit)
    if bound is None or step is None:
        return None
    good = 1.0 if bound == limit.minimum else -1.0
    signs = {Lean.BELOW: -1.0, Lean.ABOVE: 1.0, Lean.INSIDE: good, Lean.BEYOND: -good}
    return round(bound + signs[said.lean] * step, 9)


def _bound(named: Bound, lean: Lean, limit: Limit) -> float | None:
    """The bound that was named. "The limit" is the only one there is, or the upper where something is over
    it; otherwise it may be either."""
    if named is Bound.MINIMUM or limit.maximum is None:
        return limit.minimum if named is not Bound.MAXIMUM else None
    if named is Bound.MAXIMUM or limit.minimum is None or lean is Lean.ABOVE:
        return limit.maximum
    return None


def _conversion(said: Measured, value: float | None, limit: Limit) -> str:
    if value is None or (said.lean is None and said.unit == limit.unit):
        return ""
    number = said.text if said.lean is not None else f"{said.value:g} {said.unit}"
    return f"{number} is {value:.4g} {limit.unit}"


def _within(said: Measured, value: float | None, limit: Limit) -> bool | None:
    if value is None:
        return {Lean.INSIDE: True, Lean.BEYOND: False}.get(said.lean) if said.lean else None
    low = -math.inf if limit.minimum is None else limit.minimum
    high = math.inf if limit.maximum is None else limit.maximum
    near = 1e-9 * max(1.0, abs(value))
    manner = said.manner
    if manner in (Manner.LESS, Manner.AT_MOST):
        if value < low - near or (manner is Manner.LESS and value <= low + near):
            return False
        return True if low == -math.inf and value <= high + near else None
    if manner in (Manner.MORE, Manner.AT_LEAST):
        if value > high + near or (manner is Manner.MORE and value >= high - near):
            return False
        return True if high == math.inf and value >= low - near else None
    if manner is Manner.JUST_UNDER:
        return low + near < value <= high + near
    if manner is Manner.JUST_OVER:
        return low - near <= value < high - near
    return low - near <= value <= high + near
