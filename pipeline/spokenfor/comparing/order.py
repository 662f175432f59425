"""In which order were the zones walked, against the sheet's?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from spokenfor.comparing.sheet import CommonSheet
from spokenfor.comparing.walks import Walk
from spokenfor.models import ZoneWalk
from spokenfor.reporting.walk_order import out_of_order
from spokenfor.reporting.wording import counted


@dataclass(frozen=True)
class WalkedOrder:
    """The order of one walk over the common zones. `expected` is the sheet's order and `walked` that of the
    first visits, both as ids; `moved` are those out of order; `pairs` the pairs of walked zones, `kept` those
    in the sheet's order; `tau` is None where fewer than two zones were walked."""

    expected: list[str]
    walked: list[str]
    moved: set[str]
    pairs: int
    kept: int
    tau: float | None

    @property
    def words(self) -> str:
        """The order in one sentence."""
        zones = f"{len(self.walked)} of {counted(len(self.expected), 'zone')} walked"
        if self.tau is None:
            return f"{zones}; too few to speak of an order"
        tau = f"Kendall's tau {self.tau:.2f}"
        if not self.moved:
            return f"{zones}, all in the sheet's order ({tau})"
        return f"{zones}; {self.kept} of {self.pairs} pairs in the sheet's order ({tau})"


def walked_order(sheet: CommonSheet, walk: Walk) -> WalkedOrder:
    """Hold the first visits to the zones against the sheet's order."""
    expected = [zone.id for zone in sheet.zones]
    stays = [(one, _begun(walk.zones.get(one))) for one in expected]
    walked = [one for _, one in sorted((begun, one) for one, begun in stays if begun is not None)]
    turns = [walked.index(one) for one in expected if one in walked]
    kept, pairs = _pairs(turns)
    zones = [
        walk.zones[one].model_copy(
            update={"expected_order": place, "walked_order": walked.index(one) + 1}
        )
        for place, one in enumerate(expected, start=1)
        if one in walked
    ]
    return WalkedOrder(expected, walked, out_of_order(zones), pairs, kept, kendall_tau(turns))


def kendall_tau(turns: Sequence[int]) -> float | None:
    """Kendall's rank correlation of a sequence of distinct ranks with 1, 2, 3...: -1 (reversed) to 1 (same).

    Pairs in order less pairs out of order, over all pairs; None for fewer than two. No ties, so tau-a and
    tau-b are one. Source: Kendall 1938, "A New Measure of Rank Correlation", Biometrika 30(1/2), 81-93,
    doi 10.1093/biomet/30.1-2.81.
    """
    kept, pairs = _pairs(turns)
    return (2 * kept - pairs) / pairs if pairs else None


def _pairs(turns: Sequence[int]) -> tuple[int, int]:
    """Pairs in order, and all pairs."""
    kept = sum(first < second for first, second in combinations(turns, 2))
    return kept, len(turns) * (len(turns) - 1) // 2


def _begun(zone: ZoneWalk | None) -> tuple[int, float] | None:
    visits = zone.visits if zone else []
    return min(((one.recording, one.start) for one in visits), default=None)
