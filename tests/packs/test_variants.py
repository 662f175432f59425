"""British and American names, letters for names, and plurals are understood by rule, not by lists in packs."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.packs.small_pack import write_small_pack

from spokenfor.packs.load import load_pack, pack_names
from spokenfor.packs.phones import from_arpabet, in_dictionary, likeness, phrase_phones, word_phones
from spokenfor.packs.schema import SameKind
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.packs.variants import repeats, same_words
from spokenfor.packs.wording import match_key

ROWS = load_pack("goods-vehicle").same_words
VARIANTS = same_words(ROWS)


@pytest.mark.parametrize(
    ("label", "also"),
    [
        ("spare tyre valve", ["spare tire valve"]),
        ("windscreen", ["windshield"]),
        ("windshield wipers", ["windscreen wipers"]),
        ("tail gearbox oil level", ["TGB oil level"]),
        ("TGB", ["tail gearbox"]),
        ("VHF antenna", ["VHF aerial"]),
        ("ELT battery", ["emergency locator transmitter battery"]),
        (
            "rear number plate",
            ["rear license plate", "rear licence plate", "rear registration plate"],
        ),
        ("centre tyre", ["centre tire", "center tyre", "center tire"]),
        ("horn", []),
    ],
)
def test_what_a_label_is_also_called(label: str, also: list[str]) -> None:
    """Common practice."""
    assert sorted(VARIANTS.of(label)) == sorted(also)


def test_no_word_stands_in_two_rows() -> None:
    keys = [match_key(word) for row in ROWS for word in row.words]
    assert len(keys) == len(set(keys)), {one for one in keys if keys.count(one) > 1}


def test_the_rows_are_of_every_kind() -> None:
    assert {row.kind for row in ROWS} == set(SameKind)


def test_a_pack_understands_both(tmp_path: Path) -> None:
    pack = load_pack(str(write_small_pack(tmp_path / "hand-truck")))
    components = compile_terms(pack)[TermKind.COMPONENT]
    assert (
        components[match_key("tire")].concepts
        == components[match_key("tyre")].concepts
        == ("tyre",)
    )


@pytest.mark.parametrize(
    ("one", "many"),
    [
        ("lens", "lenses"), ("gas", "gases"), ("bus", "buses"), ("hose", "hoses"), ("box", "boxes"), ("tie", "ties"),
        ("battery", "batteries"), ("fuse", "fuses"), ("glass", "glasses"), ("chassis", "chassis"), ("half", "halves"),
        ("switch", "switches"), ("antenna", "antennae"), ("driver", "driver's"), ("drivers", "drivers'"), ("valve", "valves"),
    ],
)  # fmt: skip
def test_plural_and_possessive_match_the_singular(one: str, many: str) -> None:
    assert match_key(one) == match_key(many)


@pytest.mark.parametrize("name", pack_names())
def test_the_shipped_packs_write_no_label_that_follows_from_another(name: str) -> None:
    pack = load_pack(name)
    kinds = (pack.components, pack.conditions, pack.positions, pack.aspects)
    concepts = [concept for kind in kinds for concept in kind.values()]
    assert [one for concept in concepts for one in repeats(concept, VARIANTS)] == []


@pytest.mark.parametrize(
    ("said", "zone"),
    [
        ("nearside of the lorry", "left-tractor-side"),
        ("port side of the trailer", "left-trailer-side"),
        ("right hand steer axle", "right-steer-axle"),
        ("offside bogie", "right-trailer-axles"),
        ("driver's side of the trailer", None),
    ],
)
def test_a_zone_is_also_called_by_the_other_names_of_its_side(said: str, zone: str | None) -> None:
    """Common practice; "driver's side" is another side in another country."""
    zones = compile_terms(load_pack("goods-vehicle"))[TermKind.ZONE]
    found = zones.get(match_key(said))
    assert (found.concepts if found else None) == ((zone,) if zone else None)


def test_no_zone_is_called_by_a_side_alone(tmp_path: Path) -> None:
    """A zone that its author calls "left side" must not take every "left"."""
    changes = {"zones.yaml": ("prefLabel: frame", "prefLabel: left side")}
    compiled = compile_terms(load_pack(str(write_small_pack(tmp_path / "hand-truck", changes))))
    assert match_key("left side") in compiled[TermKind.ZONE]
    assert {match_key("left"), match_key("port side")}.isdisjoint(compiled[TermKind.ZONE])


def test_letters_are_matched_however_they_are_written() -> None:
    assert match_key("VHF aerial") == match_key("V H F aerial") == match_key("v.h.f. aerial")


def test_letters_sound_as_letters() -> None:
    spoken = from_arpabet("V IY EY CH EH F")
    assert phrase_phones("VHF") == phrase_phones("vhf") == spoken
    assert likeness(phrase_phones("ELT"), from_arpabet("IY EH L T IY")) == 1.0
    assert phrase_phones("led") != phrase_phones("LED")


@pytest.mark.parametrize(
    ("british", "american"),
    [("stabiliser", "stabilizer"), ("colour", "color"), ("analyser", "analyzer")],
)
def test_a_british_spelling_sounds_as_the_american(british: str, american: str) -> None:
    """Reference: CMU Pronouncing Dictionary, which has American spellings."""
    assert in_dictionary(british)
    assert word_phones(british) == word_phones(american)
