"""`spokenfor compare` as a user types it."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.command import assert_one_line, contents, spokenfor
from tests.comparing.made_walks import learner, write_walk

import spokenfor as spokenfor_package


def test_walks_are_compared(walks: dict[str, Path], tmp_path: Path) -> None:
    before = {name: contents(path) for name, path in walks.items()}
    run = spokenfor(
        "compare",
        walks["second"],
        walks["first"] / "report.json",
        *("--reference", walks["teacher"], "--out", tmp_path / "out"),
        folder=tmp_path,
    )
    assert run.status == 0, run.stderr
    assert run.stdout.startswith("A   A. Learner, DEMO-1, 3 May 2025, 07:41 UTC: ")
    assert "\nB   a. learner" in run.stdout and "\nref T. Teacher" in run.stdout
    assert f"Page: {tmp_path / 'out' / 'feedback.html'}" in run.stdout
    assert {name: contents(path) for name, path in walks.items()} == before
    page = (tmp_path / "out/feedback.html").read_text(encoding="utf-8")
    assert page.count("data:audio/ogg;base64,") > 5


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["first", "nowhere"], "There is no 'nowhere'. Give a folder"),
        (["first", "empty"], "'empty' holds no inspection"),
        (["first", "broken"], "is broken: it is no whole JSON"),
        (["first"], "Only one walk was given. Give two or more"),
        (["first", "--reference", "first"], "Only one walk was given"),
        (["first", "other", "first"], "'first' was given twice"),
        (["first", "alien"], "The walks have no line of a sheet in common"),
        (["first", "other", "--out", "first"], "'first' holds an inspection"),
        (["first", "other", "--out", "first/report.json"], "report.json"),
        ([], "No walk was given. Give two or more"),
    ],
)
def test_bad_input_is_one_line(tmp_path: Path, arguments: list[str], says: str) -> None:
    write_walk(tmp_path / "first", learner())
    write_walk(tmp_path / "other", learner())
    alien = learner()
    for item in alien.items:
        item.id = f"alien.{item.id}"
    write_walk(tmp_path / "alien", alien)
    (tmp_path / "empty").mkdir()
    write_walk(tmp_path / "broken", learner())
    (tmp_path / "broken/report.json").write_text('{"schema": "spokenfor/rep')
    before = contents(tmp_path)
    run = spokenfor("compare", *arguments, folder=tmp_path)
    assert_one_line(run, says)
    assert contents(tmp_path) == before


def test_only_the_command_line_and_the_web_import_it() -> None:
    package = Path(spokenfor_package.__file__).parent
    users = {
        path.relative_to(package).parts[0]
        for path in package.rglob("*.py")
        if "spokenfor.comparing" in path.read_text(encoding="utf-8")
    }
    assert users - {"web"} == {"cli.py", "comparing"}
