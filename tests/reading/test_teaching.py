"""What is taught, asked, told of home or put right long ago states nothing of what is looked at."""

from __future__ import annotations

import pytest
from tests.reading.labelled_sentences import Labelled, got
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, pipeline

from spokenfor.models import FlaggedReading

SUPPOSED, PRESENT = FlaggedReading.SUPPOSED, FlaggedReading.PRESENT

FLAGGED = [
    (HELICOPTER, "main-gearbox", "Whenever there is a leak, you smell it long before.", SUPPOSED),
    (LORRY, "front", "When a lens is cracked, water gets in.", SUPPOSED),
    (AEROPLANE, "propeller", "My lawn mower is leaking again.", SUPPOSED),
    (AEROPLANE, "propeller", "The spinner is cracked.", PRESENT),
    (HELICOPTER, "rotor-head", "Proper engineer finds wear before it bites him.", SUPPOSED),
]


@pytest.mark.parametrize(("pack", "zone", "say", "reading"), FLAGGED)
def test_a_flagged_word_that_is_taught_is_no_finding(
    pack: str, zone: str, say: str, reading: FlaggedReading
) -> None:
    entry = Labelled(pack=pack, zone=zone, say=say, kind="taught", items={})
    assert {meant for _, meant in got(entry, pipeline(pack)).flagged} == {reading}


def test_the_reason_for_what_was_asked_is_no_finding() -> None:
    say = "Why is corrosion bad on a skid tube? Because corrosion eats it from inside."
    entry = Labelled(pack=HELICOPTER, zone="nose", say=say, kind="taught", items={})
    assert PRESENT not in {meant for _, meant in got(entry, pipeline(HELICOPTER)).flagged}


NO_TICKS = [
    (HELICOPTER, "rotor-head", "What do you call this one? Pitch link, correct.", "named"),
    (HELICOPTER, "rotor-head", "Pitch links are straight and nuts are tight.", "satisfactory"),
    (AEROPLANE, "left-fuselage", "That's normal for this airplane.", None),
    (HELICOPTER, "tail-rotor", "Chip plug. We do not clean it alone.", "named"),
    (
        AEROPLANE,
        "left-engine-side",
        "Before we came here they found a crack in the left exhaust stack and changed it.",
        "named",
    ),
]


@pytest.mark.parametrize(("pack", "zone", "say", "verdict"), NO_TICKS)
def test_no_tick_comes_of_what_was_not_stated(
    pack: str, zone: str, say: str, verdict: str | None
) -> None:
    entry = Labelled(pack=pack, zone=zone, say=say, kind="taught", items={})
    assert {*got(entry, pipeline(pack)).items.values()} == ({verdict} if verdict else set())
    assert "rotor-head.mast" not in got(entry, pipeline(pack)).items
