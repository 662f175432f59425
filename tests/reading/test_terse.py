"""Terse and run-on narrators: names behind what is said, places in turn, a fault and its deed in pieces.
The sentences are our own, *common practice* of spoken inspection."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, pipeline, said
from tests.spoken import spoken

from spokenfor.reading.pipeline import read


def test_places_told_in_turn_are_lines_of_what_was_named() -> None:
    found = said(HELICOPTER, "hydraulics", "Pumps. One, dry. Two, seeping at the flange.")
    assert found == {
        "hydraulic-pump.number-one": "satisfactory",
        "hydraulic-pump.number-two": "defect",
    }


def test_places_listed_first_share_what_follows() -> None:
    found = said(HELICOPTER, "hydraulics", "Servos, left, right, forward. Dry, dry, dry.")
    assert set(found.values()) == {"satisfactory"}


def test_one_alone_may_be_any_of_them() -> None:
    found = said(HELICOPTER, "hydraulics", "Pumps. One is weeping.")
    assert "satisfactory" not in found.values()


@pytest.mark.parametrize(
    "say",
    [
        "Tight as a drum, that curtain.",
        "Tight as a drum, that curtain, and the side guard is bent.",
        "Tight as a drum so that's the curtain.",
    ],
)
def test_what_is_said_goes_to_the_name_behind_it(say: str) -> None:
    found = said(LORRY, "left-trailer-side", say)
    assert found["curtain.left"] == "satisfactory"
    assert found.get("side-guard.left", "defect") == "defect"


def test_a_verb_on_a_name_takes_it_out_of_the_list_before_the_next() -> None:
    say = "The attachment bolts have their marks in one piece; the spat is loose at a screw."
    found = said(AEROPLANE, "right-main-gear", say)
    assert found["main-wheel-fairing.right"] == "defect"
    assert found.get("main-gear-attachment.right") != "defect"


SET_RIGHT = [
    ("Exhaust clamp loose, quarter turn, tight.", "put_right"),
    ("Exhaust clamp loose, left side, tight.", "defect"),
    ("Exhaust clamp loose, the rest, tight.", "defect"),
    ("Exhaust clamp cracked, quarter turn, tight.", "defect"),
    ("Exhaust clamp loose, quarter turn, dry.", "defect"),
]


@pytest.mark.parametrize(("say", "verdict"), SET_RIGHT)
def test_only_the_contrary_of_a_fault_behind_a_deed_sets_it_right(say: str, verdict: str) -> None:
    assert said(HELICOPTER, "number-one-engine", say) == {"exhaust.number-one": verdict}


NO_FAULT = [
    (AEROPLANE, "left-fuselage", "Its window has neither crazing nor cracks.", "cabin-window"),
    (AEROPLANE, "tail", "Rudder, nowhere is there a crack.", "rudder"),
    (HELICOPTER, "tail-boom-left", "Control rod, straight, free.", "tail-rotor-control-rod"),
    (LORRY, "coupling", "Suzies hung up out of the way.", "suzie-lines"),
    (LORRY, "left-drive-axle", "The hub is dry, the road dirt came off on my finger.", "hub"),
]


@pytest.mark.parametrize(("pack", "zone", "say", "component"), NO_FAULT)
def test_words_that_once_made_a_fault(pack: str, zone: str, say: str, component: str) -> None:
    found = said(pack, zone, say)
    assert any(item.startswith(component) for item in found)
    assert "defect" not in found.values()


FAULTS = [
    (
        AEROPLANE,
        "tail",
        "The rudder has a dent that would hold an egg.",
    ),
    (LORRY, "trailer-rear", "The number plate light's dead."),
    (HELICOPTER, "number-one-engine", "The exhaust is blowing just by the clamp."),
]


@pytest.mark.parametrize(("pack", "zone", "say"), FAULTS)
def test_words_in_which_a_fault_was_missed(pack: str, zone: str, say: str) -> None:
    assert "defect" in said(pack, zone, say).values()


def test_they_are_no_fault_and_no_tick_elsewhere() -> None:
    assert said(LORRY, "front", "Dead level, the front bumper.") == {"front-bumper": "satisfactory"}
    say = "That's all there is left on the front bumper."
    assert said(LORRY, "front", say) == {"front-bumper": "named"}


def test_what_the_last_sentence_announced_is_of_the_zone_that_follows() -> None:
    """The words that told the zone were misheard; the first thing named tells it."""
    heard = "Number one engine. Exhaust, no cracks. Now the space. Number one system. Reservoir is dry. "
    reading = read(spoken(heard + "Lines are secure."), HELICOPTER, pipeline(HELICOPTER))
    found = {one.item for one in reading.statements if one.component == "hydraulic-line"}
    assert found == {"hydraulics.hydraulic-line.number-one"}


@pytest.mark.parametrize(
    ("say", "verdict"),
    [
        ("The inspection panel's screws, the near one is in, the far one isn't.", "defect"),
        ("The inspection panel's screws, the near one is in, the far one is.", "satisfactory"),
    ],
)
def test_another_of_them_is_not_as_the_first(say: str, verdict: str) -> None:
    found = said(AEROPLANE, "right-wing", say)
    assert found == {"wing-access-panel.right": verdict}


@pytest.mark.parametrize(
    ("say", "verdict"),
    [
        ("Snapped right through, so there's a front bumper to order.", "defect"),
        ("Snapped right through, so now the front bumper.", "named"),
        ("Snapped right through, so I'll do the front bumper.", "named"),
    ],
)
def test_what_is_drawn_from_a_fault_names_what_has_it(say: str, verdict: str) -> None:
    assert said(LORRY, "front", say)["front-bumper"] == verdict


def test_what_a_thing_has_of_its_own_is_no_line_elsewhere() -> None:
    found = said(
        AEROPLANE, "right-fuselage", "The locator beacon is armed, and its battery is good."
    )
    assert not any(item.startswith("battery") for item in found)


@pytest.mark.parametrize(
    ("say", "status"),
    [
        ("Mast, nut, lock plate, yep.", "satisfactory"),
        ("Mast, tick.", "satisfactory"),
        ("Mast, rotor hub, two ticks.", "satisfactory"),
        ("The mast, yeah, that's the new one.", "named"),
        ("So we do the mast first, yeah.", "named"),
        ("Mast, looking for cracks, yep.", "looked_for"),
        ("Mast, nothing.", "named"),
        ("Mast, cracked, yep.", "defect"),
    ],
)
def test_a_nod_behind_bare_names_is_a_result_to_listen_to(say: str, status: str) -> None:
    reading = read(spoken(say), HELICOPTER, pipeline(HELICOPTER))
    found = [one for one in reading.statements if one.item == "rotor-head.mast"]
    assert [one.verdict.value for one in found][-1:] == [status]
    assert all(one.unlisted for one in found if one.verdict.value == "satisfactory")
