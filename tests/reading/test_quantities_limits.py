"""How a quantity stands to a limit; conversions held against published factors and against pint."""

from __future__ import annotations

from functools import lru_cache

import pint
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from spacy.language import Language
from tests.spoken import PACK, spoken

from spokenfor.models import Quantity
from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import Component, Limit
from spokenfor.reading.limits import Measured, against_limits, convert
from spokenfor.reading.manners import Manner
from spokenfor.reading.pipeline import build, read

EXAMPLE = "example, not approved data"


@lru_cache(maxsize=1)
def pipeline() -> Language:
    return build(PACK)


def judged(said: str) -> list[tuple[bool | None, bool, str | None]]:
    """`within`, `on_limit` and the limit in words of each quantity of a narration, once each."""
    statements = read(spoken(said), PACK, pipeline()).statements
    found: list[Quantity] = []
    for one in (one for statement in statements for one in statement.quantities):
        if one not in found:
            found.append(one)
    return [(one.within, one.on_limit, one.limit) for one in found]


def component(*limits: Limit) -> Component:
    tyre = load_pack(PACK).components["nose-tyre"]
    return tyre.model_copy(update={"limits": list(limits)})


PRESSURE = f"65 to 75 psi ({EXAMPLE})"
STANDS = [
    # against the pack's examples: nose tyre 65 to 75 psi and at least 1 mm, torque link at most 0.5 mm
    ("Nose tyre, seventy psi.", (True, False, PRESSURE)),
    ("Nose tyre, seventy five psi.", (True, True, PRESSURE)),
    ("Nose tyre, sixty five psi.", (True, True, PRESSURE)),
    ("Nose tyre, seventy five point one psi.", (False, False, PRESSURE)),
    ("Nose tyre, about sixty psi.", (False, False, PRESSURE)),
    ("Nose tyre, just under seventy five psi.", (True, False, PRESSURE)),
    ("Nose tyre, just over seventy five psi.", (False, False, PRESSURE)),
    ("Nose tyre, just under sixty five psi.", (False, False, PRESSURE)),
    ("Nose tyre, less than sixty psi.", (False, False, PRESSURE)),
    ("Nose tyre, less than seventy psi.", (None, False, PRESSURE)),
    ("Nose tyre, more than eighty psi.", (False, False, PRESSURE)),
    ("Nose torque link, less than half a mil of play.", (True, False, f"at most 0.5 millimeter ({EXAMPLE})")),
    ("Nose torque link, more than half a mil of play.", (False, False, f"at most 0.5 millimeter ({EXAMPLE})")),
    ("Nose torque link, at least a quarter of a mil of play.", (None, False, f"at most 0.5 millimeter ({EXAMPLE})")),
    ("Nose tyre, tread is at least two mil.", (True, False, f"at least 1 millimeter ({EXAMPLE})")),
    # converted to the unit of the limit
    ("Nose tyre, four point eight bar.", (True, False, f"65 to 75 psi (4.8 bar is 69.62 psi; {EXAMPLE})")),
    ("Nose torque link, twenty thou of play.", (False, False, f"at most 0.5 millimeter (20 thou is 0.508 millimeter; {EXAMPLE})")),
    # a distance from a limit
    ("Nose tyre is two psi below the minimum.", (False, False, f"65 to 75 psi (two psi below the minimum is 63 psi; {EXAMPLE})")),
    ("Nose tyre is two psi above the minimum.", (True, False, f"65 to 75 psi (two psi above the minimum is 67 psi; {EXAMPLE})")),
    ("Nose tyre is two psi over the limit.", (False, False, f"65 to 75 psi (two psi over the limit is 77 psi; {EXAMPLE})")),
    ("Nose tyre is two psi inside the limit.", (True, False, PRESSURE)),
    ("Nose torque link, play is within a tenth of a mil of the limit.", (True, False, f"at most 0.5 millimeter ({EXAMPLE})")),
    # not a reading of what the limit is for
    ("Nose tyre, there's a cut three mil deep.", (None, False, None)),
    ("Nose tyre has a cut in it, five mil long.", (None, False, None)),
    ("Nose tyre is five psi low.", (None, False, None)),
    ("Nose oleo, added half a litre.", (None, False, None)),
    ("Nose tyre, changed fifty hours ago.", (None, False, None)),
    # no limit in the pack
    ("Nose cone, gap is two mil.", (None, False, None)),
]  # fmt: skip


@pytest.mark.parametrize(("said", "stands"), STANDS, ids=[said for said, _ in STANDS])
def test_a_quantity_stands_to_its_limit(
    said: str, stands: tuple[bool | None, bool, str | None]
) -> None:
    assert judged(said) == [stands]


def test_each_end_of_a_range_is_held_against_the_limit() -> None:
    assert [within for within, _, _ in judged("Nose tyre, between 60 and 70 psi.")] == [False, True]


def test_a_tolerance_about_a_nominal_value() -> None:
    limits = [
        Limit(of="pressure", unit="psi", nominal=600, tolerance=50),
        Limit(of="pressure", unit="psi", nominal=1000, percent=5),
    ]
    assert [(one.minimum, one.maximum) for one in limits] == [(550, 650), (950, 1050)]


@pytest.mark.parametrize(
    "bounds",
    [
        {},
        {"nominal": 5},
        {"tolerance": 1},
        {"nominal": 5, "tolerance": 1, "percent": 2},
        {"nominal": 5, "tolerance": 1, "maximum": 9},
        {"minimum": 3, "maximum": 2},
        {"nominal": 5, "tolerance": -1},
    ],
)
def test_a_limit_without_sensible_bounds_is_refused(bounds: dict[str, float]) -> None:
    with pytest.raises(ValidationError):
        Limit.model_validate({"of": "pressure", "unit": "psi", **bounds})


@pytest.mark.parametrize(
    ("value", "unit", "to", "published"),
    [
        # exact by definition: 1 in = 25.4 mm, 1 lbf = 4.448 221 615 260 5 N, 1 bar = 100 kPa,
        # 1 gal (US) = 231 in3, 1 h = 3600 s, 0 degC = 32 degF (NIST SP 811, appendix B; from memory)
        (1, "inch", "millimeter", 25.4),
        (1, "thou", "millimeter", 0.0254),
        (1, "foot", "millimeter", 304.8),
        (1, "bar", "kilopascal", 100),
        (1, "psi", "kilopascal", 6.894757293),
        (1, "bar", "psi", 14.503773773),
        (1, "gallon", "liter", 3.785411784),
        (1, "quart", "liter", 0.946352946),
        (1, "pound", "kilogram", 0.45359237),
        (1, "foot * pound_force", "newton * meter", 1.355817948),
        (0, "degree_Celsius", "degree_Fahrenheit", 32),
        (100, "degree_Celsius", "degree_Fahrenheit", 212),
        (6, "count / minute", "count / hour", 360),
    ],
)
def test_conversions_as_published(value: float, unit: str, to: str, published: float) -> None:
    assert convert(value, unit, to) == pytest.approx(published, rel=1e-8)


def test_every_unit_of_the_pack_is_known_to_pint_and_agrees_with_it() -> None:
    """Reference library: pint, a registry of its own."""
    registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    units = sorted({one.unit for one in load_pack(PACK).units})
    for unit in units:
        for other in units:
            mine = convert(2.0, unit, other)
            theirs = registry.Quantity(2.0, unit)
            if theirs.to_root_units().units == registry.Quantity(1.0, other).to_root_units().units:
                assert mine == pytest.approx(theirs.to(other).magnitude, abs=1e-8)
            else:
                assert mine is None, (unit, other)


def test_an_angle_is_no_share_and_no_count() -> None:
    """All three have no dimension in the SI."""
    assert convert(5, "degree", "percent") is None
    assert convert(5, "count / minute", "revolutions_per_minute") is None


LENGTHS = st.sampled_from(["millimeter", "inch", "thou", "centimeter"])


@settings(deadline=None, max_examples=150, derandomize=True)
@given(st.floats(0.01, 100), LENGTHS, LENGTHS)
def test_the_unit_it_was_said_in_does_not_change_where_it_stands(
    value: float, unit: str, other: str
) -> None:
    tyre = component(Limit(of="wear", unit="millimeter", minimum=1, maximum=40))
    millimetres = convert(value, unit, "millimeter")
    elsewhere = convert(value, unit, other)
    assert millimetres is not None and elsewhere is not None
    assume(min(abs(millimetres - 1), abs(millimetres - 40)) > 1e-3)
    one = against_limits(Quantity(text="", value=value, unit=unit), tyre)
    two = against_limits(Quantity(text="", value=elsewhere, unit=other), tyre)
    assert one.within is two.within is (1 <= millimetres <= 40)


@settings(deadline=None, max_examples=200, derandomize=True)
@given(st.integers(0, 100), st.sampled_from(sorted(Manner)))
def test_what_is_said_less_exactly_is_never_judged_otherwise(value: int, manner: Manner) -> None:
    """A vaguer wording may leave open whether a number is within, but never says the opposite of every
    number that it can mean."""
    tyre = component(Limit(of="pressure", unit="psi", minimum=30, maximum=60))
    near = {Manner.JUST_UNDER: [value - 0.5], Manner.JUST_OVER: [value + 0.5]}
    below = [value - step - 0.5 for step in range(101)]
    above = [value + step + 0.5 for step in range(101)]
    meant = {
        Manner.LESS: below,
        Manner.AT_MOST: [value, *below],
        Manner.MORE: above,
        Manner.AT_LEAST: [value, *above],
    }
    said = Measured(text="", value=value, unit="psi", manner=manner)
    possible = {30 <= one <= 60 for one in meant.get(manner) or near.get(manner) or [value]}
    within = against_limits(said, tyre).within
    assert within is None or {within} == possible
    if possible == {True} or possible == {False}:
        assert within in possible


def test_the_limit_of_the_aspect_that_was_named_is_taken() -> None:
    tyre = component(
        Limit(of="wear", unit="millimeter", minimum=1),
        Limit(of="pressure", unit="millimeter", maximum=5),
    )
    named = Measured(text="", value=9, unit="millimeter", aspects=frozenset({"pressure"}))
    assert against_limits(named, tyre).within is False
    assert against_limits(Quantity(text="", value=9, unit="millimeter"), tyre).within is True


def test_what_is_handed_on_is_a_plain_quantity() -> None:
    said = Measured(text="9 psi", value=9, unit="psi", manner=Manner.ABOUT)
    for tyre in (component(), component(Limit(of="pressure", unit="psi", minimum=1))):
        assert type(against_limits(said, tyre)) is Quantity
    assert set(said.model_dump()) == set(Quantity.model_fields)
