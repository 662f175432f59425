"""Gathering the rows of a check sheet: components with all that was said of them, and their lines."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from spokenfor.packs.load import vocabulary_root
from spokenfor.packs.reader import Reader
from spokenfor.packs.schema import Aspect, Condition, Limit, Position, Unit
from spokenfor.packs.sheet_limits import Measured, SheetLimits, decimal_comma
from spokenfor.packs.sheet_measures import Measures
from spokenfor.packs.sheet_positions import SheetPositions, Which
from spokenfor.packs.sheet_rows import ItemRow
from spokenfor.packs.sheet_states import SheetStates
from spokenfor.packs.sheet_words import Cell, SheetAspects, SheetWords, parts_of
from spokenfor.packs.spreadsheets import Table
from spokenfor.packs.wording import match_key

_EVERY = ("all", "each", "every", "all round", "-", "\u2013")
"""Positions that say nothing of which one."""


@dataclass
class Thing:
    """What is known of a component so far."""

    name: str
    aspects: list[str] = field(default_factory=list)
    limits: list[Limit] = field(default_factory=list)
    also: list[str] = field(default_factory=list)
    right: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    ata: str | None = None


@dataclass
class Line:
    """A row's item in its zone (as said), with the positions that the row gave."""

    row: int
    zone: str
    thing: Thing
    which: Which
    required: bool


class Gathered:
    """The rows of one sheet so far: `zones` as said by match key, `things` by match key, `lines` in order,
    `doubts` by row, `taken` the match keys of positions and conditions. `literal`: items are
    taken as written (a sheet that was exported from a pack). `meant` says which position an id means."""

    def __init__(self, table: Table, meant: Callable[[str], str], literal: bool = False) -> None:
        self.literal = literal
        common, reader = vocabulary_root() / "common", Reader()
        positions = reader.by_id(common / "positions.yaml", "position", Position)
        conditions = reader.by_id(common / "conditions.yaml", "condition", Condition)
        self._aspects = reader.by_id(common / "aspects.yaml", "aspect", Aspect)
        units = reader.read(common / "units.yaml", "units", list[Unit])
        cells = [cell for row in table.rows for cell in row.cells]
        self._words = SheetWords()
        self.positions = SheetPositions(positions.values(), meant)
        self._states = SheetStates()
        self._wanted = SheetAspects(self._aspects, conditions.values())
        self._limits = SheetLimits(units, decimal_comma(cells, table.comma))
        self._measures = Measures(self._aspects)
        self.taken = {
            match_key(label)
            for concepts in (positions, conditions)
            for concept in concepts.values()
            for label in concept.labels
        }
        self.zones: dict[str, str] = {}
        self.things: dict[str, list[Thing]] = defaultdict(list)
        self.lines: list[Line] = []
        self.doubts: list[str] = []

    def add(self, row: ItemRow) -> bool:
        """Takes a row in; False where nothing is left to call the item."""
        cell = Cell(row.item, "", []) if self.literal else self._words.read(row.item)
        name, limits = (cell.name, []) if self.literal else self._limits.find(cell.name)
        behind = self.positions.find(cell.checks.lower())
        which = _joined(Which(name) if self.literal else self.positions.find(name), behind)
        checks = [behind.rest, self._words.spelled_out(row.check)]
        also = _listed(row.also)
        for inside in cell.inside:
            rest, measured = self._limits.find(inside)
            place = self.positions.find(rest.lower(), alone=True)
            if place.by_axis or place.both:
                which = _joined(which, place)
            elif re.fullmatch(r"[A-Z]{2,4}", inside):
                also.append(inside)
            elif not re.fullmatch(r"(?:x\s*)?\d+\s*(?:off|x|pcs|of)?", rest):
                checks.append(rest)
            limits += measured
        beside = self.positions.find(self._words.spelled_out(row.position).lower(), alone=True)
        which = _joined(which, beside)
        unknown = row.position and not beside.by_axis and not beside.both
        if unknown and row.position.lower() not in _EVERY:
            self.doubts.append(f"row {row.number}: position '{row.position}' was not understood")
        wanted = "; ".join(one for one in checks if one)
        wanted, measured = self._limits.find(wanted.lower())
        limits += measured + self._limit_cells(row)
        states = [] if self.literal else self._states.find(wanted)
        right = [*(word for one in states for word in one.right), *_listed(row.right)]
        wrong = [*(word for one in states for word in one.wrong), *_listed(row.wrong)]
        if row.check and not (states or limits or self._wanted.find(wanted)):
            self.doubts.append(
                f"row {row.number}: of '{row.check}' nothing is known that could be stated; condition will be"
            )
        parts = [which.rest] if self.literal else parts_of(which.rest)
        for short in [] if self.literal else self._words.unknown(row.item):
            self.doubts.append(
                f"row {row.number}: '{short}' is no short form that is known; write the word that is said"
            )
        if len(parts) > 1:
            self.doubts.append(f"row {row.number}: '{row.item}' was read as {len(parts)} items")
        elif not self.literal and re.search(r"\s(?:and|&|\+)\s", which.rest):
            self.doubts.append(
                f"row {row.number}: '{which.rest}' names two things as one; give each a row if each counts"
            )
        for part in parts:
            thing = self._add_thing(part, which, wanted, limits, also, row)
            thing.right += [one for one in right if one not in thing.right]
            thing.wrong += [one for one in wrong if one not in thing.wrong]
        return bool(parts)

    def _limit_cells(self, row: ItemRow) -> list[Measured]:
        unit = self._limits.unit(row.unit)
        if row.unit and not unit:
            self.doubts.append(f"row {row.number}: unit '{row.unit}' is not known")
        cells = (("", row.limit), ("min ", row.minimum), ("max ", row.maximum))
        found = []
        for before, text in cells:
            if re.search(r"\d", text):
                found += self._limits.find(before + text.lower(), unit, bare=True)[1]
        return found

    def _add_thing(
        self,
        name: str,
        which: Which,
        wanted: str,
        limits: Sequence[Measured],
        also: Sequence[str],
        row: ItemRow,
    ) -> Thing:
        ata = re.search(r"\b\d{2}(?:-?\d{2})?\b", row.ata)
        made, asked = [], self._wanted.find(wanted)
        for measured in _merged(limits):
            limit, doubt = self._measures.limit(measured, f"{name} {wanted}", asked)
            if limit is not None:
                made.append(limit)
            else:
                self.doubts.append(f"row {row.number}: limit '{measured.text}' of '{name}' {doubt}")
        named = [one for one in ("level", "pressure") if name.split()[-1] == one]
        aspects = list(dict.fromkeys([*asked, *named, *(limit.of for limit in made)]))
        thing = self._thing(name, made)
        thing.aspects += [one for one in aspects if one not in thing.aspects]
        thing.also += [one for one in also if one not in (*thing.also, name)]
        thing.ata = thing.ata or (ata[0].replace("-", "") if ata else None)
        zone = self._zone(row.zone)
        self.lines.append(Line(row.number, zone, thing, which, row.required))
        return thing

    def _thing(self, name: str, limits: list[Limit]) -> Thing:
        """The component of that name; another one where a limit of the same aspect differs."""
        known = self.things[match_key(name)]
        for thing in known:
            if all(one.of != other.of or one == other for one in limits for other in thing.limits):
                thing.limits += [one for one in limits if one not in thing.limits]
                return thing
        known.append(Thing(name, limits=list(limits)))
        return known[-1]

    def _zone(self, written: str) -> str:
        """The zone as it is said; the whole machine where the sheet has no zones."""
        cell = self._words.spelled_out(
            re.sub(r"^\s*(?:[\d.]+|[A-Za-z])[.)]?\s+(?=[A-Za-z])", "", written)
        )
        cell = re.sub(r"^(?:zone|section|area|part)\s+[\w.]+\s*[-:]\s*", "", cell).strip(" :-.")
        cell = re.sub(r"\s*[&+]\s*", " and ", cell)
        name = cell if re.search(r"[A-Za-z]{2}", cell) else "walk round"
        return self.zones.setdefault(match_key(name), name)


def _listed(cell: str) -> list[str]:
    """The words of a cell that lists several."""
    return [one.strip() for one in re.split(r"[,;/]", cell) if one.strip()]


def _joined(one: Which, other: Which) -> Which:
    """Positions of two texts; the name is the first's."""
    both = {axis: names for axis, names in other.by_axis.items() if axis not in one.by_axis}
    return Which(one.rest, {**one.by_axis, **both}, one.both or other.both)


def _merged(limits: Sequence[Measured]) -> list[Measured]:
    """A least and a greatest value in one unit, written apart, as one limit."""
    kept: list[Measured] = []
    for limit in limits:
        last = kept[-1] if kept else None
        if last is not None and last.unit == limit.unit:
            halves = [last, limit]
            least = [one.minimum for one in halves if one.minimum is not None]
            most = [one.maximum for one in halves if one.maximum is not None]
            if len(least) == len(most) == 1 and not (last.minimum and last.maximum):
                text = f"{last.text}, {limit.text}"
                kept[-1] = Measured(text, limit.unit, minimum=least[0], maximum=most[0])
                continue
        kept.append(limit)
    return kept
