"""Flowing narrators: what leads up to a finding in so many words, and who is denied what. The sentences are our
own, *common practice* of spoken inspection."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, said

SAID = [
    # A polite lead is no supposing, and what one should not care to do is no taking back.
    (AEROPLANE, "tail", "I regret to say that one screw is missing from the tail cone.", "defect"),
    (AEROPLANE, "nose-gear", "I am sorry to say that the shimmy damper is weeping.", "defect"),
    (
        AEROPLANE,
        "right-wing",
        "By the aileron hinge there is a smear of red dust, and I should not care to leave it.",
        "defect",
    ),
    # "In order to see" is no result.
    (
        AEROPLANE,
        "right-engine-side",
        "I am going along the wiring loom, in order to see whether it has chafed anywhere.",
        "looked_for",
    ),
    # "None of them" denies what is said of them, and not that they are there.
    (AEROPLANE, "cabin", "Not one of the circuit breakers has popped.", "satisfactory"),
    (AEROPLANE, "cabin", "None of the circuit breakers is loose.", "satisfactory"),
    (AEROPLANE, "left-engine-side", "None of the hoses is damp.", "satisfactory"),
    # "None" answers what was looked for; it does not take the thing away.
    (
        HELICOPTER,
        "nose",
        "Left windscreen, I'm going across it for scratches, and there isn't one in it.",
        "satisfactory",
    ),
    (
        HELICOPTER,
        "tail-boom-left",
        "You sight down the tail boom for creases, and I see none on this side.",
        "satisfactory",
    ),
    # "And I've been round it" is no irony.
    (
        HELICOPTER,
        "rotor-head",
        "Rotor hub, no cracks, and I've been in round every arm of it with the mirror.",
        "satisfactory",
    ),
    # Others' fears, and the finding.
    (
        LORRY,
        "left-trailer-axles",
        "Night lads reckoned this brake was dragging. Spun it, it ain't dragging.",
        "satisfactory",
    ),
    (HELICOPTER, "number-two-engine", "Exhaust on this one has no cracks.", "satisfactory"),
    (HELICOPTER, "cabin", "The controls are full and free and not a bit stiff.", "satisfactory"),
    # What is noted and left is a remark.
    (
        LORRY,
        "left-trailer-side",
        "Trailer chassis, surface rust, nothing structural. I'll note it.",
        "remark",
    ),
    (HELICOPTER, "stabiliser", "The left end plate has a ding, I'm only mentioning it.", "remark"),
    # What stays where it is put is not left uninspected.
    (
        LORRY,
        "cab",
        "Seat goes up, seat goes back, stops where I leave it.",
        "satisfactory",
    ),
    (LORRY, "coupling", "Kingpin, not happening.", "not_inspected"),
    # A shake is no repair.
    (LORRY, "left-steer-axle", "Track rod, gave it a shake, no knock.", "satisfactory"),
    (LORRY, "trailer-rear", "Fog light's full of water, and nothing when I switch it.", "defect"),
    (
        LORRY,
        "right-trailer-axles",
        "Put your ear to that. Hissing, just above the ring, air bag.",
        "defect",
    ),
]


@pytest.mark.parametrize(("pack", "zone", "say", "verdict"), SAID, ids=[one[2] for one in SAID])
def test_flowing_speech_is_read_as_it_is_meant(
    pack: str, zone: str, say: str, verdict: str
) -> None:
    assert set(said(pack, zone, say).values()) == {verdict}


def test_a_number_taken_back_takes_no_name_with_it() -> None:
    for say in (
        "Nose tyre is sixty, no, hang on, sixty eight psi.",
        "Nose tyre, sixty psi, no, wait, sixty eight psi.",
    ):
        assert said(HELICOPTER, "nose-gear", say) == {"nose-tyre": "satisfactory"}
    say = "The oil stands at two quarts. Forgive me, I held it upside down; it stands at seven quarts."
    assert said(AEROPLANE, "right-engine-side", say)["oil-level"] == "satisfactory"


def test_a_place_with_a_measure_is_its_own_line() -> None:
    say = "Outer tyre, hundred and two psi. Inner, hundred psi."
    assert said(LORRY, "right-drive-axle", say) == {
        "drive-tyre.right-outboard": "satisfactory",
        "drive-tyre.right-inboard": "satisfactory",
    }
    found = said(
        LORRY, "right-drive-axle", "Tyre pressures. Outer, hundred psi. Inner, eighty psi."
    )
    assert found["drive-tyre.right-inboard"] == "defect"


def test_what_is_left_of_a_lining_is_no_side() -> None:
    found = said(AEROPLANE, "left-main-gear", "Brake lining, four millimetres left.")
    assert "named" not in found.values()
