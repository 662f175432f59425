"""What the rest is, who is meant by a number alone, what answers a question, and what is no name. The sentences
are our own, *common practice* of spoken inspection."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import HELICOPTER, LORRY, said

SAID = [
    # Questions that speakers answer themselves.
    (
        HELICOPTER,
        "nose-gear",
        "I've got my knee against the nose wheel and is there any play in it? No, there isn't.",
        {"nose-wheel": "satisfactory"},
    ),
    (
        HELICOPTER,
        "tail-boom-left",
        "Hanger bearings, are they rough? They are not.",
        {"hanger-bearing": "satisfactory"},
    ),
    (
        HELICOPTER,
        "tail-boom-left",
        "Hanger bearings, are they rough? They are.",
        {"hanger-bearing": "defect"},
    ),
    (
        HELICOPTER,
        "nose-gear",
        "I want to know if the actuator's wet, and it's dry.",
        {"nose-gear-actuator": "satisfactory"},
    ),
    # What was only thought.
    (
        HELICOPTER,
        "nose-gear",
        "I thought the shimmy damper was weeping but it isn't.",
        {"shimmy-damper": "satisfactory"},
    ),
    (
        HELICOPTER,
        "nose-gear",
        "I thought the shimmy damper was weeping and it is.",
        {"shimmy-damper": "defect"},
    ),
    # "Where they crack", and what was found there.
    (
        HELICOPTER,
        "number-one-engine",
        "Exhaust, I'm looking round the welds cos that's where they crack and no it's fine no cracks.",
        {"exhaust.number-one": "satisfactory"},
    ),
    # A conclusion.
    (
        HELICOPTER,
        "rotor-head",
        "Scissors, I'm squeezing them and watching the bearing and it's not moving, so they're good.",
        {"scissor-link": "satisfactory"},
    ),
    # Numbers that stand for what was named.
    (
        HELICOPTER,
        "hydraulics",
        "Fluid levels. One, on the line. Two's low.",
        {
            "hydraulic-fluid-level.number-one": "satisfactory",
            "hydraulic-fluid-level.number-two": "defect",
        },
    ),
    (
        HELICOPTER,
        "hydraulics",
        "Reservoir one, dry. Two's ditto.",
        {
            "hydraulic-reservoir.number-one": "satisfactory",
            "hydraulic-reservoir.number-two": "by_reference",
        },
    ),
    # "The rest" is what waits for a result, and never what is faulty.
    (
        LORRY,
        "trailer-rear",
        "Tail lights, stop lights. Nearside stop light's dead, rest all good.",
        {
            "tail-light.left": "satisfactory",
            "tail-light.right": "satisfactory",
            "brake-light.left": "defect",
            "brake-light.right": "satisfactory",
        },
    ),
    (
        LORRY,
        "trailer-rear",
        "Nearside stop light's dead. The rest are fine.",
        {"brake-light.left": "defect"},
    ),
    # "That's dead" is a fault and takes nothing back.
    (
        LORRY,
        "trailer-rear",
        "Tail lights all good apart from the nearside one, that's dead.",
        {"tail-light.left": "defect", "tail-light.right": "satisfactory"},
    ),
    # What holds by a last bolt, and what holds on badly.
    (LORRY, "cab", "Kerb mirror's holding on with one bolt.", {"front-mirror": "defect"}),
    (
        LORRY,
        "left-tractor-side",
        "Bottom step's holding on by one bolt.",
        {"cab-step.left": "defect"},
    ),
    (LORRY, "trailer-rear", "Nearside tail light's stuck on.", {"tail-light.left": "defect"}),
    # A film that comes back was not mended; a nail that was picked out was there.
    (
        HELICOPTER,
        "nose-gear",
        "Shimmy damper. Red film on the rod. Wiped it. It's back already.",
        {"shimmy-damper": "defect"},
    ),
    (
        LORRY,
        "left-trailer-side",
        "Shunt button, in, out, holds every time.",
        {"trailer-parking-brake": "satisfactory"},
    ),
    (
        HELICOPTER,
        "left-cabin-side",
        "Static port. Beetle in it. Picked him out. Clear.",
        {"static-port.left": "put_right"},
    ),
    # Found, wiped, and there again: a fault anew, in the same breath as well.
    (
        HELICOPTER,
        "hydraulics",
        "Number two pump's damp, so I've wiped it and waited, and it's two drops a minute, so that's leaking.",
        {"hydraulic-pump.number-two": "defect"},
    ),
    (
        HELICOPTER,
        "left-cabin-side",
        "Aft drain has a drip on its nose, wiped it off, and, yep, here comes another one.",
        {"fuel-drain.aft": "defect"},
    ),
    (
        HELICOPTER,
        "hydraulics",
        "Number two pump, I've tightened the loose union.",
        {"hydraulic-pump.number-two": "put_right"},
    ),
    (
        HELICOPTER,
        "hydraulics",
        "Number two pump's weeping, wiped it, dry now.",
        {"hydraulic-pump.number-two": "put_right"},
    ),
    # What is to be watched is a remark.
    (
        HELICOPTER,
        "left-main-gear",
        "Tread, one point two mil. Legal. One to watch.",
        {"main-tyre.left": "remark"},
    ),
    (
        HELICOPTER,
        "main-gearbox",
        "Blower spins, I'll keep an eye on it.",
        {"oil-cooler-blower": "remark"},
    ),
    # One less than it takes.
    (
        HELICOPTER,
        "number-two-engine",
        "Exhaust clamp takes three bolts and I count two.",
        {"exhaust.number-two": "defect"},
    ),
    # A phrase for what is not fitted takes no denial from a flagged word.
    (HELICOPTER, "tail-rotor", "The fin never had any cracks.", {"fin": "satisfactory"}),
    (
        HELICOPTER,
        "hydraulics",
        "Number two pump runs without leaking.",
        {"hydraulic-pump.number-two": "satisfactory"},
    ),
    (
        LORRY,
        "left-drive-axle",
        "The outer tyre does not carry a cut.",
        {"drive-tyre.left-outboard": "satisfactory"},
    ),
    # "Dead flat" is good of a skin, and not of what holds air or a charge.
    (HELICOPTER, "nose-gear", "Nose tyre's dead flat.", {"nose-tyre": "defect"}),
    (HELICOPTER, "nose-gear", "The nose tyre is down flat.", {"nose-tyre": "defect"}),
    (HELICOPTER, "nose", "The battery's dead flat.", {"battery": "defect"}),
    (
        HELICOPTER,
        "left-cabin-side",
        "Cabin skin is dead flat.",
        {"cabin-skin.left": "satisfactory"},
    ),
    (
        HELICOPTER,
        "nose-gear",
        "Nose tyre's good. I'm flat on my back under it.",
        {"nose-tyre": "satisfactory"},
    ),
    (
        HELICOPTER,
        "tail-boom-left",
        "Driveshaft cover is twisted in its frame.",
        {"driveshaft-cover": "defect"},
    ),
    # What a finger comes away with, and what is where rivets were.
    (
        HELICOPTER,
        "hydraulics",
        "Ran my finger under number two pump and it came away wet.",
        {"hydraulic-pump.number-two": "defect"},
    ),
    (HELICOPTER, "tail-rotor", "Fin, not a crack at all.", {"fin": "satisfactory"}),
    # What is bad at times, or almost, is no better for that.
    (
        LORRY,
        "trailer-rear",
        "Left brake light is dead most of the time.",
        {"brake-light.left": "defect"},
    ),
    (LORRY, "engine-bay", "Washer fluid is nearly empty.", {"washer-fluid": "defect"}),
    (
        HELICOPTER,
        "left-cabin-side",
        "Left cabin door won't shut unless you slam it.",
        {"cabin-door.left": "defect"},
    ),
    # What another thing is well off is no mention of it.
    (
        HELICOPTER,
        "left-main-gear",
        "Brake hose, dry, well off the rim.",
        {"brake-line.left": "satisfactory"},
    ),
]


@pytest.mark.parametrize(("pack", "zone", "say", "lines"), SAID)
def test_what_is_said(pack: str, zone: str, say: str, lines: dict[str, str]) -> None:
    assert said(pack, zone, say) == lines


@pytest.mark.parametrize(
    ("zone", "say"),
    [
        ("cabin", "Kettle's broken again."),
        ("number-one-engine", "Intake, bung's out and bagged."),
    ],
)
def test_a_word_of_ordinary_english_is_no_name(zone: str, say: str) -> None:
    # From text alone "kettle" was taken for the pedals, "bung" for a button.
    assert "defect" not in said(HELICOPTER, zone, say).values()
