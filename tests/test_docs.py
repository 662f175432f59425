"""The docs name every command, flag, pack key and cue category, and every link leads somewhere."""

from __future__ import annotations

import re
from pathlib import Path

import click
import pytest
import typer.main

from spokenfor import CAUTIONS
from spokenfor.cli import app
from spokenfor.packs import schema

TOP = Path(__file__).resolve().parents[1]
DOCS = [TOP / "README.md", TOP / "DEVELOPERS.md", *sorted((TOP / "docs").glob("*.md"))]


def commands(group: click.Group, path: str = "") -> list[tuple[str, click.Command]]:
    found: list[tuple[str, click.Command]] = []
    for name, command in group.commands.items():
        inner = getattr(command, "commands", None)
        found += commands(command, f"{path}{name} ") if inner else [(path + name, command)]  # type: ignore[arg-type]
    return found


def test_every_command_and_flag_is_documented() -> None:
    text = (TOP / "docs/commands.md").read_text()
    for path, command in commands(typer.main.get_command(app)):  # type: ignore[arg-type]
        assert path.split()[-1] in text, path
        for parameter in command.params:
            for flag in [*parameter.opts, *parameter.secondary_opts]:
                if flag.startswith("--"):
                    assert flag in text, f"{path} {flag}"


@pytest.mark.parametrize(
    "model", ["PackHead", "Component", "Zone", "Condition", "Position", "Cue", "Unit"]
)
def test_every_pack_key_is_documented(model: str) -> None:
    text = (TOP / "docs/pack-author.md").read_text()
    for key in getattr(schema, model).model_fields:
        assert f"`{key}`" in text, f"{model}.{key}"


def test_every_cue_category_is_documented() -> None:
    text = (TOP / "docs/pack-author.md").read_text()
    for category in schema.CueCategory:
        assert f"`{category.value}`" in text


@pytest.mark.parametrize("page", DOCS, ids=lambda page: page.name)
def test_links_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)[^)]*\)", page.read_text()):
        if not target.startswith("http"):
            assert (page.parent / target).exists(), f"{page.name}: {target}"


def test_the_readme_carries_the_cautions() -> None:
    readme = " ".join((TOP / "README.md").read_text().replace(">", " ").split())
    for caution in CAUTIONS:
        assert caution in readme


def test_no_file_is_over_300_lines() -> None:
    long = {
        str(path.relative_to(TOP)): len(path.read_text().splitlines())
        for path in (TOP / "pipeline").rglob("*.py")
    }
    assert {name: lines for name, lines in long.items() if lines > 300} == {}


def test_stages_import_no_later_stage() -> None:
    order = ["packs", "hearing", "reading", "coverage", "reporting"]
    package = TOP / "pipeline/spokenfor"
    for stage in order:
        for path in (package / stage).glob("*.py"):
            used = set(re.findall(r"(?:from|import) spokenfor\.(\w+)", path.read_text()))
            assert used <= {"models", "errors", "packs", stage}, path.name
