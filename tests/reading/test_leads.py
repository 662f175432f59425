"""What leads into a sentence, or only rounds it off, changes nothing of what it says."""

from __future__ import annotations

from functools import cache
from random import Random

import pytest
from audio_samples.script import Script, load_script, script_paths
from tests.reading.test_structure import HELICOPTER, LORRY, pipeline, said
from tests.retold import led_into, retold, rounded_off
from tests.samples.scoring import SampleScore

SCRIPTS: list[Script] = [load_script(path) for path in script_paths()]


@cache
def told(lead: str, behind: str) -> list[SampleScore]:
    return [
        retold(
            script,
            lambda line, _: led_into(rounded_off(line, behind), lead),
            pipeline(script.pack),
            Random(1),
        )
        for script in SCRIPTS
    ]


@pytest.mark.parametrize(
    ("lead", "behind", "wrong"),
    [
        # The bench has the others (tests/bench/spoken_otherwise.py).
        *((lead, "", 1) for lead in ("Okay then,", "Moving on,", "Right, so")),
        ("Well,", "", 3),
        # One question of the scripts is answered "yeah, no".
        ("Yeah,", "", 2),
        # Behind a left one, "right," is a side.
        ("Right,", "", 12),
        ("Good,", "", 12),
    ],
)
def test_bundled_narrations_read_the_same(lead: str, behind: str, wrong: int) -> None:
    plain, found = told("", ""), told(lead, behind)
    right = sum(one.spoken_right for one in plain)
    assert sum(one.spoken_right for one in found) >= right - wrong
    invented = sum(len(one.invented) for one in plain)
    assert sum(len(one.invented) for one in found) <= invented + 3 * (wrong > 2)


ROWS = [
    # praise of what went before is no result of what is only named
    ("nose-gear", "Good, the tyre.", "nose-tyre", "named"),
    ("nose-gear", "All right, the wheel.", "nose-wheel", "named"),
    ("nose-gear", "Nose tyre. Good, plenty of tread.", "nose-tyre", "satisfactory"),
    ("nose-gear", "Nose tyre. Okay.", "nose-tyre", "satisfactory"),
    # "right" is a side where the left was just told so, and by its name
    ("nose", "Left, pitot tube is clear. Right, pitot tube is blocked.", "pitot-tube.right", "defect"),
    ("nose", "Right pitot tube is clear.", "pitot-tube.right", "satisfactory"),
    ("nose", "Right, nose cone is secure.", "nose-cone", "satisfactory"),
    # "well," admits something where no name follows
    ("number-one-engine", "Number one engine hose, no chafing. Well, a bit.", "engine-hose.number-one", "defect"),
    ("number-one-engine", "Number one engine hose, no chafing. Well, the harness is chafed.", "engine-harness.number-one", "defect"),
    # an answer that is one stays
    ("nose-gear", "Nose tyre, any cuts? Yeah, two.", "nose-tyre", "defect"),
    # what a thing looks like is no look
    ("nose-gear", "The nose wheel is looking cracked.", "nose-wheel", "defect"),
    ("nose-gear", "The nose tyre is looking worn.", "nose-tyre", "defect"),
    ("nose-gear", "The nose wheel is looking clean.", "nose-wheel", "satisfactory"),
    ("nose-gear", "We're looking for cracks in the nose wheel.", "nose-wheel", "looked_for"),
    # small words behind a state
    ("number-one-engine", "Bypass indicator is in again.", "fuel-filter-bypass-indicator.number-one", "satisfactory"),
    ("number-one-engine", "Bypass indicator is out today.", "fuel-filter-bypass-indicator.number-one", "defect"),
    # shown, and nothing said of it
    ("number-one-engine", "Starter generator is secure. This is the fuel control unit as well.", "fuel-control-unit.number-one", "named"),
    ("number-one-engine", "Starter generator is secure. The fuel control unit as well.", "fuel-control-unit.number-one", "satisfactory"),
    # apostrophes left out
    ("nose", "The landing light doesnt come on.", "landing-light", "defect"),
]  # fmt: skip


@pytest.mark.parametrize(("zone", "say", "item", "verdict"), ROWS)
def test_read_as_meant(zone: str, say: str, item: str, verdict: str) -> None:
    assert said(HELICOPTER, zone, say).get(item, "-") == verdict


def test_a_lorry_driver_names_a_corner() -> None:
    found = said(LORRY, "cab", "Nearside front. Wheel nuts are tight.")
    assert found == {"wheel-nut.left": "satisfactory"}
