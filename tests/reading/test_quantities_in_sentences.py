"""Numbers in whole sentences: which words belong to the number, and whether it is a reading of the thing. Wordings
are ours; what they mean is *common practice*."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import HELICOPTER, LORRY, pipeline
from tests.spoken import spoken

from spokenfor.reading.pipeline import read

AXLE, GEAR = "Now the left steer axle.", "Now the left main gear."
ROWS = [
    # a "one" that goes on is no "that one", no "only one"
    (LORRY, f"{AXLE} Brake lining, I make that one point six millimetres.", [(1.6, False)]),
    (LORRY, f"{AXLE} Brake lining, only one and a half mil left.", [(1.5, False)]),
    (LORRY, f"{AXLE} Steer tyre, call that one hundred and ten psi.", [(110.0, True)]),
    (LORRY, f"{AXLE} Steer tyre, only one. Tread's six mil.", [(6.0, True)]),
    # which one, and then what it has
    (LORRY, f"{AXLE} Number one tyre, hundred and ten psi. Number two, eighty-eight psi.", [(110.0, True), (88.0, False)]),
    (LORRY, "Now the left trailer axles. Tyres one, two, 110 psi.", [(110.0, True), (110.0, True)]),
    # where it was taken, or how wide a mark is
    (LORRY, f"{AXLE} Steer tyre, eight mil across the tread.", [(8.0, True)]),
    (LORRY, f"{AXLE} Steer tyre has a cut eight mil across.", [(8.0, None)]),
    # what a thing has, and what was put in
    (LORRY, f"{AXLE} Tyre's a hundred and fifteen psi, with seven mil of tread.", [(115.0, True), (7.0, True)]),
    (LORRY, "Now the engine bay. Coolant was low, topped it up with two litres.", [(2.0, None)]),
    (HELICOPTER, f"{GEAR} Oleo is dry with fifty two millimetres showing.", [(52.0, True)]),
]  # fmt: skip


@pytest.mark.parametrize(("pack", "say", "wanted"), ROWS)
def test_read_as_said(pack: str, say: str, wanted: list[tuple[float, bool | None]]) -> None:
    reading = read(spoken(say), pack, pipeline(pack))
    found = [(one.value, one.within) for said in reading.statements for one in said.quantities]
    assert found == wanted
