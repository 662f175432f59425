"""Which sides were said that a pack cannot place: "driver's side" where it does not say which that is."""

from __future__ import annotations

from collections.abc import Iterable

from spokenfor.packs.load import Pack
from spokenfor.packs.road_sides import ROAD_SIDES
from spokenfor.packs.schema import Axis
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.packs.wording import singular, words_of


def unknown_sides(pack: Pack, segments: Iterable[str]) -> list[str]:
    """Names of sides that stand in the text of segments, and on no line of the sheet, as nothing says whether
    they are left or right."""
    walked = {pack.head.meant(name) for item in pack.items for name in item.positions}
    sides = {
        name
        for name, position in pack.positions.items()
        if position.axis is Axis.SIDE and pack.head.meant(name) not in walked
    }
    terms = [
        (key, term.names[0])
        for key, term in compile_terms(pack)[TermKind.POSITION].items()
        if sides.intersection(term.concepts).intersection(ROAD_SIDES)
    ]
    if not terms or not {"left", "right"} & walked:
        return []
    texts = ["".join(map(singular, words_of(text))) for text in segments]
    return [name for key, name in terms if any(key in text for text in texts)]
