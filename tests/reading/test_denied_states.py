"""A flagged word that holds an expected state within it decides: "not working" is never a tick (promise 1)."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import HELICOPTER, said
from tests.spoken import PACK, spoken

from spokenfor.models import Verdict
from spokenfor.reading.pipeline import read

SAID = (
    "Landing light doesn't work.",
    "Landing light isn't working.",
    "Landing light is not working.",
    "Landing light doesn't come on.",
    "Nose compartment door is not closed.",
    "Nose compartment door isn't locked.",
    "Nose compartment door won't lock.",
    "Nose compartment door will not close.",
)


@pytest.mark.parametrize("said", SAID)
def test_a_denied_state_is_a_defect(said: str) -> None:
    reading = read(spoken(f"Starting at the nose.\n{said}"), PACK)
    assert [one.verdict for one in reading.statements] == [Verdict.DEFECT]


@pytest.mark.parametrize(
    ("zone", "say", "line"),
    [
        ("left-cabin-side", "The cabin door won't shut.", "cabin-door.left"),
        ("left-cabin-side", "The cabin door doesn't shut.", "cabin-door.left"),
        ("nose", "The nose door won't stay closed and locked.", "nose-compartment-door"),
        ("number-one-engine", "The cowling catch isn't done up.", "cowling-catch.number-one"),
    ],
)
def test_a_state_inside_its_denial_is_a_defect(zone: str, say: str, line: str) -> None:
    assert said(HELICOPTER, zone, say) == {line: "defect"}
