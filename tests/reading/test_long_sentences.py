"""Long, flowing sentences: a fault behind praise, praise behind what looked like a fault, deeds, remarks, teaching.
All wordings are ours; what they mean is *common practice*."""

from __future__ import annotations

import pytest
from tests.reading.labelled_sentences import Labelled, got
from tests.reading.test_structure import pipeline

HELICOPTER, AEROPLANE, LORRY = "helicopter-light-twin", "aeroplane-piston-single", "goods-vehicle"

ROWS = [
    # a fault of what the pack does not know, beside the one line spoken of
    (HELICOPTER, "number-one-engine", "Exhaust is a good colour. Where the duct meets the flange, there is a crack.", "exhaust.number-one", "defect"),
    (HELICOPTER, "left-cabin-side", "The left cabin door slides nicely. The trouble is that the rear latch does not engage.", "cabin-door.left", "defect"),
    (HELICOPTER, "nose", "Landing light glass is clean, and then I switched it on and got nothing out of it.", "landing-light", "defect"),
    # the flaw is the loom's, and of nothing that was named before it
    (HELICOPTER, "number-two-engine", "No leaks on the fuel filter, but there's chafing on the loom.", "engine-harness.number-two", "defect"),
    (HELICOPTER, "number-two-engine", "No leaks on the fuel filter, but there's chafing on the loom.", "fuel-filter.number-two", "satisfactory"),
    (HELICOPTER, "left-main-gear", "The brake line is chafing on the leg.", "brake-line.left", "defect"),
    # conclusions
    (LORRY, "coupling", "The suzie lines drag over the deck, so I shall want them shortened.", "suzie-lines", "defect"),
    (HELICOPTER, "rotor-head", "The droop stops, no argument with them now.", "droop-stop", "satisfactory"),
    # put right
    (AEROPLANE, "tail", "Static wick on the elevator was bent over, I've bent it back straight.", "tail-static-wick", "put_right"),
    (HELICOPTER, "left-main-gear", "The tyre was down at seventy psi, I've blown it up to ninety.", "main-tyre.left", "put_right"),
    (AEROPLANE, "left-fuselage", "Bit of tape over the static port, peeled it off and the hole's clean.", "static-port.left", "put_right"),
    # a remark made of what is well; "noted" hides no fault
    (AEROPLANE, "right-wing", "The outer aileron hinge is tight, but it squeaks, so I'd make a remark of it.", "aileron-hinge.right", "remark"),
    (HELICOPTER, "rotor-head", "Swashplate has a crack in it. Noted.", "swashplate", "defect"),
    # not fitted, and no fault lost by it
    (HELICOPTER, "number-one-engine", "This engine has no particle separator.", "particle-separator.number-one", "not_fitted"),
    (HELICOPTER, "nose", "Nose cone. It has no cracks.", "nose-cone", "satisfactory"),
    (LORRY, "cab", "You have no cracks in the windscreen.", "windscreen", "satisfactory"),
    (LORRY, "trailer-rear", "You've no tail lift, which will spare us some time.", "tail-lift", "named"),
    # taken back in one breath; stated before a question
    (HELICOPTER, "right-main-gear", "Right tyre, ninety six psi, no, I'm on the wrong scale, it's eighty six psi.", "main-tyre.right", "satisfactory"),
    (HELICOPTER, "baggage-bay", "The baggage floor, it's clean and it's dry, and is that a dent? No, it's a shadow.", "baggage-floor", "satisfactory"),
    # taught
    (AEROPLANE, "propeller", "A nick in a propeller blade is where it cracks.", "propeller-blade", "named"),
    (HELICOPTER, "main-gearbox", "The night shift had a rumbling oil cooler blower, but that was on the other machine.", "oil-cooler-blower", "-"),
    # places
    (HELICOPTER, "stabiliser", "The stabiliser is solid, left and right.", "stabiliser.right", "satisfactory"),
    (HELICOPTER, "hydraulics", "Number one fluid level is between the lines. Number two is a finger under the bottom one.", "hydraulic-fluid-level.number-two", "defect"),
    # near to phrases that would have hidden a fault
    (LORRY, "coupling", "I'm pulling the release handle and it won't move.", "release-handle", "defect"),
    (HELICOPTER, "nose", "Nose cone, there isn't any play.", "nose-cone", "satisfactory"),
    (HELICOPTER, "rotor-head", "Swashplate has a crack and nothing else.", "swashplate", "defect"),
    (HELICOPTER, "rotor-head", "Swashplate has a crack, I've noted it.", "swashplate", "defect"),
    (HELICOPTER, "hydraulics", "Number one hydraulic pump has never had a leak.", "hydraulic-pump.number-one", "satisfactory"),
    (HELICOPTER, "left-main-gear", "Left tyre has a cut, which you don't want.", "main-tyre.left", "defect"),
    (HELICOPTER, "number-one-engine", "Cowling catches, on the last one the spring is broken.", "cowling-catch.number-one", "defect"),
    (HELICOPTER, "number-one-engine", "Loom clamp loose, gave it a tug.", "engine-harness.number-one", "defect"),
    (LORRY, "cab", "Turning the key and the horn doesn't make a sound.", "horn", "defect"),
]  # fmt: skip


@pytest.mark.parametrize(("pack", "zone", "say", "item", "verdict"), ROWS)
def test_read_as_meant(pack: str, zone: str, say: str, item: str, verdict: str) -> None:
    entry = Labelled(pack=pack, zone=zone, say=say, kind="long", items={})
    assert got(entry, pipeline(pack)).items.get(f"{zone}.{item}", "-") == verdict
