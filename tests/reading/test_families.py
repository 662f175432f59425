"""Families of wording: what is to be done tells a fault, noting it down settles nothing, what does no harm, what
compares, what is no result. The sentences are our own, *common practice* of spoken inspection."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, said

TO_BE_DONE = [
    (AEROPLANE, "left-engine-side", "The air filter is clogged, that's going in the book."),
    (HELICOPTER, "nose-gear", "Nose tyre wants changing."),
    (HELICOPTER, "nose-gear", "Nose tyre needs a new one."),
    (LORRY, "left-drive-axle", "The hub is hot, and that's not right."),
    (HELICOPTER, "nose-gear", "Nose oleo, I'll get them to fix that."),
    (HELICOPTER, "nose-gear", "Nose oleo, one for the fitters."),
]


@pytest.mark.parametrize(("pack", "zone", "say"), TO_BE_DONE)
def test_what_is_to_be_done_about_a_thing_tells_a_fault(pack: str, zone: str, say: str) -> None:
    assert set(said(pack, zone, say).values()) == {"defect"}


@pytest.mark.parametrize(
    "noted",
    [
        "Put that down.",
        "I've put it on the list.",
        "Stuck it in the tech log.",
        "I've taken that down.",
        "Put that in the book.",
    ],
)
def test_noting_a_fault_down_settles_nothing(noted: str) -> None:
    assert said(HELICOPTER, "nose-gear", f"Nose tyre is cut. {noted}") == {"nose-tyre": "defect"}


@pytest.mark.parametrize(
    "mended", ["Pumped it up.", "I've put some air in.", "I've poured two litres in."]
)
def test_a_deed_still_settles_it(mended: str) -> None:
    say = f"Nose tyre is low. {mended}"
    assert said(HELICOPTER, "nose-gear", say) == {"nose-tyre": "put_right"}


def test_putting_a_dent_in_mends_nothing() -> None:
    found = said(HELICOPTER, "nose-gear", "Nose wheel, somebody has put a dent in the rim.")
    assert found == {"nose-wheel": "defect"}


@pytest.mark.parametrize(
    "say",
    [
        "Nose wheel has a scratch, only in the paint.",
        "Nose wheel has a scratch, so leave it.",
    ],
)
def test_what_does_no_harm_is_a_remark(say: str) -> None:
    assert said(HELICOPTER, "nose-gear", say) == {"nose-wheel": "remark"}


def test_a_comparison_says_nothing_of_the_other_side() -> None:
    say = "Aileron hinge on this side has play in it, more than the right one."
    assert said(AEROPLANE, "left-wing", say) == {"aileron-hinge.left": "defect"}


@pytest.mark.parametrize(
    "say",
    [
        "Suppose the nose tyre is flat.",
        "If you find a cut in the nose tyre, you call me.",
        "Why is a cut in the nose tyre bad?",
        "In the manual it says the nose tyre is cut.",
    ],
)
def test_what_is_told_is_not_found(say: str) -> None:
    assert "defect" not in said(HELICOPTER, "nose-gear", say).values()


@pytest.mark.parametrize(
    "say",
    [
        "Nose wheel, you've to lift it to get it shut.",
        "Nose wheel, we put a mirror under it.",
        "Nose wheel, I've not been able to see it.",
    ],
)
def test_what_is_done_or_could_not_be_is_no_tick(say: str) -> None:
    assert "satisfactory" not in said(HELICOPTER, "nose-gear", say).values()


def test_well_is_no_short_name_of_a_wheel_well() -> None:
    found = said(HELICOPTER, "left-main-gear", "Brake line, well clipped, no chafing.")
    assert found == {"brake-line.left": "satisfactory"}
    found = said(HELICOPTER, "left-main-gear", "Brake line, well clip, no chafing.")
    assert found == {"brake-line.left": "satisfactory"}


MEASURED = [
    (
        HELICOPTER,
        "rotor-head",
        "Scissors, the gauge gives me 0.2 mm, and that's legal.",
        "satisfactory",
    ),
    (
        HELICOPTER,
        "rotor-head",
        "Scissors, the gauge gives me 0.2 mm. That's within the range.",
        "satisfactory",
    ),
    (AEROPLANE, "right-wing", "Fuel level is eleven gallons.", "satisfactory"),
    (
        HELICOPTER,
        "nose-gear",
        "Nose tyre's forty psi. No, it wasn't on square. It's sixty eight psi.",
        "satisfactory",
    ),
]


@pytest.mark.parametrize(("pack", "zone", "say", "verdict"), MEASURED)
def test_a_measure_is_judged_by_what_is_said_of_it(
    pack: str, zone: str, say: str, verdict: str
) -> None:
    assert verdict in said(pack, zone, say).values()
    assert not {"defect", "remark"} & set(said(pack, zone, say).values())


FOUND = [
    (
        "nose",
        "Somebody had left a rag in the nose cone. I've pulled it out and it's clear now.",
        "put_right",
    ),
    ("nose", "The nose cone was changed last week, and it's good now.", "satisfactory"),
    ("nose", "The nose cone is good now.", "satisfactory"),
    ("nose", "Somebody had left a rag in the nose cone. Now the nose cone.", "named"),
    ("nose", "Somebody had left a rag in the nose cone. Nose cone, now let me see.", "looked_for"),
]


@pytest.mark.parametrize(("zone", "say", "verdict"), FOUND)
def test_what_was_found_and_put_right_without_a_flagged_word(
    zone: str, say: str, verdict: str
) -> None:
    assert set(said(HELICOPTER, zone, say).values()) == {verdict}


def test_one_of_those_named_before_is_no_stranger() -> None:
    dampers = said(HELICOPTER, "rotor-head", "Lag dampers. The yellow one's leaking.")
    assert dampers == {"lead-lag-damper": "defect"}
