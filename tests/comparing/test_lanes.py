"""The lanes of a walk: stretches that no drawing could tell apart are one bar that says how many they are."""

from __future__ import annotations

from pathlib import Path

from tests.comparing.made_walks import learner

from spokenfor.comparing.comparison import one_walk
from spokenfor.comparing.drawings import lanes
from spokenfor.comparing.walks import Walk
from spokenfor.models import Unheard, UnheardReason


def test_hundreds_of_unheard_stretches_are_few_bars():
    result = learner()
    zone = result.zones[0]
    result.unheard = [
        Unheard(
            recording=0, start=at, end=at + 0.1, reason=UnheardReason.TOO_NOISY, zones=[zone.id]
        )
        for at in [*(number * 0.25 for number in range(200)), 120.0]
    ]
    drawn = lanes(one_walk(Walk(source=Path("walk"), result=result, sounds={})))
    assert drawn is not None
    first, last = [one for one in drawn.bars if one.unheard]
    assert first.title.endswith("200 stretches between rec 1, 0:00 and rec 1, 0:49, unheard")
    assert first.x == 0 and abs(first.width - 100 * 49.85 / 278) < 0.5
    assert last.x > first.x + first.width
