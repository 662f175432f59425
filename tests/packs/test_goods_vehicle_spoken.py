"""What a driver says of a goods vehicle reaches the right line of the sheet."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.spoken import spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.packs.copying import copy_pack
from spokenfor.packs.lint import lint
from spokenfor.packs.load import load_pack
from spokenfor.packs.unknown_sides import unknown_sides
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


def filled(said: str, name: str = NAME) -> dict[str, str]:
    """Lines of which a result was heard, with their status."""
    transcript = spoken(said)
    result = assemble(transcript, read(transcript, name, build(name)), load_pack(name))
    nothing = ("not_mentioned", "unheard")
    return {one.id: one.status.value for one in result.items if one.status.value not in nothing}


@pytest.mark.parametrize(("side", "item"), [("left", "left"), ("right", "right")])
def test_the_driver_sits_where_the_pack_says(side: str, item: str, tmp_path: Path) -> None:
    copied = str(copy_pack(NAME, tmp_path / "ours", driver_side=side))
    found = filled(
        "In the cab.\nDriver's side mirror is cracked.\nPassenger side mirror is good.\n"
        "Driver's side of the trailer.\nSide guard is secure.",
        copied,
    )
    other = {"left": "right", "right": "left"}[item]
    assert found == {
        f"cab.mirror.{item}": "defect",
        f"cab.mirror.{other}": "satisfactory",
        f"{item}-trailer-side.side-guard.{item}": "satisfactory",
    }


@pytest.mark.parametrize(
    ("said", "lines"),
    [
        ("In the cab.\nDriver's side mirror is cracked.", {}),
        ("Driver's side front axle.\nTyre is good. Wheel nuts are tight.", {}),
        (
            "Left side of the trailer.\nSide guard is secure.\nDriver's side front axle.\nTyre is good.",
            {"left-trailer-side.side-guard.left": "satisfactory"},
        ),
        (
            "Left side of the tractor.\nDriver's side door is damaged.\nStep is secure.",
            {"left-tractor-side.cab-step.left": "satisfactory"},
        ),
        (
            "In the cab.\nNearside mirror is good. Offside mirror is cracked.",
            {"cab.mirror.left": "satisfactory", "cab.mirror.right": "defect"},
        ),
    ],
)
def test_the_driver_sits_nowhere_unless_said(said: str, lines: dict[str, str]) -> None:
    """Which side is the driver's differs by country: nothing is ticked on a guess."""
    assert filled(said) == lines


def test_nearside_is_no_side_where_the_driver_sits_on_the_left(tmp_path: Path) -> None:
    """Next to the kerb is the right there, and some mean the left by it all the same."""
    copied = str(copy_pack(NAME, tmp_path / "ours", driver_side="left"))
    assert filled("In the cab.\nNearside mirror is good.", copied) == {}
    assert filled("Nearside of the trailer.\nSide guard is secure.", copied) == {}
    assert unknown_sides(load_pack(copied), ["Nearside mirror is good."]) == ["nearside"]


def test_sides_that_the_pack_cannot_place_are_named() -> None:
    said = ["The driver side mirror", "and the passengers' side step", "nearside door"]
    assert unknown_sides(PACK, said) == ["driver's side", "passenger side"]


def test_a_third_axle_of_ones_own(tmp_path: Path) -> None:
    """As docs/pack-author.md tells it: axles by number, and the rear one is the third."""
    folder = copy_pack(NAME, tmp_path / "three-axles")
    head, sheet = folder / "pack.yaml", folder / "sheet.yaml"
    head.write_text(head.read_text().replace("[aft, number-two]", "[aft, number-three]"))
    lines = sheet.read_text()
    for side in ("left", "right"):
        three = f"[{side} number-one, {side} number-two, {side} number-three]"
        lines = lines.replace(f"[{side} forward, {side} aft]", three)
        lines = lines.replace(f"[{side} aft, {side} forward]", three)
    sheet.write_text(lines)
    assert lint(load_pack(str(folder))) == []
    zone = "left-trailer-axles.trailer-tyre.left-number"
    assert filled(
        "Left trailer axles.\nFirst axle tyre is good.\nThird axle tyre is flat.", str(folder)
    ) == {
        f"{zone}-one": "satisfactory",
        f"{zone}-three": "defect",
    }
    assert filled("Left trailer axles.\nRear tyre is good.", str(folder)) == {
        f"{zone}-three": "satisfactory"
    }
