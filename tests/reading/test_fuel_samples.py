"""Water in a fuel sample is a finding, and drawing samples until one is clear puts it right.

The fact (from memory: FAA-H-8083-25, Pilot's Handbook of Aeronautical Knowledge, chapter on aircraft systems, fuel
contamination): water is heavier than fuel and collects in the sumps; each is drained before flight, and more is
drawn until no water is seen."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import AEROPLANE, HELICOPTER, said

DRAIN = "fuel-drain.right"


@pytest.mark.parametrize(
    "say",
    [
        "The fuel sample has water in it.",
        "Fuel drain, there's water in this one.",
        "Fuel sample, a bit of water.",
        "Fuel sample, water at the bottom.",
        "Fuel sample, globules in the jar.",
    ],
)
def test_water_in_a_sample_is_a_defect(say: str) -> None:
    assert said(AEROPLANE, "right-wing", say) == {DRAIN: "defect"}


def test_so_is_it_in_the_strainer() -> None:
    found = said(AEROPLANE, "left-engine-side", "Gascolator, I've got water in that.")
    assert found == {"fuel-strainer": "defect"}


@pytest.mark.parametrize(
    "say",
    ["No water in the fuel sample.", "Fuel sample, clean, no water in it."],
)
def test_no_water_is_a_good_result(say: str) -> None:
    assert said(AEROPLANE, "right-wing", say) == {DRAIN: "satisfactory"}


def test_a_clear_sample_after_it_puts_it_right() -> None:
    first = "Sample from the drain had water in it, drained some more, second one's clear."
    assert said(AEROPLANE, "right-wing", first) == {DRAIN: "put_right"}
    drawn = "The forward drain had water in the jar, so I kept drawing, and the third one came out clean and bright."
    assert said(HELICOPTER, "left-cabin-side", drawn) == {"fuel-drain.forward": "put_right"}


def test_water_that_stays_is_no_tick() -> None:
    say = "Sample from the drain had water in it, drained some more, second one has water too."
    assert said(AEROPLANE, "right-wing", say) == {DRAIN: "defect"}
