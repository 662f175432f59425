"""Walks from folders and files: reviewed ones, ones with their sound, and what is no walk."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.comparing.made_walks import learner, teacher, write_walk
from tests.record.walked import BY, walked

from spokenfor.comparing.comparison import compare_walks
from spokenfor.comparing.pages import comparison_html
from spokenfor.comparing.reading_walks import read_walk
from spokenfor.errors import InputError
from spokenfor.record.entries import Action
from spokenfor.record.review import Decision, decide
from spokenfor.record.seal import Seal, seal


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """An inspection folder with recordings, pack and log; one line of it decided."""
    folder = walked(tmp_path / "phone").keep(tmp_path / "r07").parent
    named = next(one for one in learner().items if one.status.value == "named")
    decide(
        folder,
        Decision(
            Action.CHANGE_STATUS, named.id, by=BY, why="Heard it again", status="satisfactory"
        ),
    )
    return folder


def changed() -> str:
    return next(one.id for one in learner().items if one.status.value == "named")


@pytest.mark.parametrize("given", [".", "report.json"])
def test_decisions_outrank_what_was_proposed(kept: Path, given: str) -> None:
    walk = read_walk(kept / given)
    item = changed()
    assert walk.items[item].status.value == "satisfactory"
    assert (walk.decided_by, walk.was) == ({item: BY}, {item: "named"})
    assert walk.transcript is not None and sorted(walk.sounds) == [0, 1]


def test_the_page_says_who_decided(kept: Path, tmp_path: Path) -> None:
    plain = write_walk(tmp_path / "plain", learner())
    compared = compare_walks([read_walk(kept), read_walk(plain)])
    page = " ".join(comparison_html(compared).split())
    assert f"decided by {BY}, proposed: named" in page
    assert f"Reviewed by {BY}: walk A, 1 decision." in page or f"Reviewed by {BY}: walk B" in page
    assert "Not reviewed: walk" in page


def test_a_sealed_bag_is_a_walk(kept: Path, tmp_path: Path) -> None:
    bag = seal(kept, Seal(BY, None, None, "for the test"), tmp_path / "bag")
    walk = read_walk(bag)
    assert walk.items[changed()].status.value == "satisfactory"


def test_sound_is_taken_only_where_it_is_the_very_recording(
    walks: dict[str, Path], tmp_path: Path
) -> None:
    walk = read_walk(walks["first"])
    assert {number: path.parent for number, path in walk.sounds.items()} == {
        0: walks["first"],
        1: walks["first"],
    }
    alone = tmp_path / "alone.json"
    alone.write_bytes((walks["first"] / "report.json").read_bytes())
    assert read_walk(alone).sounds == {}
    assert len(read_walk(alone, [walks["first"]]).sounds) == 2
    name = walk.result.recordings[0].file
    (tmp_path / name).write_bytes(b"another")
    assert read_walk(alone).sounds == {}


def test_a_recording_name_leads_nowhere_else(tmp_path: Path) -> None:
    result = learner()
    (tmp_path / "secret.wav").write_bytes(b"secret")
    result.recordings[0].file = "../secret.wav"
    assert read_walk(write_walk(tmp_path / "walk", result)).sounds == {}


def missing(folder: Path) -> None:
    folder.rmdir()


def spoil(text: str):
    return lambda folder: (folder / "report.json").write_text(text, encoding="utf-8")


def altered(change):
    def prepare(folder: Path) -> None:
        tree = json.loads((folder / "report.json").read_text(encoding="utf-8"))
        change(tree)
        (folder / "report.json").write_text(json.dumps(tree), encoding="utf-8")

    return prepare


@pytest.mark.parametrize(
    ("prepare", "says"),
    [
        (lambda folder: [one.unlink() for one in folder.iterdir()], "holds no inspection"),
        (spoil('{"schema": '), "it is no whole JSON"),
        (spoil("[" * 100_000), "it is no whole JSON"),
        (spoil("\x00\xff"), "it is no whole JSON"),
        (spoil("{}"), "is no report of spokenfor"),
        (altered(lambda tree: tree.update(schema="other/1")), "is no report of spokenfor"),
        (
            altered(lambda tree: tree["findings"][0]["evidence"].update(recording=7)),
            "speaks of sound that it does not have",
        ),
        (
            altered(lambda tree: tree["zones"][0]["visits"][0].update(start=float("nan"))),
            "speaks of sound that it does not have",
        ),
    ],
)
def test_what_is_no_walk_is_refused(tmp_path: Path, prepare, says: str) -> None:
    folder = write_walk(tmp_path / "walk", learner())
    prepare(folder)
    with pytest.raises(InputError, match=says):
        read_walk(folder)


def test_other_paths_that_are_no_walk(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="There is no"):
        read_walk(tmp_path / "nowhere")
    (tmp_path / "notes.txt").write_text("notes")
    with pytest.raises(InputError, match="it is no whole JSON"):
        read_walk(tmp_path / "notes.txt")


def test_number_of_walks(tmp_path: Path) -> None:
    one = read_walk(write_walk(tmp_path / "one", learner()))
    other = read_walk(write_walk(tmp_path / "other", teacher()))
    with pytest.raises(InputError, match="Only one walk"):
        compare_walks([one])
    with pytest.raises(InputError, match="Only one walk"):
        compare_walks([one], one)
    with pytest.raises(InputError, match="given twice"):
        compare_walks([one, other, one])
    with pytest.raises(InputError, match="27 walks are too many"):
        compare_walks([read_walk(write_walk(tmp_path / f"{n}", learner())) for n in range(27)])
    assert [walk.mark for walk in compare_walks([one, other], other).walks] == ["A", "ref"]
