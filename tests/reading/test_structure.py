"""Rules of structure that hold of any words: short names, stops that end nothing, what is left over, takings back."""

from __future__ import annotations

from functools import lru_cache

import pytest
from spacy.language import Language
from tests.reading.labelled_sentences import Labelled, got

from spokenfor.reading.pipeline import build

HELICOPTER, AEROPLANE, LORRY = "helicopter-light-twin", "aeroplane-piston-single", "goods-vehicle"


@lru_cache(maxsize=3)
def pipeline(pack: str) -> Language:
    return build(pack)


def said(pack: str, zone: str, say: str) -> dict[str, str]:
    """What becomes of the lines of a zone, by component (and position, where it has one)."""
    entry = Labelled(pack=pack, zone=zone, say=say, kind="structure", items={})
    return {
        item.partition(".")[2]: verdict
        for item, verdict in got(entry, pipeline(pack)).items.items()
    }


SHORT_NAMES = [
    (
        HELICOPTER,
        "nose",
        "Pitot covers are off, tubes are clear.",
        "pitot-tube.left",
        "satisfactory",
    ),
    (
        HELICOPTER,
        "tail-rotor",
        "Tail gearbox is dry, level's good.",
        "tail-gearbox-oil-level",
        "satisfactory",
    ),
    (AEROPLANE, "tail", "Rudder's free, hinges are good.", "rudder-hinge", "satisfactory"),
    (LORRY, "engine-bay", "Oil's on the full mark.", "engine-oil-level", "satisfactory"),
    (LORRY, "left-trailer-axles", "Back tyre's flat.", "trailer-tyre.left-aft", "defect"),
    (AEROPLANE, "right-wing", "Flap's down, no cracks.", "wing-tie-down.right", None),
    (
        HELICOPTER,
        "tail-rotor",
        "A little play in one link, on the gauge.",
        "fire-bottle-gauge",
        None,
    ),
]


@pytest.mark.parametrize(("pack", "zone", "say", "item", "verdict"), SHORT_NAMES)
def test_a_short_name_means_what_is_here(
    pack: str, zone: str, say: str, item: str, verdict: str | None
) -> None:
    assert said(pack, zone, say).get(item) == verdict


STOPS = [
    ("front", "Grille's on tight no. Damage, that's good.", "grille", "satisfactory"),
    (
        "left-steer-axle",
        "Wheel nuts all there none. Loose, pointers lined up.",
        "wheel-nut.left",
        "satisfactory",
    ),
    (
        "left-steer-axle",
        "Hub's dry and the brake hose isn't. Rubbing anywhere.",
        "brake-hose.left",
        "satisfactory",
    ),
    (
        "left-steer-axle",
        "Brake hose, any chafing, no. Leaks, a bad one.",
        "brake-hose.left",
        "defect",
    ),
    ("left-steer-axle", "Is the brake hose tight? No. Loose.", "brake-hose.left", "defect"),
    (
        "front",
        "Left indicator's flashing right. Indicator's not working.",
        "front-indicator.right",
        "defect",
    ),
]


@pytest.mark.parametrize(("zone", "say", "item", "verdict"), STOPS)
def test_a_stop_that_ends_nothing_parts_nothing(
    zone: str, say: str, item: str, verdict: str
) -> None:
    assert said(LORRY, zone, say)[item] == verdict


TAKEN_BACK = [
    ("hydraulics", "Number one pump, no, number two pump is leaking.", "hydraulic-pump.number-two", "defect"),
    ("main-gearbox", "Oil level's low. No, hang on, I stood at an angle, it's between the marks.", "main-gearbox-oil-level", "satisfactory"),
    ("tail-rotor", "The beacon isn't working. No, still nothing.", "anti-collision-light", "defect"),
    ("rotor-head", "There's a bit of residue on the swashplate, I'll wipe it off later.", "swashplate", "remark"),
    ("main-gearbox", "Oil cooler's blocked, sorry, not the cooler, the blower, the blower's jammed.", "oil-cooler-blower", "defect"),
]  # fmt: skip


@pytest.mark.parametrize(("zone", "say", "item", "verdict"), TAKEN_BACK)
def test_what_is_taken_back_and_what_is_not(zone: str, say: str, item: str, verdict: str) -> None:
    assert said(HELICOPTER, zone, say)[item] == verdict


FOUND = [
    "I've found a crack. It's in the exhaust.",
    "Got a crack in the exhaust that needs writing up.",
    "A crack here in the exhaust, means we're grounded.",
    "There were a couple of cracks in the exhaust.",
    "There's a spot where the exhaust is cracked.",
    "Where it goes through the clip the exhaust is cracked.",
    "The exhaust's cracked, it would have been fine last week.",
]


@pytest.mark.parametrize("say", FOUND)
def test_a_finding_is_no_example(say: str) -> None:
    """However it is put, a fault that somebody has found is not read as a thing that might be."""
    entry = Labelled(zone="number-one-engine", say=say, kind="structure", items={})
    read = got(entry, pipeline(HELICOPTER))
    assert [reading.value for word, reading in read.flagged if word.startswith("crack")] == [
        "present"
    ]


TOGETHER = [
    ("nose", "Both windscreens are clean with the exception of a crack in the right one.",
     {"windscreen.left": "satisfactory", "windscreen.right": "defect"}),
    ("left-cabin-side", "VHF aerial is firmly attached, and so is the transponder aerial.",
     {"vhf-aerial": "satisfactory", "transponder-aerial": "satisfactory"}),
    ("hydraulics", "Of the two bypass indicators, number one is flush and number two has popped.",
     {"hydraulic-filter-bypass-indicator.number-one": "satisfactory",
      "hydraulic-filter-bypass-indicator.number-two": "defect"}),
    ("hydraulics", "Number two reservoir is a bit down, just under the line, needs topping up.",
     {"hydraulic-reservoir.number-two": "defect"}),
    ("rotor-head", "The mast, the rotor hub and the control rods show neither corrosion nor cracks.",
     {"mast": "satisfactory", "rotor-hub": "satisfactory", "main-rotor-control-rod": "satisfactory"}),
    ("left-main-gear", "Main tyre is a little worn, but there's tread left and it's acceptable.",
     {"main-tyre.left": "remark"}),
    ("cabin", "Fire extinguisher's charged, first aid kit is sealed and in date.",
     {"fire-extinguisher": "satisfactory", "first-aid-kit": "satisfactory"}),
]  # fmt: skip


@pytest.mark.parametrize(("zone", "say", "lines"), TOGETHER)
def test_what_holds_of_which(zone: str, say: str, lines: dict[str, str]) -> None:
    assert said(HELICOPTER, zone, say) == lines


NO_TICKS = [
    (AEROPLANE, "left-main-gear", "No oleo is fitted on the left main gear."),
    (AEROPLANE, "left-wing", "No cap is on the filler."),
    (LORRY, "trailer-rear", "No lights on the left."),
]


@pytest.mark.parametrize(("pack", "zone", "say"), NO_TICKS)
def test_what_is_denied_is_no_tick(pack: str, zone: str, say: str) -> None:
    assert "satisfactory" not in said(pack, zone, say).values()


@pytest.mark.parametrize(
    ("say", "expected"),
    [
        (
            "Manifold on one is fine. Manifold on two is weeping.",
            {
                "hydraulic-manifold.number-one": "satisfactory",
                "hydraulic-manifold.number-two": "defect",
            },
        ),
        (
            "Right servo's wet at the bottom. Left and forward, dry.",
            {
                "main-rotor-servo.right": "defect",
                "main-rotor-servo.left": "satisfactory",
                "main-rotor-servo.forward": "satisfactory",
            },
        ),
        (
            "Servo, left and right, dry.",
            {"main-rotor-servo.left": "satisfactory", "main-rotor-servo.right": "satisfactory"},
        ),
        ("Pump, play on one of them.", {}),
    ],
)
def test_places_said_behind_a_name_or_as_a_pair(say: str, expected: dict[str, str]) -> None:
    assert said(HELICOPTER, "hydraulics", say) == expected


@pytest.mark.parametrize("say", ["Chip plug, not done.", "Chip plug, panel's still on. Not done."])
def test_what_was_not_done_is_no_tick(say: str) -> None:
    assert set(said(HELICOPTER, "main-gearbox", say).values()) == {"not_inspected"}


THREE = {
    "hub.left": "satisfactory",
    "brake-hose.left": "satisfactory",
    "shock-absorber.left": "satisfactory",
}


@pytest.mark.parametrize(
    ("say", "expected"),
    [
        ("Hub, brake hose, shock absorber are sound.", THREE),
        ("Hub, brake hose, shock absorber all sound.", THREE),
        (
            "All dry, hub, brake hose, shock absorber, but the brake chamber is cracked.",
            {**THREE, "brake-chamber.left": "defect"},
        ),
        ("Hub, brake hose, shock absorber, all dry bar one union, weeping.", THREE),
        (
            "Hub, brake hose and shock absorber are all good, bar the hose, and that's cracked.",
            {**THREE, "brake-hose.left": "defect"},
        ),
        ("The hub is good apart from the lip, which is cracked.", {"hub.left": "defect"}),
    ],
)
def test_an_exception_is_no_fault_of_the_list(say: str, expected: dict[str, str]) -> None:
    assert said(LORRY, "left-drive-axle", say) == expected


def test_a_fault_of_something_in_a_list_is_kept_without_a_line() -> None:
    say = "Hub, brake hose, shock absorber, all dry bar one union, weeping."
    entry = Labelled(pack=LORRY, zone="left-drive-axle", say=say, kind="structure", items={})
    assert got(entry, pipeline(LORRY)).defects == {None}


def test_not_the_third_leaves_two_as_they_were() -> None:
    say = "Servos, left and right good. Not the forward, that's leaking."
    assert said(HELICOPTER, "hydraulics", say) == {
        "main-rotor-servo.left": "satisfactory",
        "main-rotor-servo.right": "satisfactory",
        "main-rotor-servo.forward": "defect",
    }
