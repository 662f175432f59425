"""Faults told in words that sound like something else (faults_told.txt) are not ticked; things in order told in
words near to those of a fault (in_order.txt) are. Both were written by others, who had read the phrases, to break
them; those that still break them begin with "!"."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from tests.reading.test_structure import pipeline
from tests.spoken import spoken

from spokenfor.coverage.statuses import Standing, standing
from spokenfor.models import ItemStatus, Statement
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import read

Wrong = Callable[[list[Standing]], bool]
OPEN = (ItemStatus.DEFECT, ItemStatus.NOT_INSPECTED)
CLOSED = (ItemStatus.SATISFACTORY, ItemStatus.REMARK, ItemStatus.NOT_FITTED)


@cache
def stands(file: str) -> list[tuple[str, bool, list[Standing]]]:
    """Each sentence, whether it is known to be read wrongly, and what the lines that it speaks of come to."""
    found = []
    for line in (Path(__file__).parent / file).read_text("utf-8").splitlines():
        if line.startswith("#"):
            continue
        pack, zone, say = (part.strip() for part in line.removeprefix("!").split("|"))
        name = next(one.prefLabel for one in load_pack(pack).zones if one.id == zone)
        reading = read(spoken(f"Now the {name}.\n{say}"), pack, pipeline(pack))
        by_line: dict[str | None, list[Statement]] = {}
        for one in reading.statements:
            by_line.setdefault(one.item or one.component, []).append(one)
        found.append((say, line.startswith("!"), [standing(ones) for ones in by_line.values()]))
    return found


def is_hidden(ones: list[Standing]) -> bool:
    """Whether no line is left open by what was said and one is closed, or a fault is called put right."""
    closed = any(one.status in CLOSED for one in ones)
    return (closed and all(one.status not in OPEN for one in ones)) or any(one.note for one in ones)


def is_spoiled(ones: list[Standing]) -> bool:
    """Whether no line is ticked, or one has a defect."""
    statuses = [one.status for one in ones]
    return ItemStatus.SATISFACTORY not in statuses or ItemStatus.DEFECT in statuses


FILES = pytest.mark.parametrize(
    ("file", "is_wrong"), [("faults_told.txt", is_hidden), ("in_order.txt", is_spoiled)]
)


@FILES
def test_none_is_read_wrongly_but_the_known_ones(file: str, is_wrong: Wrong) -> None:
    assert [say for say, known, ones in stands(file) if is_wrong(ones) and not known] == []


@FILES
def test_what_is_known_is_so_still(file: str, is_wrong: Wrong) -> None:
    # A sentence that has come right loses its "!".
    assert [say for say, known, ones in stands(file) if known and not is_wrong(ones)] == []
