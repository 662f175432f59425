"""Sentences that hold a good word and are no tick, and what they are instead. Our own sentences, *common practice*
of spoken English: quantifiers, exceptions, hearsay, wishes, taking back, a question and its answer."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, said

LEFT = "main-rotor-servo.left"
HYDRAULICS = [
    ("Two of the three servos are dry.", None),
    ("Most of the servos are dry.", None),
    ("Some servos are dry.", None),
    ("Half the servos are dry.", None),
    ("Two servos are dry.", None),
    ("A couple of the servos are dry.", None),
    ("All but one of the servos are dry.", None),
    ("All three servos are dry.", "satisfactory"),
    ("Three servos, all dry.", "satisfactory"),
    ("All the servos bar the left one are dry.", "defect"),
    ("Servos, bar the left one, all dry.", "defect"),
    ("All the servos except the left servo are dry.", "defect"),
    ("The left servo is dry, bar the bottom seal.", "defect"),
    ("The left servo is dry except underneath.", "defect"),
    ("The left servo looks dry but isn't.", "defect"),
    ("The left servo is nearly dry.", "defect"),
    ("The left servo isn't the one that's dry.", "defect"),
    ("Left servo, it's good for nothing.", "defect"),
    ("Left servo was fine until now.", "defect"),
    ("Left servo, is it dry, no.", "defect"),
    ("Left servo, is it dry, yes.", "satisfactory"),
    ("Left servo, any leaks, yes.", "defect"),
    ("Is the left servo dry, no.", "defect"),
    ("I wish the left servo was dry.", "named"),
    ("I assume the left servo is dry.", "named"),
    ("Left servo is dry, or it was this morning.", "named"),
    ("Left servo was reported dry.", "named"),
    ("Pretend the left servo is dry.", "named"),
    ("Left servo, fine day for it.", "named"),
    ("Left servo has been good to us for years.", "named"),
]


@pytest.mark.parametrize(("say", "verdict"), HYDRAULICS)
def test_the_left_servo_is_ticked_only_where_somebody_says_so(
    say: str, verdict: str | None
) -> None:
    assert said(HELICOPTER, "hydraulics", say).get(LEFT) == verdict


OTHERS = [
    (LORRY, "trailer-rear", "Neither tail light works.", "tail-light.left", "defect"),
    (LORRY, "trailer-rear", "Neither of the tail lights is lit.", "tail-light.right", "defect"),
    (LORRY, "trailer-rear", "None of the tail lights are on.", "tail-light.left", "defect"),
    (LORRY, "trailer-rear", "No tail lights working.", "tail-light.left", "defect"),
    (LORRY, "trailer-rear", "No, tail lights working.", "tail-light.left", "satisfactory"),
    (
        LORRY,
        "trailer-rear",
        "Neither tail light's cracked, both working.",
        "tail-light.left",
        "satisfactory",
    ),
    (LORRY, "left-steer-axle", "Nine of the ten wheel nuts are tight.", "wheel-nut.left", "defect"),
    (LORRY, "left-steer-axle", "Most of the wheel nuts are tight.", "wheel-nut.left", "defect"),
    (LORRY, "left-steer-axle", "All ten wheel nuts are tight.", "wheel-nut.left", "satisfactory"),
    (LORRY, "left-steer-axle", "Hub's hot, too hot to touch.", "hub.left", "defect"),
    (LORRY, "left-steer-axle", "Mudguard's held on with string.", "mudguard.left", "defect"),
    (LORRY, "left-steer-axle", "Spring, there's a leaf gone.", "leaf-spring.left", "defect"),
    (
        HELICOPTER,
        "left-main-gear",
        "Brake line, well clipped, clear of the leg, no damp patches.",
        "main-gear-leg.left",
        None,
    ),
    (
        HELICOPTER,
        "left-main-gear",
        "The brake hose is rubbing on the leg.",
        "main-gear-leg.left",
        None,
    ),
    (LORRY, "left-steer-axle", "Wheel nuts, all but one tight.", "wheel-nut.left", "defect"),
    (LORRY, "left-steer-axle", "Wheel nuts tight bar two.", "wheel-nut.left", "defect"),
    (LORRY, "coupling", "Release handle's almost home.", "release-handle", "defect"),
    (HELICOPTER, "nose", "Is the landing light working, anybody", "landing-light", "looked_for"),
    (LORRY, "cab", "Seat belt locks, doesn't it, you sat in here.", "seat-belt", "looked_for"),
    (LORRY, "cab", "The driver says the tachograph is working.", "tachograph", "named"),
    (LORRY, "engine-bay", "Presumably the alternator's tight.", "alternator", "named"),
    (
        LORRY,
        "engine-bay",
        "Fan belt, there's a shield over it, I can't see it and I can't feel it.",
        "drive-belt",
        "not_inspected",
    ),
    (
        LORRY,
        "trailer-rear",
        "Indicators. Left, flashing. Right, nothing.",
        "rear-indicator.right",
        "defect",
    ),
    (LORRY, "cab", "Left mirror's cracked, same for the right.", "mirror.right", "defect"),
    (LORRY, "front", "Left headlight works, not so the right one.", "headlight.right", "defect"),
    (
        LORRY,
        "front",
        "Left headlight works, so does the right one.",
        "headlight.right",
        "by_reference",
    ),
    (
        LORRY,
        "front",
        "Left headlight's out, nor does the right one work.",
        "headlight.right",
        "defect",
    ),
    (HELICOPTER, "nose", "Battery should be above 24 volts, it's reading 21.", "battery", "defect"),
    (LORRY, "left-steer-axle", "I've got the gauge in on the lining. Eleven mil.", "gauges", None),
]


@pytest.mark.parametrize(
    ("pack", "zone", "say", "item", "verdict"), OTHERS, ids=[one[2] for one in OTHERS]
)
def test_denied_counted_or_only_touched(
    pack: str, zone: str, say: str, item: str, verdict: str | None
) -> None:
    assert said(pack, zone, say).get(item) == verdict


def test_both_doors_are_two_lines_where_the_zone_has_two() -> None:
    doors = {"cabin-door.right": "satisfactory", "cockpit-door.right": "satisfactory"}
    assert said(HELICOPTER, "right-cabin-side", "Both doors are shut.") == doors
    bad = dict.fromkeys(doors, "defect")
    assert said(HELICOPTER, "right-cabin-side", "Neither door will shut.") == bad
    lights = said(AEROPLANE, "right-wing", "Both lights are working.")
    assert lights == {
        "navigation-light.right": "satisfactory",
        "strobe-light.right": "satisfactory",
    }


@pytest.mark.parametrize(
    "say", ["All the lights are working.", "Lights are on.", "All lights lit."]
)
def test_what_is_not_counted_may_leave_some_out(say: str) -> None:
    assert "satisfactory" not in said(LORRY, "trailer-rear", say).values()


PLACED = [
    ("hydraulics", "Pipes, number one. Nothing touching.", {"hydraulic-line.number-one"}),
    ("stabiliser", "Stabiliser, left, right, tight.", {"stabiliser.left", "stabiliser.right"}),
    ("stabiliser", "Stab. Port, starboard. Doesn't give.", {"stabiliser.left", "stabiliser.right"}),
    (
        "number-two-engine",
        "Cowl, intake, separator. No cracks, no debris.",
        {
            "engine-cowling.number-two",
            "engine-intake.number-two",
            "particle-separator.number-two",
        },
    ),
    (
        "number-one-engine",
        "Fuel control, governor, linkage, no bother.",
        {
            "fuel-control-unit.number-one",
            "engine-governor.number-one",
            "engine-control-linkage.number-one",
        },
    ),
]


@pytest.mark.parametrize(("zone", "say", "lines"), PLACED)
def test_places_and_lists_behind_bare_names(zone: str, say: str, lines: set[str]) -> None:
    assert said(HELICOPTER, zone, say) == dict.fromkeys(lines, "satisfactory")


@pytest.mark.parametrize(
    "named", ["pressure", "tread", "condition", "security", "tread, two", "pressure, sixty"]
)
def test_what_is_to_be_stated_is_no_result_by_its_name(named: str) -> None:
    """A number with no unit is judged by nobody, and an aspect alone says nothing."""
    found = said("goods-vehicle", "left-steer-axle", f"Steer tyre {named}.")
    assert set(found.values()) == {"named"}
