"""A pack author adds a cue phrase and a component in YAML alone, and reading knows both (docs/pack-author.md)."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from tests.spoken import PACK, spoken

from spokenfor.models import Verdict
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import build, read

VOCAB = Path(__file__).parents[2] / "vocab"
GUIDE = Path(__file__).parents[2] / "docs" / "pack-author.md"

COMPONENT = """
- id: snow-ski
  prefLabel: snow ski
  altLabel: [ski, ski shoe]
  aspects: [condition, security]
"""
LINE = "    - {component: snow-ski, positions: [left, right]}\n"
PRAISE = '- {phrase: "right as ninepence", category: satisfactory, direction: both, source: "common practice"}\n'
LOOK = '- {phrase: "keeping a weather eye out for", category: purpose, direction: forward, source: "common practice"}\n'


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the shipped vocabulary with a component, its lines and two cue phrases more."""
    vocab = tmp_path_factory.mktemp("vocab")
    for name in ("common", PACK):
        shutil.copytree(VOCAB / name, vocab / name)
    with (vocab / PACK / "components" / "landing-gear.yaml").open("a", encoding="utf-8") as file:
        file.write(COMPONENT)
    sheet = vocab / PACK / "sheet.yaml"
    nose = "- zone: nose\n  lines:\n"
    text = sheet.read_text("utf-8")
    assert nose in text
    sheet.write_text(text.replace(nose, nose + LINE), "utf-8")
    with (vocab / "common" / "speech.yaml").open("a", encoding="utf-8") as file:
        file.write("\n" + PRAISE + LOOK)
    return vocab / PACK


def said_of(folder: str, text: str) -> dict[str, list[str]]:
    reading = read(spoken("Now the nose.\n" + text), folder, build(folder))
    found: dict[str, list[str]] = {}
    for one in reading.statements:
        if one.item is not None:
            found.setdefault(one.item, []).append(one.verdict.value)
    return found


def test_a_new_component_and_a_new_phrase_are_read(folder: Path) -> None:
    said = said_of(str(folder), "Left ski right as ninepence. Right ski is cracked.")
    assert said == {"nose.snow-ski.left": ["satisfactory"], "nose.snow-ski.right": ["defect"]}


def test_a_new_look_states_no_result(folder: Path) -> None:
    said = said_of(str(folder), "Keeping a weather eye out for cracks on the nose cone.")
    assert said == {"nose.nose-cone": ["looked_for"]}


def test_without_the_rows_none_of_it_is_known() -> None:
    assert said_of(PACK, "Left ski right as ninepence.") == {}
    assert said_of(PACK, "Nose cone blithe as a lintel.") == {"nose.nose-cone": ["named"]}


def test_a_row_makes_sure_what_was_only_told_by_likeness(folder: Path) -> None:
    text = "Now the nose.\nNose cone right as ninepence."
    (bare,) = read(spoken(text), PACK, build(PACK)).statements
    (listed,) = read(spoken(text), str(folder), build(str(folder))).statements
    assert bare.verdict is listed.verdict is Verdict.SATISFACTORY
    assert bare.unlisted is not None and listed.unlisted is None
    assert bare.confidence < listed.confidence


def test_the_new_component_is_on_the_sheet(folder: Path) -> None:
    items = {item.id for item in load_pack(str(folder)).items}
    assert {"nose.snow-ski.left", "nose.snow-ski.right"} <= items


def test_the_guide_shows_the_same_rows() -> None:
    shown = re.sub(r"\n    ", "\n", GUIDE.read_text("utf-8"))
    for row in (COMPONENT.strip(), LINE.strip(), PRAISE.strip(), LOOK.strip()):
        assert row in shown
