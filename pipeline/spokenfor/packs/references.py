"""Does every id that one concept of a pack uses of another exist?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from spokenfor.errors import InputError
from spokenfor.packs.schema import Aspect, Component, Condition, PackHead, Position, Zone


def check_references(
    head: PackHead,
    components: Mapping[str, Component],
    aspects: Mapping[str, Aspect],
    conditions: Mapping[str, Condition],
    positions: Mapping[str, Position],
    zones: Sequence[Zone],
) -> None:
    """Raises InputError naming the first id that is used and not defined."""

    def check(owner: str, kind: str, used: Iterable[str], defined: Iterable[str]) -> None:
        for name in used:
            if name not in set(defined):
                raise InputError(
                    f"Pack '{head.name}': {owner} uses {kind} '{name}', which is not defined",
                    f"Mend its spelling or define the {kind}",
                )

    for component in components.values():
        owner = f"component '{component.id}'"
        check(owner, "aspect", component.aspects, aspects)
        check(owner, "aspect", [limit.of for limit in component.limits], aspects)
    for aspect in aspects.values():
        check(f"aspect '{aspect.id}'", "condition", aspect.conditions, conditions)
    for condition in conditions.values():
        broader = [condition.broader] if condition.broader else []
        check(f"condition '{condition.id}'", "condition", broader, conditions)
    for position in positions.values():
        opposite = [position.opposite] if position.opposite else []
        check(f"position '{position.id}'", "position", opposite, positions)
    for zone in zones:
        check(f"zone '{zone.id}'", "position", zone.position, positions)
    same = [name for pair in head.same_position for name in pair]
    check("same_position", "position", same, positions)
