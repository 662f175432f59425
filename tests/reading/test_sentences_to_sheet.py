"""The sentence that was said, and the lines of the sheet that it must become.

All wordings and what they mean are *common practice* of spoken inspection, in our own words.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from spokenfor.models import FlaggedReading, Result

# said, lines that must stand so ("*" = by reference), nothing else on the sheet may be touched.
SAID = [
    # plain results
    ("Nose cone is good.", {"nose.nose-cone": "satisfactory"}),
    ("Nose cone, no cracks, no dents.", {"nose.nose-cone": "satisfactory"}),
    ("Nose cone. Secure.", {"nose.nose-cone": "satisfactory"}),
    ("Landing light is clean and secure.", {"nose.landing-light": "satisfactory"}),
    ("No cracks in the landing light.", {"nose.landing-light": "satisfactory"}),
    ("There is a crack in the landing light.", {"nose.landing-light": "defect"}),
    ("Landing light is cracked.", {"nose.landing-light": "defect"}),
    ("The landing light is loose.", {"nose.landing-light": "defect"}),
    ("Landing light is not secure.", {"nose.landing-light": "defect"}),
    ("Landing light is no good.", {"nose.landing-light": "defect"}),
    ("The landing light isn't cracked.", {"nose.landing-light": "satisfactory"}),
    ("Nothing loose on the landing light.", {"nose.landing-light": "satisfactory"}),
    # a look is not a result
    ("Checking the landing light for cracks.", {"nose.landing-light": "looked_for"}),
    ("Having a look at the landing light.", {"nose.landing-light": "looked_for"}),
    ("Making sure the landing light is secure.", {"nose.landing-light": "looked_for"}),
    ("Landing light.", {"nose.landing-light": "named"}),
    ("Okay, the landing light, right.", {"nose.landing-light": "named"}),
    ("Is the landing light secure?", {"nose.landing-light": "looked_for"}),
    # ... until it is answered
    ("Checking the landing light for cracks. None.", {"nose.landing-light": "satisfactory"}),
    ("Checking the landing light for cracks, none found.", {"nose.landing-light": "satisfactory"}),
    ("Landing light, any cracks? No.", {"nose.landing-light": "satisfactory"}),
    ("Looking at the landing light, it's secure.", {"nose.landing-light": "satisfactory"}),
    ("Landing light. Cracks, none.", {"nose.landing-light": "satisfactory"}),
    # supposition and explanation
    (
        "If the landing light was cracked you would see water in it.",
        {"nose.landing-light": "named"},
    ),
    ("The landing light might crack.", {"nose.landing-light": "named"}),
    # within limits
    ("Nose tyre has some wear but it's within limits.", {"nose-gear.nose-tyre": "remark"}),
    ("Slight wear on the nose tyre, acceptable.", {"nose-gear.nose-tyre": "remark"}),
    ("Nose tyre is worn beyond limits.", {"nose-gear.nose-tyre": "defect"}),
    # quantities against the pack's example limit of 65 to 75 psi
    ("Nose tyre pressure seventy psi.", {"nose-gear.nose-tyre": "satisfactory"}),
    ("Nose tyre pressure 50 psi.", {"nose-gear.nose-tyre": "defect"}),
    ("Nose tyre pressure four point eight bar.", {"nose-gear.nose-tyre": "satisfactory"}),
    # not inspected, not fitted
    ("Can't see the nose downlock from here.", {"nose-gear.nose-downlock": "not_inspected"}),
    ("Nose downlock, not inspected.", {"nose-gear.nose-downlock": "not_inspected"}),
    ("Can't see any cracks in the nose wheel.", {"nose-gear.nose-wheel": "satisfactory"}),
    ("The baggage net is not fitted.", {"baggage-bay.baggage-net": "not_fitted"}),
    # expected states of the component
    (
        "Pitot covers removed.",
        {"nose.pitot-cover.left": "satisfactory", "nose.pitot-cover.right": "satisfactory"},
    ),
    ("The left pitot cover is still on.", {"nose.pitot-cover.left": "defect"}),
    (
        "Number one engine. Bypass indicator is in.",
        {"number-one-engine.fuel-filter-bypass-indicator.number-one": "satisfactory"},
    ),
    (
        "Number one engine. Bypass indicator has popped.",
        {"number-one-engine.fuel-filter-bypass-indicator.number-one": "defect"},
    ),
    (
        "Number one engine. Looking at the bypass indicator in the bay.",
        {"number-one-engine.fuel-filter-bypass-indicator.number-one": "looked_for"},
    ),
    # positions
    ("Left pitot tube clear.", {"nose.pitot-tube.left": "satisfactory"}),
    ("The pitot tube on the right is clear.", {"nose.pitot-tube.right": "satisfactory"}),
    (
        "Both pitot tubes are clear.",
        {"nose.pitot-tube.left": "satisfactory", "nose.pitot-tube.right": "satisfactory"},
    ),
    (
        "Left and right pitot tubes are clear.",
        {"nose.pitot-tube.left": "satisfactory", "nose.pitot-tube.right": "satisfactory"},
    ),
    ("Left, sorry, right pitot tube is clear.", {"nose.pitot-tube.right": "satisfactory"}),
    ("Pitot tube is clear.", {}),
    # lists and units
    (
        "Nose wheel, torque link and shimmy damper, all good.",
        {
            "nose-gear.nose-wheel": "satisfactory",
            "nose-gear.nose-torque-link": "satisfactory",
            "nose-gear.shimmy-damper": "satisfactory",
        },
    ),
    (
        "Nose wheel good, torque link loose.",
        {"nose-gear.nose-wheel": "satisfactory", "nose-gear.nose-torque-link": "defect"},
    ),
    (
        "No leaks on the shimmy damper but the nose tyre is cut.",
        {"nose-gear.shimmy-damper": "satisfactory", "nose-gear.nose-tyre": "defect"},
    ),
    ("Nose wheel is good apart from a dent.", {"nose-gear.nose-wheel": "defect"}),
    ("Nose wheel, good condition, small dent on the rim.", {"nose-gear.nose-wheel": "defect"}),
    # by reference
    (
        "Left pitot tube clear. Right pitot tube, same as the left.",
        {"nose.pitot-tube.left": "satisfactory", "nose.pitot-tube.right": "satisfactory*"},
    ),
    # The same as a fault told right before it is a fault.
    (
        "Left pitot tube blocked. Right pitot tube, same as the left.",
        {"nose.pitot-tube.left": "defect", "nose.pitot-tube.right": "defect"},
    ),
    # put right, and done later
    (
        "Landing light is loose. Tightened it and rechecked.",
        {"nose.landing-light": "satisfactory+found and put right"},
    ),
    (
        "Can't see the nose downlock. Nose wheel good. Coming back to the nose downlock, it's secure.",
        {
            "nose-gear.nose-downlock": "satisfactory+inspected later",
            "nose-gear.nose-wheel": "satisfactory",
        },
    ),
    # what belongs to something else
    ("Landing light. The blanket is good.", {"nose.landing-light": "named"}),
    ("Good morning, this is the check.", {}),
    ("", {}),
]


def standings(result: Result) -> dict[str, str]:
    """Lines of which anything was said, as status, "*" where by reference, "+note"."""
    return {
        item.id: item.status.value
        + "*" * item.by_reference
        + (f"+{item.note}" if item.note else "")
        for item in result.items
        if item.statements
    }


@pytest.mark.parametrize(("said", "lines"), SAID, ids=[said or "nothing" for said, _ in SAID])
def test_sentence_becomes_line(
    heard: Callable[[str], Result], said: str, lines: dict[str, str]
) -> None:
    assert standings(heard(said)) == lines


FLAGGED = [
    ("No cracks or dents.", ["absent", "absent"]),
    ("No leaks, chafing or corrosion on the nose wheel.", ["absent"] * 3),
    ("Checking for leaks, chafing and cracks.", ["looked_for"] * 3),
    ("Free of corrosion.", ["absent"]),
    ("There's a leak.", ["present"]),
    ("No chafing and a small leak on the shimmy damper.", ["absent", "present"]),
    ("No leaks but it is chafed.", ["absent", "present"]),
    ("If it leaks we change it.", ["supposed"]),
    ("Any leaks? None.", ["absent"]),
    ("Any leaks? Any chafing? None.", ["looked_for", "absent"]),
    ("Wear is within limits.", ["within_limits"]),
    ("Making sure there are no cracks.", ["looked_for"]),
    ("It was leaking last week.", ["supposed"]),
    ("Split pins are in.", []),
]


@pytest.mark.parametrize(("said", "readings"), FLAGGED, ids=[said for said, _ in FLAGGED])
def test_flagged_words_are_listed_and_read(
    heard: Callable[[str], Result], said: str, readings: list[str]
) -> None:
    words = heard("Nose wheel. " + said).flagged_words
    assert [word.reading.value for word in words] == readings


def test_a_defect_of_nothing_known_is_kept_unplaced(heard: Callable[[str], Result]) -> None:
    result = heard("The blanket is torn.")
    assert [(finding.condition, finding.item) for finding in result.findings] == [("tear", None)]
    assert result.flagged_words[0].reading is FlaggedReading.PRESENT


def test_the_zone_decides_which_tyre(heard: Callable[[str], Result]) -> None:
    said = "Now the nose gear. Tyre is good. Back to the left main gear. Tyre is cut."
    assert standings(heard(said)) == {
        "nose-gear.nose-tyre": "satisfactory",
        "left-main-gear.main-tyre.left": "defect",
    }


def test_every_statement_quotes_its_own_seconds(heard: Callable[[str], Result]) -> None:
    result = heard("Nose cone is good.\nLanding light is cracked.")
    quotes = [(one.evidence.heard, one.evidence.start) for one in result.statements]
    assert quotes == [
        ("Nose cone is good.", 0.0),
        ("Landing light is cracked.", pytest.approx(4 * 0.35 + 0.6)),
    ]
