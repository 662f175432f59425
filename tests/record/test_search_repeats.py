"""find --repeats: what comes back on the same asset."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.record.fleet import kept
from tests.record.test_search import run

from spokenfor.record.entries import Action
from spokenfor.record.review import Decision, decide
from spokenfor.record.search import day
from spokenfor.record.search_hits import Scope
from spokenfor.record.search_repeats import repeats


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Five inspections of R-07 with the brake line leaking in three, the tyre cut in two; one of R-08."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    top = tmp_path / "root"
    for number, findings in enumerate([("f3",), (), ("f2", "f3"), ("f2",), ("f3", "f5")]):
        kept(top, f"r07-{number}", "R-07", number * 10, findings)
    kept(top, "r08", "R-08", 5, ("f3", "f2"))
    kept(top, "nobody-1", None, 6, ("f3",))
    kept(top, "nobody-2", None, 7, ("f3",))
    return top


def test_third_time_in_five_inspections(root: Path) -> None:
    found, notes = repeats(root)
    assert notes == []
    assert [(one.asset, one.label, len(one.times), one.inspections) for one in found] == [
        ("R-07", "Left brake line: leak", 3, 5),
        ("R-07", "Nose tyre: cut", 2, 5),
    ]
    leak = found[0]
    assert (leak.component, leak.position, leak.condition) == ("brake-line", "left", "leak")
    assert [(one.nth, one.place.path) for one in leak.times] == [
        (1, "r07-0"),
        (3, "r07-2"),
        (5, "r07-4"),
    ]
    assert leak.times[0].words.startswith("Left brake line weeping")
    assert leak.times[0].start == pytest.approx(47, abs=0.5)


def test_asset_and_days(root: Path) -> None:
    assert repeats(root, Scope(asset="R-08"))[0] == []
    found, _ = repeats(root, Scope(asset="r-07", since=day("2025-01-15")))
    told = [(one.label, len(one.times), one.inspections) for one in found]
    assert told == [("Left brake line: leak", 2, 3), ("Nose tyre: cut", 2, 3)]


def test_what_a_person_dismissed_does_not_count(root: Path) -> None:
    repeats(root)
    why = "it was water"
    decide(
        root / "r07-2",
        Decision(Action.CHANGE_STATUS, "f3", "B. Second", why=why, status="satisfactory"),
    )
    found, _ = repeats(root)
    assert ("Left brake line: leak", 2) in [(one.label, len(one.times)) for one in found]


def test_the_command(root: Path) -> None:
    status, out, err = run("find", root, "--repeats", "--asset", "R-07")
    assert (status, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == "R-07  Left brake line: leak: third time in five inspections"
    assert lines[1].startswith("  2025-01-01  rec 1, 0:47    defect, found and put right")
    assert lines[1].endswith("r07-0")
    assert lines[4] == "R-07  Nose tyre: cut: second time in five inspections"
    assert run("find", root, "--repeats", "--asset", "R-09")[1] == "No finding came back\n"
    told = json.loads(run("find", root, "--repeats", "--json")[1])
    assert [len(one["times"]) for one in told["repeats"]] == [3, 2]
    assert told["repeats"][0]["times"][0]["inspection"]["asset"] == "R-07"
