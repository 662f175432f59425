"""Trouble, a deed, a good result: put right, and not as if nothing had been found. Sentences of our own."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import HELICOPTER, said

from spokenfor.reading.afterwards import says_by_now

MENDED = [
    ("Oil cooler, moths in the fins, brushed, clear.", "engine-oil-cooler"),
    (
        "The oil cooler had leaves all over it. Swept off, it's clear.",
        "engine-oil-cooler",
    ),
    (
        "Mag plug, sat out a hair, pushed, twist, locked.",
        "engine-chip-detector",
    ),
    (
        "Somebody had left a rag on the oil cooler. I've taken it out, it's clear.",
        "engine-oil-cooler",
    ),
]


@pytest.mark.parametrize(("say", "component"), MENDED)
def test_what_was_found_and_mended_is_not_a_plain_tick(say, component):
    found = said(HELICOPTER, "number-one-engine", say)
    assert found[f"{component}.number-one"] == "put_right"


NOTHING_FOUND = [
    (
        "The oil cooler, I pulled the cover off, had a look, it's clear.",
        "engine-oil-cooler",
    ),
    (
        "Mag plug, drawn, wiped, nothing on it, back in, locked.",
        "engine-chip-detector",
    ),
    (
        "The chip detector was withdrawn, found clean, and refitted.",
        "engine-chip-detector",
    ),
    ("The oil cooler is clear now.", "engine-oil-cooler"),
]


@pytest.mark.parametrize(("say", "component"), NOTHING_FOUND)
def test_what_one_does_to_look_mends_nothing(say, component):
    found = said(HELICOPTER, "number-one-engine", say)
    assert found[f"{component}.number-one"] == "satisfactory"


def test_trouble_of_one_thing_is_not_that_of_the_next():
    say = "The left windscreen had flies all over it. The right windscreen, wiped, clean."
    assert said(HELICOPTER, "nose", say)["windscreen.right"] == "satisfactory"


def test_a_listed_fault_is_not_mended_by_a_deed_in_few_words():
    say = "The oil hose has perished, it's gone hard, cover back on, it's tight."
    found = said(HELICOPTER, "number-one-engine", say)
    assert found["engine-hose.number-one"] == "defect"


@pytest.mark.parametrize(
    ("say", "status"),
    [
        ("The battery wasn't connected. It is now.", "put_right"),
        ("The battery wasn't connected. I've seen to that. And now it is.", "put_right"),
        ("The battery was connected. It isn't now.", "defect"),
        ("The battery is connected. It is now.", "satisfactory"),
        ("The battery wasn't connected. It isn't now.", "defect"),
    ],
)
def test_that_the_contrary_holds_now(say, status):
    assert said(HELICOPTER, "nose", say) == {"battery": status}


@pytest.mark.parametrize(
    ("say", "status"),
    [
        (
            "The battery, I can't see it from here. I've found a mirror. Battery's connected.",
            "inspected_later",
        ),
        ("The battery, I can't see it from here. Battery's connected.", "not_inspected"),
        (
            "The battery, I can't see it from here. I'll need the steps. It's the one at the back.",
            "not_inspected",
        ),
    ],
)
def test_a_thing_left_out_and_named_afresh_was_gone_back_to(say, status):
    assert said(HELICOPTER, "nose", say) == {"battery": status}


@pytest.mark.parametrize(
    ("words", "holds"),
    [
        ("it is now", True),
        ("now they are", True),
        ("and now it does", True),
        ("it is not now", False),
        ("not now it is not", False),
        ("it is", None),
        ("now", None),
        ("it is dry now", None),
        ("now the nose", None),
        ("", None),
    ],
)
def test_units_that_say_only_how_it_is_by_now(words, holds):
    assert says_by_now(words.split()) is holds
