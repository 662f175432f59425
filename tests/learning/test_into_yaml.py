"""A hidden label goes into the YAML; comments, order and spelling of everything else stay."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
import yaml

from spokenfor.errors import InputError
from spokenfor.learning.into_yaml import add_labels, with_labels
from spokenfor.packs.load import load_pack, vocabulary_root

NAME = "helicopter-light-twin"
TEXT = """# a comment
- id: one
  prefLabel: first thing   # a remark
  altLabel: [the one]
- id: two
  prefLabel: second
  hiddenLabel: [sekund,
     "see con"]
- id: three
  prefLabel: third
  hiddenLabel:
    - turd
  ata: "29"
- id: four
  prefLabel: fourth
  hiddenLabel: []
"""


@pytest.mark.parametrize("component", ["one", "two", "three", "four"])
@pytest.mark.parametrize(
    "labels", [["new label"], ["no", "don't: #", "a, b]"]], ids=["plain", "odd"]
)
def test_only_the_label_is_added(component: str, labels: list[str]) -> None:
    text = with_labels(TEXT, component, labels)
    assert text is not None
    before, after = yaml.safe_load(TEXT), yaml.safe_load(text)
    for row in before:
        if row["id"] == component:
            row["hiddenLabel"] = [*(row.get("hiddenLabel") or []), *labels]
    assert after == before
    kept = [line for line in TEXT.splitlines() if line in text.splitlines()]
    assert len(kept) >= len(TEXT.splitlines()) - 1


def test_a_component_that_is_not_there() -> None:
    assert with_labels(TEXT, "five", ["x"]) is None


def test_long_lists_are_wrapped() -> None:
    text = with_labels(TEXT, "four", ["a" * 60])
    text = with_labels(text or "", "four", ["b" * 60])
    assert max(map(len, (text or "").splitlines())) <= 100


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    shutil.copytree(vocabulary_root() / NAME, tmp_path / "mine")
    return tmp_path / "mine"


def test_the_pack_loads_with_its_new_label(mine: Path) -> None:
    common = vocabulary_root() / "common"
    every = {name: ["zyx " + name.replace("-", " ")] for name in load_pack(NAME).components}
    add_labels(mine, common, {(name, "hiddenLabel"): more for name, more in every.items()})
    add_labels(mine, common, {("nose-cone", "altLabel"): ["snout"]})
    after = load_pack(str(mine)).components
    for name, component in load_pack(NAME).components.items():
        assert after[name].hiddenLabel == [*component.hiddenLabel, *every[name]]
        more = ["snout"] if name == "nose-cone" else []
        assert after[name].altLabel == [*component.altLabel, *more]


def test_a_pack_that_would_not_load_is_left_as_it_was(mine: Path) -> None:
    before = {path: path.read_bytes() for path in mine.rglob("*.yaml")}
    with pytest.raises(InputError, match="no component 'keel'"):
        add_labels(
            mine,
            vocabulary_root() / "common",
            {("nose-cone", "hiddenLabel"): ["x"], ("keel", "altLabel"): ["y"]},
        )
    with pytest.raises(InputError):
        add_labels(mine, vocabulary_root() / "common", {("nose-cone", "hiddenLabel"): [" "]})
    assert {path: path.read_bytes() for path in mine.rglob("*.yaml")} == before
