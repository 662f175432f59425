"""The drawing of the walk: where stays, unheard stretches and findings stand."""

import pytest

from spokenfor.models import Result
from spokenfor.reporting.timeline import Timeline
from spokenfor.reporting.walk_strip import walk_strip


def strip(result: Result):
    drawn = walk_strip(result, Timeline(result.recordings, ()))
    assert drawn is not None
    return drawn


def test_rows_are_the_zones_and_one_for_what_has_no_place(result: Result):
    assert strip(result).rows == [*(zone.name for zone in result.zones), "not placed"]
    result.findings = [finding for finding in result.findings if finding.item]
    assert strip(result).rows == [zone.name for zone in result.zones]


def test_a_stay_in_the_second_recording_follows_the_first(result: Result):
    # 182 s + 96 s; right side: second recording, 0 to 50 s.
    (stay,) = [one for one in strip(result).stays if one.title.startswith("Right side")]
    assert stay.x == pytest.approx(100 * 182 / 278, abs=0.01)
    assert stay.width == pytest.approx(100 * 50 / 278, abs=0.01)
    assert stay.row == 4


def test_every_finding_and_every_unheard_stretch_is_drawn(result: Result):
    drawn = strip(result)
    assert len(drawn.marks) == len(result.findings)
    assert [one.x for one in drawn.unheard] == [
        pytest.approx(100 * seconds / 278, abs=0.01) for seconds in (103, 164, 182 + 24.2)
    ]
    cut = next(mark for mark in drawn.marks if "Nose tyre" in mark.title)
    assert (cut.row, cut.shape) == (0, "defect")
    loom = next(mark for mark in drawn.marks if "Loom" in mark.title)
    assert drawn.rows[loom.row] == "not placed"


def test_times_on_the_axis_count_from_the_start_of_each_recording(result: Result):
    ticks = [(one.text, one.begins) for one in strip(result).ticks]
    assert ticks == [
        ("0:00", False),
        ("1:00", False),
        ("2:00", False),
        ("0:00", True),
        ("1:00", False),
    ]


@pytest.mark.parametrize("seconds", [1, 8, 45, 182, 900, 3600, 4 * 3600])
def test_the_axis_is_neither_bare_nor_crowded(result: Result, seconds: float):
    timeline = Timeline([result.recordings[0].model_copy(update={"duration": seconds})], ())
    ticks = walk_strip(
        result.model_copy(update={"findings": [], "unheard": [], "zones": []}), timeline
    )
    assert ticks is not None
    assert 1 <= len(ticks.ticks) <= 7


def test_no_time_no_drawing(result: Result):
    assert walk_strip(result, Timeline([], ())) is None
