"""Counts against what is due, names alone before a full stop, and one of several that were named."""

from __future__ import annotations

import pytest
from tests.reading.test_terse import HELICOPTER, LORRY, said

COUNTS = [
    ("Main wheel, bolts, nine of nine.", "satisfactory"),
    ("Main wheel, bolts, eight of nine.", "defect"),
    ("There should be nine bolts in the main wheel, I count nine.", "satisfactory"),
    ("There should be nine bolts in the main wheel, I count eight.", "defect"),
]


@pytest.mark.parametrize(("say", "verdict"), COUNTS)
def test_too_few_is_a_fault_and_all_is_none(say: str, verdict: str) -> None:
    assert said(HELICOPTER, "left-main-gear", say)["main-wheel.left"] == verdict


ALONE = [
    ("Rims, hub, mudguard. Nothing cracked.", {"hub.left": "satisfactory"}),
    ("Hub. Turns. Runs true.", {"hub.left": "satisfactory"}),
    # What begins with "the" names something of its own, and "nothing" may be what a dead part does.
    ("Hub. The blanket is good.", {"hub.left": "named"}),
    ("Hub. Nothing.", {"hub.left": "named"}),
]


@pytest.mark.parametrize(("say", "lines"), ALONE)
def test_a_full_stop_behind_names_alone_parts_nothing(say: str, lines: dict[str, str]) -> None:
    found = said(LORRY, "left-drive-axle", say)
    assert {item: found[item] for item in lines} == lines


ONE_OF_THEM = [
    ("Servos, left one, dry, right one, dry.", {"left", "right"}),
    ("Servos. Forward, dry. Left, dry.", {"forward", "left"}),
    ("Servos left one dry right one dry.", {"left", "right"}),
    ("Servos, left, right, forward. Dry, dry, dry.", {"left", "right", "forward"}),
]


@pytest.mark.parametrize(("say", "places"), ONE_OF_THEM)
def test_what_is_said_of_one_of_several_ticks_no_other(say: str, places: set[str]) -> None:
    found = said(HELICOPTER, "hydraulics", say)
    ticked = {item for item, verdict in found.items() if verdict == "satisfactory"}
    assert ticked == {f"main-rotor-servo.{place}" for place in places}


EXCEPTED = [
    ("Brake lights all good apart from the left one.", "brake-light.left"),
    (
        "Tail lights, indicators, brake lights, all on bar the offside brake light.",
        "brake-light.right",
    ),
    ("All lights on bar the nearside tail light.", "tail-light.left"),
]


@pytest.mark.parametrize(("say", "item"), EXCEPTED)
def test_what_is_excepted_from_a_good_result_is_not_ticked_by_it(say: str, item: str) -> None:
    assert said(LORRY, "trailer-rear", say)[item] == "defect"


def test_what_it_does_not_touch_is_not_ticked() -> None:
    say = "Brake hose has a good gap all round, it's not touching the leg."
    found = said(HELICOPTER, "left-main-gear", say)
    assert found.get("main-gear-leg.left", "named") == "named"


def test_what_nobody_could_see_or_tell_is_no_tick() -> None:
    for say in (
        "Battery, there's a duct over it, can't see a thing.",
        "Battery. No idea.",
        "Battery, I can't see any of it.",
    ):
        assert "satisfactory" not in said(HELICOPTER, "nose", say).values()
