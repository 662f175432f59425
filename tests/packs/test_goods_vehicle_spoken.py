"""What a driver says of a goods vehicle reaches the right line of the sheet."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tests.spoken import spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import build, read

NAME = "goods-vehicle"
PACK = load_pack(NAME)


@pytest.mark.parametrize(
    "light", ["headlight", "front-indicator", "tail-light", "brake-light", "rear-indicator"]
)
def test_a_light_that_is_out_is_wrong(light: str) -> None:
    """Common practice: of a lamp, "out" is a fault; of a warning lamp it is as it should be."""
    assert "out" in PACK.components[light].states.adverse
    assert "out" in PACK.components["warning-lamps"].states.expected


BRITISH = """
In the cab. Windscreen is clean. Hand brake holds.
Front of the vehicle. Nearside indicator works. Offside indicator is out.
Under the bonnet. Bonnet closed and locked.
Nearside front axle. Tyre is bald. Wheel nuts are tight.
Behind the cab. Red suzie connected. Yellow suzie is leaking.
Back of the trailer. Number plate is clean.
"""
AMERICAN = """
In the cab. Windshield is clean. Park brake holds.
Front of the truck. Left turn signal works. Right turn signal is out.
Under the hood. Hood closed and locked.
Left front axle. Tire is bald. Lug nuts are tight.
Behind the cab. Emergency line connected. Blue line is leaking.
Rear of the trailer. License plate is clean.
"""


@pytest.mark.parametrize("said", [BRITISH, AMERICAN], ids=["British", "American"])
def test_a_narration_fills_the_sheet(said: str) -> None:
    """Common practice wordings."""
    transcript = spoken(said)
    result = assemble(transcript, read(transcript, NAME, build(NAME)), PACK)
    assert {i.id: i.status.value for i in result.items if i.status != "not_mentioned"} == {
        "cab.windscreen": "satisfactory",
        "cab.parking-brake": "satisfactory",
        "front.front-indicator.left": "satisfactory",
        "front.front-indicator.right": "defect",
        "engine-bay.bonnet": "satisfactory",
        "left-steer-axle.steer-tyre.left": "defect",
        "left-steer-axle.wheel-nut.left": "satisfactory",
        "coupling.emergency-air-line": "satisfactory",
        "coupling.service-air-line": "defect",
        "trailer-rear.rear-number-plate": "satisfactory",
    }


SAID = [
    # said, item, its status; common practice
    ("Nearside front axle. Tyre has cord exposed.", "left-steer-axle.steer-tyre.left", "defect"),
    (
        "Behind the cab. There is an air leak on the red line.",
        "coupling.emergency-air-line",
        "defect",
    ),
    ("Behind the cab. Blue line is losing air.", "coupling.service-air-line", "defect"),
    ("Back of the trailer. Left brake light, bulb out.", "trailer-rear.brake-light.left", "defect"),
    (
        "Left trailer axles. Axle one tyre is good. Axle two tyre is flat.",
        "left-trailer-axles.trailer-tyre.left-aft",
        "defect",
    ),
    (
        "Left trailer axles. Axle one tyre is good. Axle two tyre is flat.",
        "left-trailer-axles.trailer-tyre.left-forward",
        "satisfactory",
    ),
]


@pytest.mark.parametrize(("said", "item", "status"), SAID)
def test_words_of_the_yard(said: str, item: str, status: str) -> None:
    transcript = spoken(said.replace(". ", ".\n"))
    result = assemble(transcript, read(transcript, NAME, build(NAME)), PACK)
    assert {one.id: one.status.value for one in result.items}[item] == status


@pytest.mark.parametrize(("side", "item"), [("left", "left"), ("right", "right")])
def test_the_driver_sits_where_the_pack_says(side: str, item: str, tmp_path: Path) -> None:
    copied = tmp_path / "goods-vehicle"
    shutil.copytree(PACK.folder, copied)
    with (copied / "pack.yaml").open("a") as head:
        head.write(f"driver_side: {side}\n")
    transcript = spoken(
        "In the cab.\nDriver's side mirror is cracked.\nPassenger side mirror is good."
    )
    result = assemble(
        transcript, read(transcript, str(copied), build(str(copied))), load_pack(str(copied))
    )
    found = {one.id: one.status.value for one in result.items if one.status != "not_mentioned"}
    other = {"left": "right", "right": "left"}[item]
    assert found == {f"cab.mirror.{item}": "defect", f"cab.mirror.{other}": "satisfactory"}


def test_the_driver_sits_nowhere_unless_said() -> None:
    """Which side is the driver's differs by country: nothing is ticked on a guess."""
    transcript = spoken("In the cab.\nDriver's side mirror is cracked.")
    result = assemble(transcript, read(transcript, NAME, build(NAME)), PACK)
    assert {one.status.value for one in result.items if one.id.startswith("cab.mirror")} <= {
        "unheard",
        "not_mentioned",
    }
