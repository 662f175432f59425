"""A part named with its whole behind it is that part, and neither the whole nor the part of another thing.
Sentences of our own."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import AEROPLANE, HELICOPTER, said


@pytest.mark.parametrize(
    ("pack", "zone", "say", "items"),
    [
        (AEROPLANE, "tail", "The cables to the rudder are tight.", {"rudder-linkage"}),
        (AEROPLANE, "left-wing", "The hinges on the aileron are tight.", {"aileron-hinge.left"}),
        (AEROPLANE, "left-wing", "The hinge of the flap is tight.", {"flap-hinge.left"}),
        (HELICOPTER, "tail-rotor", "The light on the tail is on.", {"tail-light"}),
        (AEROPLANE, "tail", "The tab's rod is greased.", {"trim-tab-linkage"}),
        (HELICOPTER, "nose", "Nose door is locked.", {"nose-compartment-door"}),
    ],
)
def test_the_part_gets_what_is_said(pack, zone, say, items):
    found = said(pack, zone, say)
    assert {item for item, verdict in found.items() if verdict == "satisfactory"} == items


def test_what_lies_on_a_thing_is_not_how_much_of_it_there_is():
    """There is an engine oil level on this sheet; oil on the engine is something else."""
    found = said(AEROPLANE, "left-engine-side", "There's oil on the engine.")
    assert "oil-level" not in found


def test_a_part_that_the_zone_does_not_have_is_left_alone():
    found = said(AEROPLANE, "tail", "The hinges on the aileron are tight.")
    assert not any(item.startswith("aileron-hinge") for item in found)
