"""Faults told in words that sound like something else (faults_told.txt) are not ticked; things in order told in
words near to those of a fault (in_order.txt) are. Both were written by others, who had read the phrases, to break
them; those that still break them begin with "!", or with "?" where they are ticked, but for a person to listen
to first."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from tests.reading.test_structure import pipeline
from tests.spoken import spoken

from spokenfor.coverage.confidence import READ_SURELY
from spokenfor.coverage.statuses import Standing, standing
from spokenfor.models import ItemStatus, Statement, Verdict
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import read

Mark = Callable[[list[list[Statement]]], str]
OPEN = (ItemStatus.DEFECT, ItemStatus.NOT_INSPECTED)
CLOSED = (ItemStatus.SATISFACTORY, ItemStatus.REMARK, ItemStatus.NOT_FITTED)


@cache
def said(file: str) -> list[tuple[str, str, list[list[Statement]]]]:
    """Each sentence, its mark in the file, and what is said of each line that it speaks of."""
    found = []
    for line in (Path(__file__).parent / file).read_text("utf-8").splitlines():
        if line.startswith("#"):
            continue
        mark = line[0] if line[0] in "!?" else ""
        pack, zone, say = (part.strip() for part in line.removeprefix(mark).split("|"))
        name = next(one.prefLabel for one in load_pack(pack).zones if one.id == zone)
        reading = read(spoken(f"Now the {name}.\n{say}"), pack, pipeline(pack))
        by_line: dict[str | None, list[Statement]] = {}
        for one in reading.statements:
            by_line.setdefault(one.item or one.component, []).append(one)
        found.append((say, mark, list(by_line.values())))
    return found


def _is_doubted(ones: list[Statement]) -> bool:
    """Whether a person is to listen to a line's ticks before they stand (coverage/confidence.py)."""
    ticks = [one.confidence for one in ones if one.verdict is Verdict.SATISFACTORY]
    return bool(ticks) and max(ticks) < READ_SURELY


def hidden(lines: list[list[Statement]]) -> str:
    """ "!" where no line is left open by what was said and one is closed, or a fault is called put right; "?"
    where each line so closed is for a person to listen to first."""
    stand: list[Standing] = [standing(ones) for ones in lines]
    if any(one.note for one in stand):
        return "!"
    closed = [ones for ones, one in zip(lines, stand, strict=True) if one.status in CLOSED]
    if not closed or any(one.status in OPEN for one in stand):
        return ""
    return "?" if all(map(_is_doubted, closed)) else "!"


def spoiled(lines: list[list[Statement]]) -> str:
    """ "!" where no line is ticked, or one has a defect."""
    statuses = [standing(ones).status for ones in lines]
    wrong = ItemStatus.SATISFACTORY not in statuses or ItemStatus.DEFECT in statuses
    return "!" if wrong else ""


FILES = pytest.mark.parametrize(
    ("file", "mark"), [("faults_told.txt", hidden), ("in_order.txt", spoiled)]
)


@FILES
def test_each_is_read_as_its_mark_says(file: str, mark: Mark) -> None:
    # A sentence that has come right loses its mark.
    wrong = [(say, known, mark(lines)) for say, known, lines in said(file) if mark(lines) != known]
    assert wrong == []


def test_no_beginning_of_a_sentence_breaks_reading() -> None:
    # Whatever the last word is: "Is there any first aid kit, no" had no word behind its denial.
    for line in (Path(__file__).parent / "faults_told.txt").read_text("utf-8").splitlines()[4::9]:
        pack, zone, say = (part.strip() for part in line.lstrip("!? ").split("|"))
        name = next(one.prefLabel for one in load_pack(pack).zones if one.id == zone)
        words = say.split()
        for count in range(1, len(words) + 1):
            start = " ".join(words[:count]).rstrip(".,?")
            assert read(spoken(f"Now the {name}.\n{start}"), pack, pipeline(pack)).walk
    ended = read(
        spoken("Is there any first aid kit, no"), "goods-vehicle", pipeline("goods-vehicle")
    )
    assert ended.walk
