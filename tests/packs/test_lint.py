"""Each fault of a pack is named where it stands, with what to do about it."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.packs.small_pack import write_small_pack
from typer.testing import CliRunner

from spokenfor.cli import app
from spokenfor.errors import InputError
from spokenfor.packs.lint import lint
from spokenfor.packs.load import load_pack, pack_names
from spokenfor.packs.schema import Component
from spokenfor.packs.yaml_lines import YamlFile

ALL, ZONES, SHEET, HEAD = "components/all.yaml", "zones.yaml", "sheet.yaml", "pack.yaml"
# What is written instead of what, in which file; where it is told; what is told; how it is to be mended.
FAULTS = [
    (ALL, "[grip, hand rail]", "[grip, 12]", "line 3, column 20", "12 is read as a number", "quotes: '12'"),
    (ALL, "[grip, hand rail]", "[grip, true]", "line 3, column 20", "true is read as a number or as true/false", "quotes: 'true'"),
    (ALL, "altLabel: [grip", "altlabel: [grip", "line 3, column 3", "altlabel: there is no such key", "mend its spelling"),
    (ALL, "  aspects: [security]", "  aspects: security", "line 12, column 3", "a list belongs there", "[security]"),
    (ALL, "aspects: [security]", "aspects: [shine]", "line 12, column 3", "uses aspect 'shine', which is not defined", "Mend its spelling"),
    (ALL, "minimum: 2, maximum: 3", "minimum: 3, maximum: 2", "line 9, column 7", "minimum is above maximum", "docs/pack-author.md"),
    (ALL, "- id: axle", "- id: The Axle", "line 10, column 3", "'The Axle' is not of the right form", "docs/pack-author.md"),
    (ZONES, "prefLabel: frame", "preflabel: frame", "line 1, column 3", "key 'prefLabel' is missing", "Add that key"),
    (ZONES, "- id: running-gear", "- id: frame", "line 3, column 3", "zone 'frame' is already defined in zones.yaml, line 1", "its own id"),
    (SHEET, "[left, right]", "[left, rigth]", "line 6, column 43", "position 'rigth' is not defined", "Mend its spelling"),
    (SHEET, "component: axle", "component: axel", "line 7, column 8", "component 'axel' is not defined", "Mend its spelling"),
    (SHEET, "    - {component: axle}\n", "    - {component: axle}\n    - {component: axle}\n", "line 8, column 7", "'running-gear.axle' stands twice", "Keep one"),
    (SHEET, "- zone: running-gear", "- zone: running", "line 4, column 3", "zone 'running' is not defined", "Mend its spelling"),
    (HEAD, "version: 1.0.0", "version: 1.0", "line 3, column 1", "1.0 is read as a number", "quotes: '1.0'"),
    (HEAD, "title: Hand truck", "title:", "line 2, column 1", "nothing is written there", "Write something"),
    (HEAD, "name: hand-truck", "name: [hand-truck", "line 2, column 6", "not valid YAML", "indentation"),
]  # fmt: skip
REMARKS = [
    (ALL, "[grip, hand rail]", "[grip, axle]", None, None, None),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  altLabel: [tyre]\n", "line 12, column 14", "label 'tyre' names both 'tyre' and 'axle'", "say more in it"),
    (ALL, "prefLabel: axle\n", "prefLabel: tyre\n", "line 5, column 3", "can never be filled", "name of its own"),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  altLabel: [tyro]\n", "line 12, column 14", "'tyro' in 'tyro' is spelled out by rule", "phones in say"),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  altLabel: [tires valve, tire valves]\n", "line 12, column 27", "label 'tire valves' of 'axle' is understood already, as 'tires valve'", "plural"),
    (ALL, "[grip, hand rail]", "[grip, Handle]", "line 3, column 20", "label 'Handle' of 'handle' is understood already, as 'handle'", "plural"),
    (ALL, "prefLabel: tyre\n", "prefLabel: tyre\n  altLabel: [cover, tire]\n", "line 7, column 21", "label 'tire' of 'tyre' is understood already, as 'tyre'", "same-words"),
    (ZONES, "[down at the wheels]", "[down the left side, down the nearside]", "line 5, column 34", "'down the nearside' of 'running-gear' is understood already, as 'down the left side'", "same-words"),
    (ALL, "[grip, hand rail]", "[grip, ELT, emergency locator transmitter]", "line 3, column 25", "is understood already, as 'ELT'", "same-words"),
    (ALL, "prefLabel: axle\n", "prefLabel: tire\n", "line 5, column 3", "can never be filled", "name of its own"),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  altLabel: [dire]\n", "line 12, column 14", "sound alike", "sounds_kept"),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  altLabel: [brake]\n", "line 12, column 14", "'brake' sounds like the everyday word 'break'", "hiddenLabel"),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  altLabel: [crack]\n", "line 12, column 14", "label 'crack' is both a component and a condition", "Say more"),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  altLabel: [running gear]\n", "line 4, column 3", "label 'running gear' is both a component and a zone", "Say more"),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  altLabel: [back to normal]\n", None, None, None),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  altLabel: [none]\n", "line 12, column 14", "is also a cue phrase (absent)", "Say more"),
    (ALL, "prefLabel: axle\n", "prefLabel: axle\n  hiddenLabel: [axles]\n", "line 12, column 17", "mis-hearing 'axles' of 'axle' is understood already, as 'axle'", "Take it out"),
    (ALL, "unit: bar", "unit: millimeter", "line 9, column 7", "pressure is not measured in 'millimeter'", "psi or bar"),
    (ALL, "unit: bar", "unit: barg", "line 9, column 7", "'barg' is no unit that pint knows", "psi or bar"),
    (ALL, "of: pressure", "of: wear", "line 9, column 7", "wear is not measured in 'bar'", "millimeter"),
    (SHEET, "[left, right]", "[left]", "line 5, column 3", "has a line for left and none for right", "Add the other line"),
    (SHEET, "    - {component: axle}\n", "", "line 10, column 3", "component 'axle' is on no line", "Give it a line"),
    (SHEET, "    - {component: axle}\n", "    - {component: axle}\n    - {component: axle, positions: [left, right]}\n", "line 10, column 3", "with and without a position", "each line a position"),
    (ZONES, "  altLabel: [down at the wheels]\n", "- id: tail\n  prefLabel: tail end\n", "line 5, column 3", "zone 'tail' has no line", "Give it lines"),
    (SHEET, "[left, right]", "[left, number-one, right, number-two]", None, None, None),
]  # fmt: skip


def lint_output(folder: Path) -> str:
    return CliRunner().invoke(app, ["pack", "lint", str(folder)]).output


@pytest.mark.parametrize(
    ("file", "old", "new", "where", "what", "mend"), FAULTS, ids=[row[4] for row in FAULTS]
)
def test_a_broken_pack(
    tmp_path: Path, file: str, old: str, new: str, where: str, what: str, mend: str
) -> None:
    folder = write_small_pack(tmp_path / "hand-truck", {file: (old, new)})
    with pytest.raises(InputError) as raised:
        load_pack(str(folder))
    told = f"{folder / file}, {where}: "
    assert str(raised.value).startswith(told), str(raised.value)
    assert what in str(raised.value)
    assert mend in str(raised.value)
    if "not valid YAML" not in what:
        assert told in lint_output(folder)


@pytest.mark.parametrize(
    ("file", "old", "new", "where", "what", "mend"),
    REMARKS,
    ids=[f"{row[2]}{row[4]}" for row in REMARKS],
)
def test_a_pack_that_loads_but_may_be_misheard(
    tmp_path: Path,
    file: str,
    old: str,
    new: str,
    where: str | None,
    what: str | None,
    mend: str | None,
) -> None:
    folder = write_small_pack(tmp_path / "hand-truck", {file: (old, new)})
    remarks = lint(load_pack(str(folder)))
    if where is None or what is None or mend is None:
        assert [str(remark) for remark in remarks] == []
        return
    told = [remark for remark in remarks if what in remark.what]
    assert told, remarks
    assert f"{told[0].place.line}, column {told[0].place.column}" == where.removeprefix("line ")
    assert mend in told[0].mend


def test_every_fault_of_a_file_is_listed(tmp_path: Path) -> None:
    changes = {
        SHEET: ("[left, right]}\n    - {component: axle", "[left, rigth]}\n    - {component: axel")
    }
    said = lint_output(write_small_pack(tmp_path / "hand-truck", changes))
    assert "'rigth'" in said and "'axel'" in said


def test_the_small_pack_itself_is_clean(tmp_path: Path) -> None:
    assert lint(load_pack(str(write_small_pack(tmp_path / "hand-truck")))) == []


@pytest.mark.parametrize("name", pack_names())
def test_the_shipped_packs_are_clean(name: str) -> None:
    assert [str(remark) for remark in lint(load_pack(name))] == []


def test_a_pair_that_was_looked_at_is_kept(tmp_path: Path) -> None:
    changes = {
        ALL: ("prefLabel: axle\n", "prefLabel: axle\n  altLabel: [brake]\n"),
        HEAD: ("caution: An example.\n", "caution: An example.\nsounds_kept: [[brake, break]]\n"),
    }
    assert lint(load_pack(str(write_small_pack(tmp_path / "hand-truck", changes)))) == []


def test_two_lines_whose_positions_mean_the_same(tmp_path: Path) -> None:
    changes = {
        SHEET: ("[left, right]", "[left, number-one]"),
        HEAD: (
            "caution: An example.\n",
            "caution: An example.\nsame_position: [[left, number-one]]\n",
        ),
    }
    remarks = lint(load_pack(str(write_small_pack(tmp_path / "hand-truck", changes))))
    assert any(
        "cannot be told apart" in remark.what and remark.place.line == 6 for remark in remarks
    )


@pytest.mark.parametrize("word", ["on", "off", "yes", "no", "On", "2026-01-01"])
def test_plain_words_stay_words(tmp_path: Path, word: str) -> None:
    """YAML 1.2.2, section 10.3.2: the core schema knows only true and false."""
    path = tmp_path / "words.yaml"
    path.write_text(
        f"- id: lamp\n  prefLabel: lamp\n  aspects: [operation]\n  states: {{expected: [{word}]}}\n"
    )
    lamp = Component.model_validate(YamlFile(path).data[0])
    assert lamp.states.expected == [word]


def test_a_changed_file_is_read_again(tmp_path: Path) -> None:
    folder = write_small_pack(tmp_path / "hand-truck")
    first = load_pack(str(folder))
    assert load_pack(str(folder)) is first
    write_small_pack(folder, {HEAD: ("version: 1.0.0", "version: 1.10.0")})
    assert load_pack(str(folder)).head.version == "1.10.0"
