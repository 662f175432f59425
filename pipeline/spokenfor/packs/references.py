"""Does every id that one concept of a pack uses of another exist?"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import TYPE_CHECKING

from spokenfor.packs.faults import Fault

if TYPE_CHECKING:
    from spokenfor.packs.load import Pack


def reference_faults(pack: Pack) -> Iterator[Fault]:
    """One fault for each id that is used and not defined."""

    def check(
        owner: tuple[str, str, str], kind: str, used: Iterable[str], defined: Collection[str]
    ) -> Iterator[Fault]:
        of, name, key = owner
        for one in used:
            if one not in defined:
                whose = f"{of} '{name}'" if name else of
                yield Fault(
                    pack.sources.place(of, name, key),
                    f"{whose} uses {kind} '{one}', which is not defined",
                    f"Mend its spelling or define the {kind}",
                )

    for component in pack.components.values():
        name = component.id
        yield from check(("component", name, "aspects"), "aspect", component.aspects, pack.aspects)
        yield from check(("component", name, "kinds"), "kind", component.kinds, pack.kinds)
        limited = [limit.of for limit in component.limits]
        yield from check(("component", name, "limits"), "aspect", limited, pack.aspects)
    for aspect in pack.aspects.values():
        owner = ("aspect", aspect.id, "conditions")
        yield from check(owner, "condition", aspect.conditions, pack.conditions)
    for condition in pack.conditions.values():
        broader = [condition.broader] if condition.broader else []
        owner = ("condition", condition.id, "broader")
        yield from check(owner, "condition", broader, pack.conditions)
    for position in pack.positions.values():
        opposite = [position.opposite] if position.opposite else []
        owner = ("position", position.id, "opposite")
        yield from check(owner, "position", opposite, pack.positions)
    for zone in pack.zones:
        yield from check(("zone", zone.id, "position"), "position", zone.position, pack.positions)
    same = [name for pair in pack.head.same_position for name in pair]
    yield from check(("pack", "", "same_position"), "position", same, pack.positions)
