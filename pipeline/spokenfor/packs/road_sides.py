"""Which sides "driver's side" and nearside are, by the side that the driver sits on."""

from __future__ import annotations

# Nearside is the side next to the kerb: left where traffic keeps left, and so where the driver sits on the
# right; the word is hardly used elsewhere (Oxford dictionary, from memory). Where the driver sits on the left
# some mean the right by it and some the left, so it is neither there.
_BESIDE_THE_KERB = (("left", "nearside"), ("right", "offside"))
BY_DRIVER: dict[str | None, tuple[tuple[str, str], ...]] = {
    None: _BESIDE_THE_KERB,
    "right": (*_BESIDE_THE_KERB, ("right", "driver-side"), ("left", "passenger-side")),
    "left": (("left", "driver-side"), ("right", "passenger-side")),
}
"""Pairs of position ids that mean the same, by `driver_side` of a pack; None where it does not say."""
ROAD_SIDES = frozenset(side for pairs in BY_DRIVER.values() for _, side in pairs)
"""Ids of the positions that may be left or right, by the driver's side."""
