"""Whoever hums, stammers and stops to think is read as whoever does not; what was heard is kept and quoted as it was."""

from __future__ import annotations

import random
from functools import cache

import pytest
from audio_samples.script import Script, load_script, script_paths
from tests.reading.test_structure import HELICOPTER, pipeline, said
from tests.retold import Way, as_written, dots, hums, hums_with_commas, one_word_twice, retold
from tests.samples.scoring import SampleScore
from tests.spoken import spoken

from spokenfor.reading.pipeline import read

SCRIPTS: list[Script] = [load_script(path) for path in script_paths()]


@cache
def told(way: Way) -> list[SampleScore]:
    chance = random.Random(1)
    return [retold(script, way, pipeline(script.pack), chance) for script in SCRIPTS]


@pytest.mark.parametrize("way", [hums, hums_with_commas, dots, one_word_twice])
def test_bundled_narrations_read_the_same(way: Way) -> None:
    # Before hums were passed over, one in eleven lines went wrong and ticks stood on lines of other names.
    plain, found = told(as_written), told(way)
    right = sum(one.spoken_right for one in plain)
    assert sum(one.spoken_right for one in found) >= right - 2
    assert sum(len(one.invented) for one in found) <= sum(len(one.invented) for one in plain)
    assert [one.defects.missed for one in found] == [one.defects.missed for one in plain]


@pytest.mark.parametrize(
    ("say", "item", "verdict"),
    [
        ("Aileron er hinge, no play.", "aileron-hinge.left", "satisfactory"),
        ("The the aileron, um, hinge... no play.", "aileron-hinge.left", "satisfactory"),
        ("Aileron hinge is, um, loose.", "aileron-hinge.left", "defect"),
        ("Aileron hinge. No... it's loose.", "aileron-hinge.left", "defect"),
        ("Um. Aileron hinge. Er... no play.", "aileron-hinge.left", "satisfactory"),
        ("Aileron\u2026 hinge\u2026 no play.", "aileron-hinge.left", "satisfactory"),
    ],
)
def test_a_name_that_a_hum_parts_is_still_that_name(say: str, item: str, verdict: str) -> None:
    assert said("aeroplane-piston-single", "left-wing", say) == {item: verdict}


def test_a_hum_that_gives_up_a_place_still_does() -> None:
    found = said(HELICOPTER, "hydraulics", "The left, um, the right servo is dry.")
    assert found == {"main-rotor-servo.right": "satisfactory"}


def test_hums_are_quoted_and_no_flagged_word_is_lost() -> None:
    text = "Now the nose.\nNose er cone has a crack a crack, um, a a crack in it."
    reading = read(spoken(text), HELICOPTER, pipeline(HELICOPTER))
    assert [one.word for one in reading.flagged_words] == ["crack"] * 3
    quoted = [one.evidence.heard for one in reading.statements]
    assert any("Nose er cone" in one and "um, a a crack" in one for one in quoted)
