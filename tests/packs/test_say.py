"""The names of a pack, spoken by a synthetic voice and heard."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tests.packs.small_pack import write_small_pack
from typer.testing import CliRunner

from spokenfor.cli import app
from spokenfor.errors import InputError
from spokenfor.packs.heard import FILE, Heard, HeardTerm, read_heard, table_lines
from spokenfor.packs.lint import lint
from spokenfor.packs.load import load_pack
from spokenfor.say import write_heard


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="needs Debian's espeak-ng")
def test_each_name_is_spoken_and_heard(tmp_path: Path) -> None:
    """A voice and weights that are real: of four plain names at least half are heard."""
    folder = write_small_pack(tmp_path / "hand-truck")
    done = CliRunner().invoke(app, ["pack", "say", str(folder), "--voice", "espeak"])
    assert done.exit_code == 0, done.output
    heard = read_heard(load_pack(str(folder)))
    assert [one.label for one in heard] == ["handle", "tyre", "axle"]
    assert sum(one.how is not Heard.NOT for one in heard) >= 2, done.output
    assert f"{len(heard)} names spoken by espeak" in done.output
    assert (
        "names spoken by a synthetic voice"
        in CliRunner().invoke(app, ["pack", "lint", str(folder)]).output
    )


def test_lint_shows_what_was_not_heard_until_the_pack_changes(tmp_path: Path) -> None:
    folder = write_small_pack(tmp_path / "hand-truck")
    pack = load_pack(str(folder))
    heard = [
        HeardTerm("handle", "grip", Heard.NOT, "the rip is good"),
        HeardTerm("axle", "axle", Heard.AT_ONCE, "the axle is good"),
    ]
    assert write_heard(pack, heard, "espeak en-us") == folder / FILE
    told = [remark for remark in lint(load_pack(str(folder))) if "was not heard" in remark.what]
    assert [(one.place.line, one.what) for one in told] == [
        (3, "'grip' was not heard when it was spoken, but: the rip is good")
    ]
    assert table_lines(heard, "espeak en-us") == [
        "2 names spoken by espeak en-us: 1 heard at once, 0 after second hearing, 1 not",
        "  grip  not                   heard as: the rip is good",
    ]
    said = CliRunner().invoke(app, ["pack", "lint", str(folder)]).output
    assert "2 names spoken by a synthetic voice: 1 heard at once" in said
    assert "  grip  not                   heard as: the rip is good" in said
    write_small_pack(folder, {"pack.yaml": ("1.0.0", "1.0.1")})
    assert read_heard(load_pack(str(folder))) == []


def test_a_voice_that_is_not_there(tmp_path: Path) -> None:
    folder = write_small_pack(tmp_path / "hand-truck")
    done = CliRunner().invoke(app, ["pack", "say", str(folder), "--voice", "parrot"])
    assert isinstance(done.exception, InputError)
    assert "parrot" in str(done.exception)
