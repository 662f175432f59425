"""What a pack author is told: file, line and mend."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from spokenfor.errors import InputError
from spokenfor.packs.lint import lint
from spokenfor.packs.load import load_pack, vocabulary_root
from spokenfor.packs.show import pack_json, pack_lines

NAME = "helicopter-light-twin"


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A copy of the shipped pack and of what all packs share, free to be broken."""
    for part in (NAME, "common"):
        shutil.copytree(vocabulary_root() / part, tmp_path / part)
    return tmp_path / NAME


def put(path: Path, text: str) -> Callable[[Path], None]:
    return lambda pack: (pack / path).write_text(text, encoding="utf-8") and None


def swap(path: str, old: str, new: str) -> Callable[[Path], None]:
    def change(pack: Path) -> None:
        text = (pack / path).read_text(encoding="utf-8")
        assert old in text
        (pack / path).write_text(text.replace(old, new, 1), encoding="utf-8")

    return change


BROKEN: list[tuple[str, Callable[[Path], None], str]] = [
    ("not YAML", put(Path("zones.yaml"), "- id: [nose\n- x"), r"zones\.yaml, line \d+, column \d+: not valid YAML"),
    ("not text", lambda pack: (pack / "zones.yaml").write_bytes(b"\xff\xfe\x00") and None, r"zones\.yaml"),
    ("empty", put(Path("sheet.yaml"), ""), r"sheet\.yaml, line 1"),
    ("unknown key", swap("zones.yaml", "prefLabel: nose section", "prefLable: nose section"), r"zones\.yaml, line \d+"),
    ("bad id", swap("zones.yaml", "- id: nose\n", "- id: The Nose\n"), r"zones\.yaml, line \d+.*id"),
    ("unknown zone", swap("sheet.yaml", "- zone: nose\n", "- zone: nowhere\n"), r"sheet\.yaml, line \d+, column \d+: zone 'nowhere'"),
    ("unknown component", swap("sheet.yaml", "component: nose-cone", "component: nose-coan"), r"sheet\.yaml, line \d+, column \d+: component 'nose-coan'"),
    ("unknown position", swap("sheet.yaml", "[left, right]", "[left, rigth]"), r"sheet\.yaml, line \d+, column \d+: position 'rigth'"),
    ("line twice", swap("sheet.yaml", "    - {component: battery}\n", "    - {component: battery}\n    - {component: battery}\n"), r"sheet\.yaml, line \d+, column \d+: 'nose\.battery' stands twice"),
    ("unknown aspect", swap("components/airframe.yaml", "aspects: [condition", "aspects: [gleam"), r"aspect 'gleam'"),
    ("bad cue category", swap("../common/speech.yaml", "category: absent", "category: gone"), r"speech\.yaml, line \d+"),
    ("bad phones", swap("../common/positions.yaml", "EH1 L EY1 CH", "ell aitch"), r"positions\.yaml, line \d+"),
    ("no components", lambda pack: shutil.rmtree(pack / "components"), r"components"),
    ("no sheet", lambda pack: (pack / "sheet.yaml").unlink(), r"sheet\.yaml: cannot be read"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("change", "told"), [row[1:] for row in BROKEN], ids=[row[0] for row in BROKEN]
)
def test_a_broken_pack_is_told_in_one_line(
    copied: Path, change: Callable[[Path], None], told: str
) -> None:
    change(copied)
    with pytest.raises(InputError, match=told) as raised:
        load_pack(str(copied))
    assert "\n" not in str(raised.value)
    assert raised.value.mend


def test_the_line_named_is_the_line_to_mend(copied: Path) -> None:
    lines = (copied / "zones.yaml").read_text().splitlines()
    at = next(
        number for number, line in enumerate(lines, start=1) if "prefLabel: nose gear" in line
    )
    lines[at - 1] = "  prefLabel: ''"
    (copied / "zones.yaml").write_text("\n".join(lines))
    with pytest.raises(InputError, match=f"line {at}, column 3:"):
        load_pack(str(copied))


def test_an_unknown_name_lists_the_packs() -> None:
    with pytest.raises(InputError, match=NAME):
        load_pack("steam-tractor")


def test_a_folder_without_pack_yaml(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"no pack\.yaml"):
        load_pack(str(tmp_path))


def test_any_change_of_a_file_changes_the_sum(copied: Path) -> None:
    before = load_pack(NAME).sha256
    assert load_pack(str(copied)).sha256 == before
    other = copied.parent / "again" / NAME
    shutil.copytree(copied, other)
    shutil.copytree(copied.parent / "common", other.parent / "common")
    with (other / "sheet.yaml").open("a") as sheet:
        sheet.write("\n# a remark\n")
    assert load_pack(str(other)).sha256 != before


def test_show_speaks_of_every_line() -> None:
    pack = load_pack(NAME)
    shown = "\n".join(pack_lines(pack))
    assert all(item.label in shown for item in pack.items)
    assert pack.head.caution in shown
    assert all(f'"{item.id}"' in pack_json(pack) for item in pack.items)


def test_lint_finds_a_label_that_can_tick_nothing(copied: Path) -> None:
    swap("components/airframe.yaml", "prefLabel: nose cone", "prefLabel: battery")(copied)
    assert any("neither will be ticked" in remark.what for remark in lint(load_pack(str(copied))))
