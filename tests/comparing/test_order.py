"""Order walked against the sheet's: what the rank measure says and which zones are out of order."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import kendalltau
from tests.comparing.made_walks import walk

from spokenfor.comparing.order import WalkedOrder, kendall_tau, walked_order
from spokenfor.comparing.sheet import common_sheet


def order(**begun: float | None) -> WalkedOrder:
    """Zones in the sheet's order with the second at which each was entered, None: not walked."""
    lines = [f"{zone} | thing | not_mentioned |" for zone in begun]
    made = walk("A", *lines, zones=list(begun.items()))
    return walked_order(common_sheet([made]), made)


@given(st.integers(2, 12).flatmap(lambda number: st.permutations(range(number))))
def test_the_rank_measure_is_that_of_scipy(turns: list[int]) -> None:
    assert kendall_tau(turns) == pytest.approx(kendalltau(range(len(turns)), turns).statistic)


@pytest.mark.parametrize(
    ("turns", "tau"),
    [([1, 2, 3, 4], 1.0), ([4, 3, 2, 1], -1.0), ([2, 1, 3, 4], 2 / 3), ([1], None), ([], None)],
)
def test_worked_by_hand(turns: list[int], tau: float | None) -> None:
    # Four things have six pairs; one swap of neighbours turns one of them: (5 - 1) / 6.
    assert kendall_tau(turns) == pytest.approx(tau)


@pytest.mark.parametrize(
    ("begun", "moved", "kept", "words"),
    [
        (
            {"nose": 0, "left": 10, "deck": 20},
            set(),
            3,
            "3 of 3 zones walked, all in the sheet's order (Kendall's tau 1.00)",
        ),
        # The nose was forgotten and walked last: it is out of order, not everything else.
        (
            {"nose": 90, "left": 10, "deck": 20, "tail": 30},
            {"nose"},
            3,
            "4 of 4 zones walked; 3 of 6 pairs in the sheet's order (Kendall's tau 0.00)",
        ),
        # A zone that was left out shifts no other.
        (
            {"nose": 0, "left": None, "deck": 20},
            set(),
            1,
            "2 of 3 zones walked, all in the sheet's order (Kendall's tau 1.00)",
        ),
        (
            {"nose": None, "left": 5, "deck": None},
            set(),
            0,
            "1 of 3 zones walked; too few to speak of an order",
        ),
    ],
)
def test_zones_out_of_order(begun: dict, moved: set[str], kept: int, words: str) -> None:
    found = order(**begun)
    assert (found.moved, found.kept, found.words) == (moved, kept, words)


def test_a_second_visit_does_not_count() -> None:
    made = walk(
        "A",
        "nose | thing | not_mentioned |",
        "left | thing | not_mentioned |",
        zones=[("nose", 0), ("left", 10)],
    )
    again = made.result.zones[0].visits[0].model_copy(update={"start": 50.0, "end": 60.0})
    made.result.zones[0].visits.insert(0, again)
    assert walked_order(common_sheet([made]), made).walked == ["nose", "left"]
