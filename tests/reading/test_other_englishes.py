"""Denials, purposes, counts and measures as they are said in several Englishes. The sentences are our own; negative
concord, Scots -nae and "is not there" are spoken English (from memory: Huddleston & Pullum 2002, chapter 9;
Dictionaries of the Scots Language)."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, said

GOOD, BAD = "satisfactory", "defect"


@pytest.mark.parametrize(
    ("say", "verdict"),
    [
        ("Rudder pedals, there ain't no slop in them.", GOOD),
        ("The rudder pedals don't have no slop.", GOOD),
        ("Rudder pedals, no slop.", GOOD),
        ("I can't say there's no slop in the rudder pedals.", BAD),
        ("Rudder pedals, nae slop.", GOOD),
        ("Rudder pedals, slop is not there at all.", GOOD),
        ("Rudder pedals, there's a wee bit of slop.", BAD),
    ],
)
def test_denials_that_agree_are_one(say: str, verdict: str) -> None:
    assert said(AEROPLANE, "cabin", say) == {"rudder-pedals": verdict}


def test_what_is_not_there_behind_a_state_is_missing() -> None:
    found = said(AEROPLANE, "left-wing", "Static wick on the left, broken, is not there.")
    assert set(found.values()) == {BAD}


@pytest.mark.parametrize(
    ("say", "found"),
    [
        ("I'm looking for cuts in the tyre and cracks in the rim.", False),
        ("I'm looking for cuts in the tyre. There's a crack in the rim.", True),
        ("I'm going round the tyre for cuts and flat spots.", False),
        ("Take a gander at that bulge in the tyre.", True),
    ],
)
def test_a_purpose_goes_on_behind_and(say: str, found: bool) -> None:
    assert (BAD in said(HELICOPTER, "nose-gear", say).values()) is found


@pytest.mark.parametrize(
    ("say", "verdict"),
    [
        ("Left fuel level full, filled last night.", GOOD),
        ("Left fuel level was full last night.", "named"),
    ],
)
def test_a_deed_of_the_past_explains_what_is_well(say: str, verdict: str) -> None:
    assert said(AEROPLANE, "left-wing", say) == {"fuel-level.left": verdict}


@pytest.mark.parametrize(
    ("say", "verdict"),
    [
        ("Wheel nuts, ten of ten.", GOOD),
        ("Wheel nuts, nine of ten.", BAD),
        ("Wheel nuts, thirteen tight out of fourteen.", BAD),
        ("Should be ten wheel nuts and there's ten.", GOOD),
        ("Should be ten wheel nuts and there's nine.", BAD),
        ("Wheel nuts, nine tight, one spins.", BAD),
    ],
)
def test_counts_out_of_so_many(say: str, verdict: str) -> None:
    found = said(LORRY, "left-steer-axle", say)
    assert found == {"wheel-nut.left": verdict}


def test_what_was_measured_is_not_what_should_be() -> None:
    found = said(LORRY, "cab", "Low air warning sounds at two bar, should be four.")
    assert found == {"low-air-warning": BAD}
    found = said(LORRY, "cab", "Low air warning sounds at four bar, should be four.")
    assert found == {"low-air-warning": GOOD}


@pytest.mark.parametrize("state", ["is lit", "is flashing", "has come on", "has popped"])
def test_a_pop_out_indicator_is_no_lamp(state: str) -> None:
    found = said(HELICOPTER, "hydraulics", f"Number one filter bypass indicator {state}.")
    assert found == {"hydraulic-filter-bypass-indicator.number-one": BAD}


@pytest.mark.parametrize(
    "say",
    [
        "The left steer tyre has a cut, somebody needs to check it is within limits.",
        "The left steer tyre has a cut, but it's okay to drive back for repair.",
        "The left steer tyre has a cut, no action needed, but I don't agree.",
    ],
)
def test_what_softens_nothing(say: str) -> None:
    assert said(LORRY, "left-steer-axle", say) == {"steer-tyre.left": BAD}


def test_a_wipe_mends_no_crack() -> None:
    assert said(LORRY, "cab", "Windscreen cracked, gave it a wipe.") == {"windscreen": BAD}
