"""Names whose last word stands once for several. The sentences are our own; ellipsis of the head in coordinated
noun phrases is common English (from memory: Huddleston & Pullum 2002, chapter 15)."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, said

AERIALS = {"vhf-aerial": "satisfactory", "transponder-aerial": "satisfactory"}
DOORS = {"cockpit-door.left": "satisfactory", "cabin-door.left": "satisfactory"}


@pytest.mark.parametrize(
    ("pack", "zone", "say", "expected"),
    [
        (HELICOPTER, "left-cabin-side", "VHF and transponder aerials are firm.", AERIALS),
        (HELICOPTER, "left-cabin-side", "Aerials. VHF, transponder, nothing loose.", AERIALS),
        (
            HELICOPTER,
            "left-cabin-side",
            "Aerials underneath, the VHF one, the transponder one, firm.",
            AERIALS,
        ),
        (HELICOPTER, "left-cabin-side", "The cockpit and cabin doors are secure.", DOORS),
        (HELICOPTER, "left-cabin-side", "Doors, crew, passenger, shut, shut.", DOORS),
        (
            HELICOPTER,
            "left-cabin-side",
            "The cockpit and cabin door windows are clean.",
            {"cockpit-door-window.left": "satisfactory", "cabin-door-window.left": "satisfactory"},
        ),
        (
            HELICOPTER,
            "left-cabin-side",
            "That's the VHF and the transponder aerial, firm.",
            AERIALS,
        ),
        (
            HELICOPTER,
            "left-cabin-side",
            "VHF aerial is solid. The transponder one's solid too.",
            AERIALS,
        ),
        (
            LORRY,
            "coupling",
            "Service and emergency air lines are connected.",
            {"service-air-line": "satisfactory", "emergency-air-line": "satisfactory"},
        ),
    ],
)
def test_one_last_word_stands_for_several(
    pack: str, zone: str, say: str, expected: dict[str, str]
) -> None:
    assert said(pack, zone, say) == expected


def test_each_has_its_own_result() -> None:
    found = said(AEROPLANE, "left-wing", "Lights. The nav one's out, the landing one works.")
    assert found == {"navigation-light.left": "defect", "landing-light": "satisfactory"}


def test_a_fault_of_the_first_is_not_lost() -> None:
    found = said(AEROPLANE, "left-wing", "The nav and landing lights are cracked.")
    assert found == {"navigation-light.left": "defect", "landing-light": "defect"}


@pytest.mark.parametrize(
    ("zone", "say"),
    [
        ("number-one-engine", "There's no fuel and oil filter's clean."),
        ("number-one-engine", "I've topped the oil and fuel filter's clean."),
    ],
)
def test_a_contraction_is_no_plural(zone: str, say: str) -> None:
    found = said(HELICOPTER, zone, say)
    assert len([one for one, status in found.items() if status == "satisfactory"]) <= 1


def test_what_no_component_here_is_called_names_nothing() -> None:
    assert "nose-wheel" not in said(
        HELICOPTER, "left-main-gear", "The nose and main wheels are fine."
    )
    assert said(HELICOPTER, "left-cabin-side", "Aerials. Tea, biscuits, all good.") == {}


def test_a_fault_of_such_a_one_is_its_own() -> None:
    found = said(HELICOPTER, "left-cabin-side", "VHF aerial, firm. The transponder one is cracked.")
    assert found == {"vhf-aerial": "satisfactory", "transponder-aerial": "defect"}


@pytest.mark.parametrize(
    ("pack", "zone", "say", "expected"),
    [
        (
            AEROPLANE,
            "right-wing",
            "Right aileron's free. The hinges are rusty.",
            {"aileron.right": "satisfactory", "aileron-hinge.right": "defect"},
        ),
        (
            LORRY,
            "left-steer-axle",
            "Rim's straight. Nuts, two of them loose.",
            {"steer-wheel.left": "satisfactory", "wheel-nut.left": "defect"},
        ),
        # What only tells where, and what a mark or a lamp is called as well, names nothing.
        (
            HELICOPTER,
            "number-one-engine",
            "Engine oil is on the line.",
            {"engine-oil-level.number-one": "satisfactory"},
        ),
    ],
)
def test_the_first_part_was_said_before(
    pack: str, zone: str, say: str, expected: dict[str, str]
) -> None:
    assert said(pack, zone, say) == expected
