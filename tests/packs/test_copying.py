"""A pack that ships becomes one's own; what is there already is left alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.command import contents
from typer.testing import CliRunner

from spokenfor.cli import app
from spokenfor.errors import InputError
from spokenfor.packs.copying import copy_pack
from spokenfor.packs.diff import diff_lines
from spokenfor.packs.load import load_pack, vocabulary_root


def test_a_copy_says_the_same_under_its_own_name(tmp_path: Path) -> None:
    shipped = contents(vocabulary_root())
    done = CliRunner().invoke(app, ["pack", "copy", "goods-vehicle", str(tmp_path / "Our Trucks")])
    assert done.exit_code == 0, done.output
    copy, pack = load_pack(str(tmp_path / "Our Trucks")), load_pack("goods-vehicle")
    assert copy.head.name == "our-trucks"
    assert copy.items == pack.items
    assert diff_lines(pack, copy)[2:] == ["pack: name changed"]
    assert contents(vocabulary_root()) == shipped


def test_editors_find_the_schemas_of_a_copy(tmp_path: Path) -> None:
    copy_pack("goods-vehicle", tmp_path / "ours", common=True)
    files = [*(tmp_path / "ours").rglob("*.yaml"), *(tmp_path / "common").glob("*.yaml")]
    hints = {}
    for path in files:
        first = path.read_text(encoding="utf-8").splitlines()[0]
        if "$schema=" in first:
            hints[path.name] = (path.parent / first.partition("$schema=")[2]).resolve()
    assert {"pack.yaml", "sheet.yaml", "axles.yaml", "speech.yaml"} <= set(hints)
    assert all(schema.is_file() for schema in hints.values()), hints


def test_common_files_of_ones_own_are_used(tmp_path: Path) -> None:
    copy_pack("goods-vehicle", tmp_path / "ours", common=True)
    assert load_pack(str(tmp_path / "ours")).common == (tmp_path / "common").resolve()


def test_nothing_that_is_there_is_overwritten(tmp_path: Path) -> None:
    (tmp_path / "ours").mkdir()
    (tmp_path / "common").mkdir()
    before = contents(tmp_path)
    with pytest.raises(InputError, match="ours' exists already"):
        copy_pack("goods-vehicle", tmp_path / "ours")
    with pytest.raises(InputError, match="common' exists already"):
        copy_pack("goods-vehicle", tmp_path / "theirs", common=True)
    assert contents(tmp_path) == before


def test_a_copy_that_would_not_load_is_not_made(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="driver_side"):
        copy_pack("goods-vehicle", tmp_path / "ours", driver_side="middle")
    assert not list(tmp_path.iterdir())


def test_a_folder_without_a_name_for_the_pack_is_refused(tmp_path: Path) -> None:
    done = CliRunner().invoke(app, ["pack", "copy", "goods-vehicle", str(tmp_path / "---")])
    assert isinstance(done.exception, InputError)
    assert str(done.exception) == (
        "'---' gives no name for a pack. Give a name that has letters or digits, as crane-weekly."
    )
    assert list(tmp_path.iterdir()) == []
