"""Small words that must not be taken for more, or less, than they are."""

from __future__ import annotations

from tests.spoken import PACK, spoken

from spokenfor.models import Verdict
from spokenfor.reading.pipeline import read


def test_good_on_both_is_a_result() -> None:
    """ "Good on" goes on to another thing only before "to"; here it says where the result holds."""
    reading = read(spoken("Now the hydraulics bay.\nFluid level is good on both systems."), PACK)
    assert {(one.item, one.verdict) for one in reading.statements} == {
        ("hydraulics.hydraulic-fluid-level.number-one", Verdict.SATISFACTORY),
        ("hydraulics.hydraulic-fluid-level.number-two", Verdict.SATISFACTORY),
    }


def test_half_or_three_alone_is_no_result() -> None:
    reading = read(spoken("Now the rotor head.\nHalf the pitch links.\nThree pitch links."), PACK)
    assert Verdict.SATISFACTORY not in {one.verdict for one in reading.statements}
