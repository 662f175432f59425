"""The check, run again from the sealed sound and pack, must say the same, or every other line is shown."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.record.sealed import as_if_sealed, faults_of
from tests.record.walked import BY

from spokenfor.check import Request, check
from spokenfor.models import Result, Transcript
from spokenfor.record.entries import Action
from spokenfor.record.folder import Extended, open_inspection
from spokenfor.record.replay import replay
from spokenfor.record.review import Decision, decide
from spokenfor.record.seal import Seal, seal


def again(asked: Extended) -> tuple[Result, Transcript]:
    request = Request(
        sounds=asked.sounds,
        pack=asked.pack,
        asset=asked.asset,
        by=asked.by,
        model=asked.model,
        captions=asked.captions,
    )
    return check(request)


@pytest.fixture
def bag(captions_folder: Path) -> Path:
    """Sealed, with a decision, from captions: the whole job but the recogniser."""
    why = "seen from the step"
    item = open_inspection(captions_folder).result.items[1].id
    decide(
        captions_folder,
        Decision(Action.CHANGE_STATUS, item, BY, why=why, status="satisfactory"),
    )
    return seal(captions_folder, Seal(BY, despite="captions only"))


def test_the_same_again(bag: Path) -> None:
    outcome = replay(bag, again)
    assert outcome.differences == []
    assert outcome.versions == []


def test_every_line_that_differs_is_shown(bag: Path) -> None:
    """A report that somebody with the form at hand made better than it was: the log names the
    report, the replay each line."""
    path = bag / "data/report.json"
    tree = json.loads(path.read_text())
    line = next(one for one in tree["items"] if one["status"] == "satisfactory")
    other = next(one for one in tree["items"] if one["status"] == "unheard")
    other["status"] = line["status"]
    path.write_text(json.dumps(tree, sort_keys=True, indent=2, ensure_ascii=False) + "\n")
    as_if_sealed(bag)
    assert faults_of(bag) == ["data/report.json is not the one that the log says was made"]
    differences = replay(bag, again).differences
    assert '-      "status": "satisfactory",' in differences
    assert '+      "status": "unheard",' in differences
    assert differences[0] == "--- report.json as sealed"
    assert any(one.startswith("--- reviewed.json") for one in differences)


def test_another_version_is_named(bag: Path) -> None:
    path = bag / "data/settings.json"
    tree = json.loads(path.read_text())
    now = tree["versions"]["spacy"]
    tree["versions"]["spacy"] = "1.0"
    path.write_text(json.dumps(tree))
    assert replay(bag, again).versions == [f"spacy 1.0 then, {now} now"]


def test_a_name_that_the_folder_could_not_hold_is_given_back(captions_folder: Path) -> None:
    """The report repeats the name of the file, so the replay must find it under that name."""
    for name in ("settings.json", "report.json", "transcript.json"):
        path = captions_folder / name
        path.write_text(path.read_text().replace('"walk.vtt"', '"walk 100%.vtt"'))
    bag = seal(captions_folder, Seal(BY, despite="captions only"))
    assert (bag / "data/captions/walk.vtt").is_file()
    assert replay(bag, again).differences == []
