"""A component that is denied itself: how this machine is made, or a thing that is missing. Sentences of our own."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, said


@pytest.mark.parametrize(
    ("pack", "zone", "say", "item"),
    [
        (HELICOPTER, "left-cabin-side", "No float bag this side.", "flotation-bag.left"),
        (HELICOPTER, "right-cabin-side", "No float on this side either.", "flotation-bag.right"),
        (AEROPLANE, "propeller", "It's fixed pitch, so no governor.", "propeller-governor"),
        (LORRY, "trailer-rear", "There's no tail lift.", "tail-lift"),
    ],
)
def test_how_this_machine_is_made_is_not_fitted(pack, zone, say, item):
    assert said(pack, zone, say) == {item: "not_fitted"}


@pytest.mark.parametrize("say", ["No fuel cap.", "No fuel cap here."])
def test_a_bare_denial_may_be_of_a_thing_that_is_missing(say):
    assert said(HELICOPTER, "left-cabin-side", say) == {"fuel-filler-cap.left": "named"}


def test_a_denied_fault_on_this_side_is_a_good_result():
    assert said(HELICOPTER, "left-cabin-side", "Fuel cap, no leaks this side.") == {
        "fuel-filler-cap.left": "satisfactory"
    }


@pytest.mark.parametrize(
    "say",
    [
        "The battery, pass on that one.",
        "I've skipped the battery.",
        "Battery, no reach, the stand's away.",
        "The battery is behind the panel. Leave that blank.",
    ],
)
def test_left_out_in_few_words(say):
    assert said(HELICOPTER, "nose", say) == {"battery": "not_inspected"}


@pytest.mark.parametrize(
    ("say", "items"),
    [
        ("Wheel, brake, torque link, see left.", ["main-wheel", "brake", "main-torque-link"]),
        ("Wheel and brake, see what I put for the left.", ["main-wheel", "brake"]),
        ("Torque link, as on the left.", ["main-torque-link"]),
    ],
)
def test_by_reference_to_the_other_side(say, items):
    found = said(HELICOPTER, "right-main-gear", say)
    assert found == {f"{item}.right": "by_reference" for item in items}
