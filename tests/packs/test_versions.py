"""A pack goes on changing; what was made with it stays what it was."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from tests.packs.small_pack import write_small_pack
from typer.testing import CliRunner

from spokenfor.cli import app
from spokenfor.packs.load import load_pack

SAID = (
    "WEBVTT\n\n00:00:01.000 --> 00:00:06.000\nRunning gear. Left tyre is good. Axle is cracked.\n"
)


def checked(pack: Path, out: Path, folder: Path) -> dict[str, object]:
    """What the report of one narration holds."""
    captions = folder / "walk.vtt"
    captions.write_text(SAID)
    done = CliRunner().invoke(
        app, ["check", "--transcript", str(captions), "--pack", str(pack), "--out", str(out)]
    )
    assert done.exit_code == 0, done.output
    report: dict[str, object] = json.loads((out / "report.json").read_text())
    return report


def test_a_report_names_the_version_and_the_sum(tmp_path: Path) -> None:
    folder = write_small_pack(tmp_path / "hand-truck")
    pack = load_pack(str(folder))
    inspection = checked(folder, tmp_path / "out", tmp_path)["inspection"]
    assert isinstance(inspection, dict)
    named = inspection["pack"]
    assert (named["name"], named["version"], named["sha256"]) == (
        "hand-truck",
        "1.0.0",
        pack.sha256,
    )


def test_where_a_pack_lies_does_not_change_its_sum(tmp_path: Path) -> None:
    folder = write_small_pack(tmp_path / "hand-truck")
    shutil.copytree(folder, tmp_path / "elsewhere" / "old-one")
    assert (
        load_pack(str(tmp_path / "elsewhere" / "old-one")).sha256 == load_pack(str(folder)).sha256
    )


def test_an_old_report_opens_beside_a_new_one(tmp_path: Path) -> None:
    """A line was taken out and the pack is gone from where it was: the old inspection still compares."""
    folder = write_small_pack(tmp_path / "hand-truck")
    checked(folder, tmp_path / "first", tmp_path)
    shutil.rmtree(folder)
    newer = write_small_pack(
        tmp_path / "newer" / "hand-truck",
        {
            "sheet.yaml": (
                "    - {component: tyre, positions: [left, right]}\n",
                "    - {component: tyre}\n",
            ),
            "pack.yaml": ("1.0.0", "2.0.0"),
        },
    )
    checked(newer, tmp_path / "second", tmp_path)
    done = CliRunner().invoke(app, ["compare", str(tmp_path / "first"), str(tmp_path / "second")])
    assert done.exit_code == 0, (done.output, done.exception)
    assert "tyre, left" in (tmp_path / "first" / "report.html").read_text()
