"""Which lines of a sheet can never be filled, or are not whole?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from spokenfor.packs.faults import Fault
from spokenfor.packs.lint_names import Compiled, zones_of
from spokenfor.packs.load import Pack, SheetItem
from spokenfor.packs.physical_units import kind_of
from spokenfor.packs.schema import Limit
from spokenfor.packs.terms import TermKind

_MIRRORED = ("side", "number")


def unused(pack: Pack, _terms: Compiled) -> Iterator[Fault]:
    """Components and zones that are on no line."""
    used = {item.component for item in pack.items}
    for name in pack.components:
        if name not in used:
            yield Fault(
                pack.sources.place("component", name),
                f"component '{name}' is on no line of the sheet",
                "Give it a line in sheet.yaml or take it out",
            )
    walked = {item.zone for item in pack.items}
    for zone in pack.zones:
        if zone.id not in walked:
            yield Fault(
                pack.sources.place("zone", zone.id),
                f"zone '{zone.id}' has no line on the sheet",
                "Give it lines in sheet.yaml or take it out",
            )


def out_of_reach(pack: Pack, terms: Compiled) -> Iterator[Fault]:
    """Lines that nothing said could fill: every name of theirs names another component of the zone too, or
    another line has a position that means the same."""
    zones = zones_of(pack)
    own: dict[str, list[tuple[str, ...]]] = defaultdict(list)
    for term in terms[TermKind.COMPONENT].values():
        for name in term.concepts:
            own[name].append(term.concepts)
    told: set[tuple[str, str]] = set()
    for item in pack.items:
        names = own.get(item.component, [])
        if (item.zone, item.component) not in told and all(
            any(other != item.component and item.zone in zones[other] for other in concepts)
            for concepts in names
        ):
            told.add((item.zone, item.component))
            yield Fault(
                pack.sources.place("component", item.component),
                f"'{item.id}' can never be filled: every name of '{item.component}' also names "
                f"another component of zone '{item.zone}'",
                "Give it a name of its own",
            )
    meant: dict[tuple[str, str, frozenset[str]], SheetItem] = {}
    for item in pack.items:
        where = frozenset(map(pack.head.meant, item.positions))
        first = meant.setdefault((item.zone, item.component, where), item)
        if first is not item:
            yield Fault(
                pack.sources.place("pack", "", "same_position"),
                f"'{first.id}' and '{item.id}' cannot be told apart: their positions mean the same here",
                "Take out one of the lines, or the pair in same_position",
            )


def lonely_positions(pack: Pack, _terms: Compiled) -> Iterator[Fault]:
    """Components that stand on the sheet for one of a pair (left, No. 1) and not for the other, and those
    that stand in a zone once without a position and once with one."""
    found: dict[str, set[str]] = defaultdict(set)
    shapes: dict[tuple[str, str], set[bool]] = defaultdict(set)
    for item in pack.items:
        found[item.component] |= item.positions
        shapes[item.zone, item.component].add(bool(item.positions))
    same = {frozenset(pair) for pair in pack.head.same_positions}
    for name, positions in found.items():
        for position in sorted(positions):
            about = pack.positions[position]
            other = about.opposite
            if about.axis.value not in _MIRRORED or other is None or other in positions:
                continue
            if any(
                position in pair or other in pair for pair in same if pair & positions - {position}
            ):
                continue
            yield Fault(
                pack.sources.place("component", name),
                f"component '{name}' has a line for {about.prefLabel} and none for "
                f"{pack.positions[other].prefLabel}",
                "Add the other line, or leave the position out where there is only one",
            )
    for (zone, name), shape in shapes.items():
        if len(shape) == 2:
            yield Fault(
                pack.sources.place("component", name),
                f"component '{name}' has lines with and without a position in zone '{zone}'",
                "Give each line a position",
            )


def limits_of_the_wrong_kind(pack: Pack, _terms: Compiled) -> Iterator[Fault]:
    """Limits in units that are unknown, that are never heard, or that do not measure what they limit."""
    heard = {kind_of(unit.unit) for unit in pack.units}
    fitting = {
        name: {kind_of(unit) for unit in aspect.measured_in}
        for name, aspect in pack.aspects.items()
    }
    for component in pack.components.values():
        for index, limit in enumerate(component.limits):
            wrong = _wrong_unit(limit, kind_of(limit.unit), heard, fitting[limit.of])
            place = pack.sources.place("component", component.id, "limits", index)
            if wrong:
                ways = " or ".join(pack.aspects[limit.of].measured_in)
                mend = f"Use a unit such as {ways}" if ways else "See docs/pack-author.md"
                yield Fault(place, f"limit of '{component.id}': {wrong}", mend)
            if limit.of not in component.aspects:
                yield Fault(
                    place,
                    f"limit of '{component.id}' is for {limit.of}, which is not among its aspects",
                    f"Add {limit.of} to its aspects",
                )


def _wrong_unit(
    limit: Limit, kind: str | None, heard: set[str | None], fitting: set[str | None]
) -> str:
    if kind is None:
        return f"'{limit.unit}' is no unit that pint knows"
    if kind not in heard:
        return f"nothing in units.yaml is measured like '{limit.unit}', so it is never heard"
    if fitting and kind not in fitting:
        return f"{limit.of} is not measured in '{limit.unit}'"
    return ""
