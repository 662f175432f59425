"""From a check sheet to a pack: the rows that were gathered become zones, components and lines."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from spokenfor.errors import InputError
from spokenfor.packs.schema import Axis, Component, PackHead, SheetLine, SheetZone, States, Zone
from spokenfor.packs.sheet_boxes import marked_sides
from spokenfor.packs.sheet_columns import Columns, letter
from spokenfor.packs.sheet_gather import Gathered, Line, Thing
from spokenfor.packs.sheet_languages import foreign, two_languages
from spokenfor.packs.sheet_positions import Which
from spokenfor.packs.sheet_rows import ItemRow, LeftOut, item_rows
from spokenfor.packs.sheet_words import SheetWords
from spokenfor.packs.spreadsheets import Table
from spokenfor.packs.wording import match_key
from spokenfor.packs.write_pack import PackParts

CAUTION = (
    "Made from a check sheet, not maintenance data. The approved maintenance data, local rules and "
    "licensed staff decide what is checked and what is acceptable."
)
_DEFAULT_ASPECT = "condition"
# How a zone is named whose name alone means a component or a position (common practice).
_WALKED = (
    *("down the {}", "along the {}", "round to the {}", "over to the {}", "moving to the {}"),
    *("{} of the vehicle", "{} of the machine", "{} zone"),
)
_MIRRORED = (Axis.SIDE, Axis.NUMBER)


@dataclass(frozen=True)
class FromSheet:
    """A pack made of a sheet, the rows that gave no item, and what was read with doubt, by row."""

    parts: PackParts
    left_out: list[LeftOut]
    doubts: list[str]


def pack_from_sheet(table: Table, columns: Columns, head: PackHead) -> FromSheet:
    """The pack that a sheet describes. Raises InputError where no row gives an item."""
    gathered = Gathered(table, head.meant, columns.literal)
    left_out: list[LeftOut] = []
    rows = list(item_rows(table, columns))
    for row in rows if columns.literal else _in_english(rows, gathered.doubts):
        if isinstance(row, LeftOut):
            left_out.append(row)
        elif not gathered.add(row):
            left_out.append(LeftOut(row.number, row.item[:80], "no name is left of it"))
    boxes = [letter(at) for at in columns.boxes]
    below = table.rows[columns.heading.last + 1 :]
    if boxes and not any(marked_sides(row, columns.boxes) for row in below):
        gathered.doubts.append(
            f"columns {' and '.join(boxes)} are boxes for sides and say of no row which it has, so no item has "
            "a side: mark the boxes of those that do (x), or write L/H & R/H into a column headed Position"
        )
    if not gathered.lines:
        raise InputError(
            f"{table.file}: no row gives an item",
            "Say which column holds them, for example --column item=B",
        )
    return FromSheet(_Maker(gathered).parts(head), left_out, gathered.doubts)


def _in_english(
    rows: Iterable[ItemRow | LeftOut], doubts: list[str]
) -> Iterator[ItemRow | LeftOut]:
    """The rows of a sheet in two languages with their English side only; others as they are. What is left out
    is said once, as a doubt, and so is it where most names are not English at all."""
    rows, words = list(rows), SheetWords()
    items = [words.spelled_out(row.item) for row in rows if isinstance(row, ItemRow)]
    languages = two_languages(items)
    halved: list[str] = []
    for row in rows:
        if isinstance(row, LeftOut):
            yield row
            continue
        item, other = languages.split(row.item)
        if other:
            halved.append(f"row {row.number} '{other}'")
        zone, check = (languages.split(one)[0] for one in (row.zone, row.check))
        yield replace(row, item=item, zone=zone, check=check)
    if halved:
        doubts.append(f"names stand in two languages, the other was left out: {', '.join(halved)}")
    strange = [one for one in items if foreign(languages.split(one)[0])]
    if len(strange) * 2 > len(items):
        doubts.append(
            f"{len(strange)} of {len(items)} items hold words that no English dictionary has; speech is heard "
            "as English: give English names where they are in another language"
        )


class _Maker:
    """Makes a pack of what was gathered."""

    def __init__(self, gathered: Gathered) -> None:
        self._all = gathered
        self._placed = {
            zone: gathered.positions.find(zone.lower()) for zone in gathered.zones.values()
        }
        self._numbered = {
            line.thing.name for line in gathered.lines if Axis.NUMBER in line.which.by_axis
        }
        self._mirrored = self._in_mirrored_zones()
        self._of_pair = self._both_of_a_pair()

    def parts(self, head: PackHead) -> PackParts:
        """The whole pack."""
        names = self._component_names()
        zone_ids = _identifiers(self._all.zones.values())
        sheet: dict[str, dict[str, SheetLine]] = {zone: {} for zone in zone_ids}
        for line in self._all.lines:
            name = names[id(line.thing)]
            entries = self._which(line).entries(self._all.positions.order)
            new = SheetLine(component=name, positions=entries, required=line.required)
            before = sheet[line.zone].get(name)
            sheet[line.zone][name] = new if before is None else self._again(line, before, new)
        things = [thing for same in self._all.things.values() for thing in same]
        return PackParts(
            head=head,
            zones=[self._zone(zone, name) for zone, name in zone_ids.items()],
            components=[_component(thing, names[id(thing)]) for thing in things],
            sheet=[
                SheetZone(zone=zone_ids[zone], lines=list(lines.values()))
                for zone, lines in sheet.items()
                if lines
            ],
        )

    def _which(self, line: Line) -> Which:
        """The positions of a line: those said, those "both" stands for, and its zone's where the same thing
        stands in a zone of the other side too."""
        which = line.which
        by_axis = dict(which.by_axis)
        if which.both and not {Axis.SIDE, Axis.NUMBER} & set(by_axis):
            by_number = self._is_numbered(line.thing.name)
            axis = Axis.NUMBER if by_number else Axis.SIDE
            by_axis[axis] = ["number-one", "number-two"] if by_number else ["left", "right"]
        if line.thing.name in self._mirrored:
            own = self._placed[line.zone].by_axis
            by_axis = {
                axis: own[axis] for axis in _MIRRORED if len(own.get(axis, ())) == 1
            } | by_axis
        alone = [axis for axis in by_axis if (line.thing.name, axis) not in self._of_pair]
        for axis in alone if line.thing.name not in self._mirrored else ():
            if axis in _MIRRORED and not which.both:
                del by_axis[axis]
        return Which(which.rest, by_axis)

    def _is_numbered(self, name: str) -> bool:
        """Whether "both" of a thing are No. 1 and No. 2: of engines, and of parts of a numbered thing."""
        parts = (f"{name} ".startswith(f"{one} ") for one in self._numbered)
        return "engine" in name or any(parts)

    def _both_of_a_pair(self) -> set[tuple[str, Axis]]:
        """Names with the axes on which more than one position is said of them; one alone says no more than
        where the only one is."""
        found: dict[tuple[str, Axis], set[str]] = defaultdict(set)
        for line in self._all.lines:
            for axis, names in line.which.by_axis.items():
                found[line.thing.name, axis].update(names)
        return {key for key, names in found.items() if len(names) > 1}

    def _again(self, line: Line, before: SheetLine, new: SheetLine) -> SheetLine:
        """Two rows of one component in one zone as one line of the sheet."""
        fresh = [one for one in new.positions if one not in before.positions]
        if not self._all.literal and (not before.positions or not fresh):
            self._all.doubts.append(
                f"row {line.row}: '{line.thing.name}' stands in '{line.zone}' already"
            )
        return SheetLine(
            component=before.component,
            positions=[*before.positions, *fresh] if before.positions else [],
            required=before.required or new.required,
        )

    def _in_mirrored_zones(self) -> set[str]:
        """Names that stand in zones of both sides (or of several numbers)."""
        found: dict[tuple[str, Axis], set[str]] = defaultdict(set)
        for line in self._all.lines:
            for axis in _MIRRORED:
                found[line.thing.name, axis].update(self._placed[line.zone].by_axis.get(axis, ()))
        return {name for (name, _), sides in found.items() if len(sides) > 1}

    def _component_names(self) -> dict[int, str]:
        """An id for each component; the second of a name is called by its zone too."""
        zone_of = {id(line.thing): line.zone for line in reversed(self._all.lines)}
        for same in self._all.things.values():
            for thing in same[1:]:
                thing.also.append(thing.name)
                thing.name = f"{zone_of[id(thing)]} {thing.name}"
        things = [thing for same in self._all.things.values() for thing in same]
        ids = _identifiers(thing.name for thing in things)
        return {id(thing): ids[thing.name] for thing in things}

    def _zone(self, label: str, identifier: str) -> Zone:
        own = [names[0] for names in self._placed[label].by_axis.values() if len(names) == 1]
        if match_key(label) not in (*self._all.things, *self._all.taken):
            return Zone(id=identifier, prefLabel=label, position=own)
        also = [way.format(label) for way in _WALKED]
        return Zone(id=identifier, prefLabel=f"{label} area", altLabel=also, position=own)


def _component(thing: Thing, identifier: str) -> Component:
    return Component(
        id=identifier,
        prefLabel=thing.name,
        altLabel=[one for one in thing.also if match_key(one) != match_key(thing.name)],
        aspects=thing.aspects or [_DEFAULT_ASPECT],
        states=_states(thing),
        limits=thing.limits,
        ata=thing.ata,
    )


def _states(thing: Thing) -> States:
    """The words for how a thing ought to be and for the opposite; none that would be both."""
    wrong = [word for word in thing.wrong if word not in thing.right]
    return States(expected=thing.right, adverse=wrong)


def _identifiers(names: Iterable[str]) -> dict[str, str]:
    """An id for each name, in order, each its own."""
    found: dict[str, str] = {}
    for name in names:
        slug = own = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "item"
        number = 2
        while own in found.values():
            own, number = f"{slug}-{number}", number + 1
        found.setdefault(name, own)
    return found
