"""find: words in all inspections below a folder, with their time and line, whatever is typed."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.record.fleet import kept
from tests.record.sealed import seal_signed
from tests.record.walked import BY
from tests.reporting.spoken_walk import make_transcript
from typer.testing import CliRunner

from spokenfor.cli import app
from spokenfor.errors import InputError
from spokenfor.record.entries import Action
from spokenfor.record.review import Decision, decide
from spokenfor.record.search import day, find
from spokenfor.record.search_hits import CLOSE, OPEN, Hit, Scope


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three inspections of R-07, one of Ä-11, one of nobody knows what; and what is no inspection."""
    top = tmp_path_factory.mktemp("fleet") / "root"
    kept(top, "a/first", "R-07", 0, ("f2", "f3"))
    kept(top, "a/second", "R-07", 31, ("f3",))
    kept(top, "b/deep/third", "R-07", 62, ("f2",))
    kept(top, "other", "\u00c4-11", 40, ("f2",))
    kept(top, "unnamed", None, 41)
    (top / "notes").mkdir()
    (top / "notes" / "report.json").write_text("{}")
    (top / "leak.txt").write_text("leak")
    return top


@pytest.fixture(autouse=True)
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache"


@pytest.fixture
def root(built: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(built, tmp_path / "root"))


def paths(root: Path, *words: str, **scope: object) -> list[str]:
    found = find(root, words, Scope(**scope))  # type: ignore[arg-type]
    assert found.notes == []
    return [place.path for place, _ in found.found]


def hits(root: Path, *words: str) -> list[Hit]:
    return find(root, words).found[0][1]


def test_newest_first_with_time_words_and_line(root: Path) -> None:
    assert paths(root, "weeping") == ["b/deep/third", "unnamed", "other", "a/second", "a/first"]
    (hit,) = hits(root, "weeping", "union")
    assert (hit.kind, hit.line, hit.recording) == ("said", "Left brake line", 1)
    assert hit.start == pytest.approx(spoken("weeping"), abs=0.01)
    assert f"{OPEN}weeping{CLOSE} at the {OPEN}union{CLOSE}" in hit.words


def spoken(said: str) -> float:
    """When a word of the walk was spoken."""
    words = [word for segment in make_transcript().segments for word in segment.words]
    return next(word.start for word in words if word.text == said)


def test_the_second_is_that_of_the_word(root: Path) -> None:
    """Of each word that stands once in the walk."""
    words = [word for segment in make_transcript().segments for word in segment.words]
    plain = [word.text.strip(".,?'").casefold() for word in words]
    once = [one for one, text in zip(words, plain, strict=True) if plain.count(text) == 1]
    assert len(once) > 20
    tried = 0
    for word in once[::3]:
        said = [one for one in hits(root, word.text) if one.kind == "said" and one.recording]
        if len(said) == 1:
            tried += 1
            assert said[0].start == pytest.approx(word.start, abs=0.01), word.text
    assert tried > 5


def test_a_finding_is_shown_before_the_words_it_rests_on(root: Path) -> None:
    found = {place.path: own for place, own in find(root, ["tyre", "cut"]).found}
    (hit,) = found["b/deep/third"]
    assert (hit.kind, hit.line, hit.state) == ("finding", "Nose tyre", "defect")
    assert all(hit.kind != "finding" for hit in found["a/second"])


def test_items_of_the_sheet_are_found_by_where_they_stand(root: Path) -> None:
    own = hits(root, "tail", "skid", "mentioned")
    assert [(hit.kind, hit.line, hit.start) for hit in own] == [("item", "Tail skid", None)]


def test_endings_and_beginnings(root: Path) -> None:
    assert paths(root, "WEEP") == paths(root, "weeping") == paths(root, "wee*")
    assert paths(root, "wee") == []


def test_asset_and_days(root: Path) -> None:
    r07 = ["b/deep/third", "a/second", "a/first"]
    assert paths(root, "weeping", asset="r- 07") == r07
    assert paths(root, "weeping", "R-07") == r07
    assert paths(root, "weeping", asset="\u00e4-11") == ["other"] == paths(root, "weeping", "a-11")
    assert paths(root, "weeping", since=day("2025-02"), until=day("2025-02", last=True)) == [
        "unnamed",
        "other",
        "a/second",
    ]
    assert paths(root, "weeping", until=day("2025-01-01", last=True)) == ["a/first"]
    assert paths(root, "weeping", asset="R-08") == []
    assert paths(root, "2025-01-01") == ["a/first"]


@pytest.mark.parametrize("text", ["yesterday", "2025-13", "2025-02-30", "", "1-2-3-4", "0", "-1"])
def test_what_is_no_day(text: str) -> None:
    with pytest.raises(InputError, match="is no date"):
        day(text, last=True)


def test_the_last_day() -> None:
    ends = ["2025", "2025-02", "2024-02", "2025-12", "2025-05-03"]
    shown = [day(one, last=True).isoformat() for one in ends]
    assert shown == ["2025-12-31", "2025-02-28", "2024-02-29", "2025-12-31", "2025-05-03"]


def test_decisions_corrections_and_dismissals(root: Path) -> None:
    folder = root / "a" / "second"
    assert find(root, ["radome"]).found == []
    decide(
        folder,
        Decision(
            Action.CHANGE_STATUS, "f3", "B. Zebrowski", why="old stain", status="satisfactory"
        ),
    )
    decide(folder, Decision(Action.CORRECT_WORDS, "s1", BY, words="Begin at the radome."))
    assert paths(root, "zebrowski", "stain") == ["a/second"]
    assert [hit.kind for hit in hits(root, "stain")] == ["decision"]
    assert paths(root, "radome") == ["a/second"]
    kinds = {
        hit.kind
        for place, own in find(root, ["leak"]).found
        for hit in own
        if place.path == "a/second"
    }
    assert "finding" not in kinds


def test_follows_what_changes_comes_and_goes(root: Path) -> None:
    assert len(paths(root, "weeping")) == 5
    shutil.rmtree(root / "other")
    shutil.copytree(root / "unnamed", root / "copy")
    (root / "a" / "first").rename(root / "moved")
    # The copy is the same inspection once more: it is shown once.
    assert paths(root, "weeping") == ["b/deep/third", "copy", "a/second", "moved"]
    shutil.rmtree(root / "copy")
    assert paths(root, "weeping") == ["b/deep/third", "unnamed", "a/second", "moved"]


def test_a_bag_and_its_folder_are_one_inspection(root: Path, tmp_path: Path) -> None:
    bag = seal_signed(root / "other", tmp_path / "key")
    (place,) = [one for one, _ in find(root, ["weeping"], Scope(asset="\u00c4-11")).found]
    assert (place.path, place.sealed) == ("other", False)
    shutil.rmtree(root / "other")
    (place,) = [one for one, _ in find(root, ["weeping"], Scope(asset="\u00c4-11")).found]
    assert (place.path, place.sealed) == (bag.name, True)


def test_the_folder_may_be_the_inspection_itself(root: Path) -> None:
    assert paths(root / "other", "weeping") == ["."]


@pytest.mark.parametrize(
    "typed",
    [
        '"',
        '""',
        "* *",
        "-",
        "()",
        "NEAR(",
        "^",
        ":",
        "'; DROP TABLE said; --",
        "\x00",
        "\ud800",
        " ",
    ],
)
def test_nothing_to_look_for_is_said(root: Path, typed: str) -> None:
    if any(one.isalnum() for one in typed):
        assert find(root, [typed]).found == []
    else:
        with pytest.raises(InputError, match="no word to look for"):
            find(root, [typed])


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    words=st.lists(
        st.text(max_size=12) | st.sampled_from(["AND", "OR", "NOT", "leak*", 'a"b', "text:leak"]),
        max_size=5,
    )
)
def test_no_words_are_an_error_of_the_index(built: Path, words: list[str]) -> None:
    try:
        find(built, words)
    except InputError as error:
        assert "no word to look for" in str(error)


def test_words_that_are_operators_elsewhere(root: Path) -> None:
    assert paths(root, "weeping", "NEAR") == []
    assert len(paths(root, "not", "inspected")) == 5


def test_too_many_words(root: Path) -> None:
    with pytest.raises(InputError, match="too many"):
        find(root, ["leak"] * 33)


def test_limit(root: Path) -> None:
    answer = find(root, ["satisfactory"], limit=3)
    assert sum(len(own) for _, own in answer.found) == 3
    assert answer.left_out > 3


def run(*typed: object) -> tuple[int, str, str]:
    done = CliRunner().invoke(app, [str(one) for one in typed])
    return done.exit_code, done.stdout, done.stderr


def test_the_command(root: Path) -> None:
    status, out, err = run("find", root, "tyre", "cut", "--asset", "R-07", "--since", "2025-03")
    assert (status, err) == (0, "")
    head, line, foot = out.splitlines()
    assert head == "R-07  4 March 2025, 06:30 UTC, by Sample voice  (b/deep/third)"
    assert line.startswith("  rec 1, 0:25    finding Nose [tyre]: [cut], defect.")
    assert foot == "1 place in 1 inspection"
    assert run("find", root, "elephant")[:2] == (0, "Nothing found\n")


def test_json(root: Path) -> None:
    status, out, _ = run("find", root, "tyre", "cut", "--json")
    told = json.loads(out)
    assert status == 0 and told["not_searched"] == []
    (newest, *_) = [one for one in told["hits"] if one["kind"] == "finding"]
    assert newest["inspection"]["path"] == "b/deep/third"
    assert (newest["recording"], newest["line"], newest["state"]) == (1, "Nose tyre", "defect")
    assert set(newest["found"]) >= {"tyre", "cut"}
    assert OPEN not in newest["words"]
