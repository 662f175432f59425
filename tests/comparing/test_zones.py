"""A zone is covered, partly covered, named only, skipped... by where its required lines stand."""

from __future__ import annotations

import pytest
from tests.comparing.made_walks import walk

from spokenfor.comparing.sheet import common_sheet
from spokenfor.comparing.zones import zone_view


@pytest.mark.parametrize(
    ("statuses", "words"),
    [
        ("satisfactory defect", "covered"),
        ("satisfactory not_fitted remark", "covered"),
        ("satisfactory named", "partly covered"),
        ("satisfactory unheard", "partly covered"),
        ("named not_mentioned", "named only"),
        ("looked_for unheard", "named only"),
        ("unheard not_mentioned", "unheard"),
        ("unheard not_inspected", "unheard"),
        ("by_reference not_mentioned", "by reference only"),
        ("not_inspected not_mentioned", "not inspected (said so)"),
        ("not_mentioned not_mentioned", "skipped"),
    ],
)
def test_standing(statuses: str, words: str) -> None:
    lines = [f"nose | thing-{n} | {one} |" for n, one in enumerate(statuses.split())]
    made = walk("A", *lines)
    assert zone_view(common_sheet([made]).zones[0], made).words == words


def test_only_required_lines_count_where_there_are_any() -> None:
    made = walk("A", "nose | cone | satisfactory | Clean.", "nose | net | not_mentioned |")
    made.result.items[1].required = False
    view = zone_view(common_sheet([made]).zones[0], made)
    assert (view.words, view.covered, view.total, view.rest) == ("covered", 1, 1, [])
    made.result.items[0].required = False
    assert zone_view(common_sheet([made]).zones[0], made).words == "partly covered"
