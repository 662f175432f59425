"""Where the sound vouches for it a repair may take in small words and denials; it never hides what it took."""

from __future__ import annotations

import pytest
from tests.spoken import PACK, spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.models import Item, Proof, Result
from spokenfor.packs.load import load_pack
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.packs.wording import match_key
from spokenfor.reading.other_words import inflects, is_compound, only_small_changed
from spokenfor.reading.pipeline import read

COMPONENTS = compile_terms(load_pack(PACK))[TermKind.COMPONENT]


def asked(after: int, label: str, phonetic: float, score: float, primed: float = 0.0) -> Proof:
    """The sound's answer for a component in place of the first words of the second sentence, and how
    probable it was to a hearer told the names."""
    return Proof(
        segment=1,
        first=0,
        after=after,
        kind=TermKind.COMPONENT.value,
        label=label,
        plural=False,
        phonetic_score=phonetic,
        spelling_score=0.75,
        sound_score=score,
        primed=primed,
    )


def result_of(place: str, text: str, *proofs: Proof) -> Result:
    transcript = spoken(f"{place}\n{text}")
    transcript.proofs = list(proofs)
    return assemble(transcript, read(transcript, PACK), load_pack(PACK))


def line(result: Result, item: str) -> Item:
    return next(one for one in result.items if one.id == item)


def test_a_small_word_is_taken_in_where_the_sound_says_so() -> None:
    deck = "Up to the number one engine."
    proofs = [asked(2, "intake", 0.87, 13.0, 0.95), asked(3, "intake filter", 0.6, -2.6)]
    result = result_of(deck, "And take is clear.", *proofs)
    assert [(one.heard, one.became) for one in result.repairs] == [("And take", "intake")]
    intake = line(result, "number-one-engine.engine-intake.number-one")
    assert intake.status.value == "satisfactory"
    filters = line(result, "number-one-engine.particle-separator.number-one")
    assert filters.status.value == "not_mentioned"


def test_it_is_not_where_the_sound_speaks_against_it() -> None:
    proof = asked(2, "intake", 0.87, -15.0)
    assert result_of("Up to the number one engine.", "And take is clear.", proof).repairs == []


def test_what_rests_on_a_swallowed_no_is_to_be_listened_to() -> None:
    proof = asked(3, "nose downlock", 0.85, 14.0, 0.95)
    result = result_of("Now the nose gear.", "No sound lock is over centre.", proof)
    assert [(one.became, one.turns) for one in result.repairs] == [("nose downlock", True)]
    found = line(result, "nose-gear.nose-downlock")
    assert found.statements and found.listen


@pytest.mark.parametrize(
    ("heard", "label", "compound"),
    [
        ("windowsill", "cabin door window", False),
        ("intakes", "intake", False),
        ("battery", "battery", False),
        ("batteryhouse", "battery", True),
    ],
)
def test_an_english_compound_is_no_mishearing(heard: str, label: str, compound: bool) -> None:
    assert is_compound([heard], COMPONENTS[match_key(label)]) is compound


def test_a_name_made_a_verb_is_no_mishearing() -> None:
    assert inflects(["intaked"], COMPONENTS[match_key("intake")])
    assert not inflects(["intakes"], COMPONENTS[match_key("intake")])


def test_a_repair_of_nothing_but_small_words_is_none() -> None:
    term = compile_terms(load_pack(PACK))[TermKind.ZONE][match_key("at the tail rotor")]
    heard = ["and", "the", "tail", "rotor"]
    assert only_small_changed(heard, [True, False, False, False], term)
    assert not only_small_changed(["at", "the", "tail", "rota"], [False] * 4, term)
