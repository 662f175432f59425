"""Misheard trade words: what was heard, what it must become; and what must be left alone."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from spokenfor.models import Result

# Homophones and near-homophones; phones of both sides in the CMU Pronouncing Dictionary.
MISHEARD = [
    ("Left main gear. Break is secure.", "brake", "left-main-gear.brake.left"),
    ("Left main gear. The breakline is dry.", "brake line", "left-main-gear.brake-line.left"),
    ("Main gearbox. Oil level good in the site glass.", "sight glass", None),
    ("Up to the rotor head. Massed no corrosion.", "mast", "rotor-head.mast"),
    ("Baggage bay. Bagage floor is clean.", "baggage floor", "baggage-bay.baggage-floor"),
    (
        "Belly skin is clean. Transponder area is secure.",
        "transponder aerial",
        "left-cabin-side.transponder-aerial",
    ),
    ("Nose gear. Shimmy dumper is secure.", "shimmy damper", "nose-gear.shimmy-damper"),
]


@pytest.mark.parametrize(
    ("said", "became", "item"), MISHEARD, ids=[said for said, _, _ in MISHEARD]
)
def test_a_misheard_term_is_repaired_and_shown(
    heard: Callable[[str], Result], said: str, became: str, item: str | None
) -> None:
    result = heard(said)
    repairs = {repair.became: repair for repair in result.repairs}
    assert became in repairs
    assert repairs[became].heard in said
    assert 0 < repairs[became].phonetic_score <= 1
    if item is not None:
        statements = [one for one in result.statements if one.item == item]
        assert any(repairs[became].heard in one.evidence.heard for one in statements)
        assert any(became in one.evidence.text for one in statements)


# Public domain: Jane Austen, Sense and Sensibility (1811), chapter 1; and plain talk of our own.
LEFT_ALONE = [
    "The family of Dashwood had long been settled in Sussex. Their estate was large, and their residence "
    "was at Norland Park, in the centre of their property, where, for many generations, they had lived in "
    "so respectable a manner as to engage the general good opinion of their surrounding acquaintance.",
    "We will break for tea at ten. The site is shut on Sunday. Give me a brake of a minute? I started late.",
    "He left the right key at home and walked over to the other side of the road to buy some bread.",
]


@pytest.mark.parametrize("said", LEFT_ALONE)
def test_common_words_are_not_pulled_into_terms(heard: Callable[[str], Result], said: str) -> None:
    result = heard(said)
    assert [(repair.heard, repair.became) for repair in result.repairs] == []
    assert [item.id for item in result.items if item.status.value == "satisfactory"] == []


def test_a_repair_never_swallows_a_no(heard: Callable[[str], Result]) -> None:
    result = heard("Nose section. No stone, no cracks.")
    assert all("no" not in repair.heard.lower().split() for repair in result.repairs)
