"""What a line offers to be heard where nothing was said of it: the longest stretches, not hundreds."""

from __future__ import annotations

import pytest
from tests.reporting.spoken_walk import make_result

from spokenfor.models import ItemStatus, Unheard, UnheardReason, Visit
from spokenfor.reporting.lines import Lines
from spokenfor.reporting.timeline import Timeline


@pytest.mark.parametrize(
    ("status", "says"),
    [
        (ItemStatus.UNHEARD, "not heard (too noisy; the 8 longest of 30):"),
        (ItemStatus.NOT_MENTIONED, "walked here; the 8 longest of 30:"),
    ],
)
def test_the_longest_stretches_are_offered_in_time_order(status: ItemStatus, says: str):
    result = make_result()
    item = result.items[0]
    item.status = status
    lengths = [0.2 + (number * 7 % 30) / 10 for number in range(30)]
    spans = [
        {"recording": 0, "start": 5.0 * number, "end": 5.0 * number + length}
        for number, length in enumerate(lengths)
    ]
    reason = UnheardReason.TOO_NOISY
    result.unheard = [Unheard(**one, reason=reason, zones=[item.zone]) for one in spans]
    zone = next(one for one in result.zones if one.id == item.zone)
    zone.visits = [Visit(**one) for one in spans]
    line = Lines(result, Timeline(result.recordings, {0})).item(item)
    assert line.why is not None and line.why.endswith(says)
    starts = [one.start for one in line.listen]
    longest = sorted(range(30), key=lambda number: -lengths[number])[:8]
    assert starts == sorted(5.0 * number for number in longest)
