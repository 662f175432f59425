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


@pytest.mark.parametrize(
    ("pack", "zone", "say", "items"),
    [
        (
            LORRY,
            "trailer-rear",
            "Brake lights, the nearside's on and the offside's not.",
            {"brake-light.left": "satisfactory", "brake-light.right": "defect"},
        ),
        (
            HELICOPTER,
            "stabiliser",
            "Nav lights, left lit, right nothing.",
            {"position-light.left": "satisfactory", "position-light.right": "defect"},
        ),
        (
            HELICOPTER,
            "nose",
            "Windscreens, the left's cracked, the right isn't.",
            {"windscreen.left": "defect", "windscreen.right": "satisfactory"},
        ),
        (
            HELICOPTER,
            "number-one-engine",
            "Left mount weeping, right nothing.",
            {"engine-mount.number-one": "defect"},
        ),
    ],
)
def test_what_is_only_denied_of_the_other_side(pack, zone, say, items):
    assert said(pack, zone, say) == items


@pytest.mark.parametrize(
    ("say", "status"),
    [
        ("The nose door is shut. No, it's come open again.", "defect"),
        ("The nose door's locked, it's swung open though.", "defect"),
        ("The nose door is not quite home.", "defect"),
        ("The nose door is home.", "satisfactory"),
    ],
)
def test_doors_and_caps_that_are_not_home(say, status):
    assert said(HELICOPTER, "nose", say) == {"nose-compartment-door": status}
