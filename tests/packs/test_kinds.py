"""Words that components of a kind share (kinds.yaml)."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.packs.small_pack import write_small_pack
from tests.reading.test_structure import pipeline
from tests.spoken import spoken

from spokenfor.errors import InputError
from spokenfor.packs.copying import copy_pack
from spokenfor.packs.kinds import Kind, with_kinds
from spokenfor.packs.load import load_pack, pack_names
from spokenfor.packs.schema import Component, States
from spokenfor.packs.show import pack_lines
from spokenfor.reading.pipeline import read

TYRE = "  aspects: [condition, pressure]\n"
OWN = """- id: hand-wheel
  definition: a wheel of a hand truck
  states:
    expected: [squeaks nicely]
    adverse: [wobbles about]
"""


def kind(name: str, expected: list[str], adverse: list[str]) -> Kind:
    states = States(expected=expected, adverse=adverse)
    return Kind(id=name, definition="a thing", states=states, source="a test")


def component(kinds: list[str], states: States) -> Component:
    return Component(id="a", prefLabel="a", aspects=["security"], kinds=kinds, states=states)


def test_own_words_go_before_those_of_the_kinds_each_once() -> None:
    kinds = {"lamp": kind("lamp", ["on", "lit"], ["out"]), "red": kind("red", ["lit", "red"], [])}
    made = with_kinds(component(["lamp", "red"], States(expected=["steady"])), kinds)
    assert made.states == States(expected=["steady", "on", "lit", "red"], adverse=["out"])


def test_what_a_component_calls_wrong_is_right_in_no_kind_and_the_other_way_round() -> None:
    kinds = {"lamp": kind("lamp", ["on", "lit"], ["out"])}
    made = with_kinds(component(["lamp"], States(expected=["out"], adverse=["lit"])), kinds)
    assert made.states == States(expected=["out", "on"], adverse=["lit"])


def test_a_pack_has_kinds_of_its_own_beside_the_shared_ones(tmp_path: Path) -> None:
    changes = {"components/all.yaml": (TYRE, f"{TYRE}  kinds: [hand-wheel, tyre]\n")}
    folder = write_small_pack(tmp_path / "hand-truck", changes)
    before = load_pack(str(write_small_pack(tmp_path / "plain"))).sha256
    (folder / "kinds.yaml").write_text(OWN)
    pack = load_pack(str(folder))
    assert {"squeaks nicely", "inflated"} <= set(pack.components["tyre"].states.expected)
    assert "wobbles about" in pack.components["tyre"].states.adverse
    assert pack.sha256 != before
    said = read(spoken("Now the running gear. Left tyre wobbles about."), str(folder))
    assert [one.verdict.value for one in said.statements] == ["defect"]


@pytest.mark.parametrize(
    ("kinds", "own", "says"),
    [
        ("lamps", "", "component 'tyre' uses kind 'lamps', which is not defined"),
        ("hand-wheel", OWN + OWN, "kind 'hand-wheel' is already defined"),
        ("tyre", OWN.replace("hand-wheel", "tyre"), "kind 'tyre' is already defined"),
    ],
)
def test_a_fault_names_file_and_line(tmp_path: Path, kinds: str, own: str, says: str) -> None:
    changes = {"components/all.yaml": (TYRE, f"{TYRE}  kinds: [{kinds}]\n")}
    folder = write_small_pack(tmp_path / "hand-truck", changes)
    if own:
        (folder / "kinds.yaml").write_text(own)
    with pytest.raises(InputError, match=says) as raised:
        load_pack(str(folder))
    assert ".yaml, line " in str(raised.value)


def test_show_prints_own_words_and_those_of_the_kinds_once() -> None:
    shown = "\n".join(pack_lines(load_pack("goods-vehicle")))
    assert "brake light, left: operation, condition; as every lamp" in shown
    assert shown.count("shining") == 1
    assert "\nkinds\n  lamp: a light that is switched on to try it; right: on, " in shown


def test_a_pack_kept_before_there_were_kinds_loads(tmp_path: Path) -> None:
    folder = copy_pack("goods-vehicle", tmp_path / "own" / "lorry", common=True)
    plain = load_pack(str(write_small_pack(tmp_path / "own" / "hand-truck")))
    assert plain.kinds
    (folder.parent / "common" / "kinds.yaml").unlink()
    assert not load_pack(str(folder.parent / "hand-truck")).kinds


@pytest.mark.parametrize("name", pack_names())
def test_every_kind_is_used_by_several_things_of_the_packs_together(name: str) -> None:
    pack = load_pack(name)
    used = {
        one for each in pack_names() for c in load_pack(each).components.values() for one in c.kinds
    }
    assert used == set(pack.kinds)


@pytest.mark.parametrize(
    ("pack", "say", "item"),
    [
        ("helicopter-light-twin", "Now the number one engine. Drain, open.", "engine-drain"),
        ("goods-vehicle", "Now the rear of the trailer. Beeper's going.", "reversing-alarm"),
        ("aeroplane-piston-single", "Now the left wing. Fuel cap's hand tight.", "fuel-filler-cap"),
    ],
)
def test_a_word_of_a_kind_is_read(pack: str, say: str, item: str) -> None:
    found = read(spoken(say), pack, pipeline(pack)).statements
    assert [one.verdict.value for one in found if item in (one.item or "")] == ["satisfactory"]
