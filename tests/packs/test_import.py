"""A check sheet from outside becomes a pack that a narration fills, and nobody touches YAML."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.packs.importing import imported
from tests.packs.outside_sheets import SHEETS

from spokenfor.check import Request, check
from spokenfor.packs.from_sheet import CAUTION
from spokenfor.packs.lint import lint
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.schema import PackHead

HEAD = PackHead(name="made", title="Made", version="1.0.0", description="Made.", caution=CAUTION)


@pytest.fixture(scope="module", params=SHEETS)
def outside(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[str, str, Pack]:
    """A sheet's name, what importing it said, and the pack."""
    folder = tmp_path_factory.mktemp(request.param)
    sheet = SHEETS[request.param](folder)
    said = imported(sheet, folder / "pack", "--yes")
    return request.param, said, load_pack(str(folder / "pack"))


ITEMS = {
    "gantry_crane": {
        "legs-and-travel.travel-wheel.left": "travel wheel, left",
        "legs-and-travel.travel-motor-brake.right": "travel motor brake, right",
        "legs-and-travel.rail-clamp.right": "rail clamp, right",
        "legs-and-travel.buffer.aft": "buffer, aft",
        "hydraulic-unit.hydraulic-reservoir-level": "hydraulic reservoir level",
        "hydraulic-unit.hydraulic-pump.number-two": "hydraulic pump, number two",
        "hoist.upper-limit-switch": "upper limit switch",
        "cabin.vhf-antenna": "VHF antenna",
    },
    "regional_coach": {
        "engine-bay.coolant-level": "coolant level",
        "nearside.front-tyre.left": "front tyre, left",
        "offside.front-tyre.right": "front tyre, right",
        "rear.brake-light.left": "brake light, left",
        "inside.air-pressure-gauge": "air pressure gauge",
    },
    "ground_power": {
        "chassis.tyres.right-aft": "tyres, right aft",
        "chassis.lights.left": "lights, left",
        "engine.engine-oil-level": "engine oil level",
        "engine.fuel-filter.number-two": "fuel filter, number two",
        "output.output-cable.number-two": "output cable, number two",
        "output.hour-meter": "hour meter",
    },
}
LIMITS = {
    "gantry_crane": {
        "travel-wheel": [("wear", 3.5, None, "millimeter")],
        "travel-motor-brake": [("adjustment", 0.8, 1.2, "millimeter")],
        "hydraulic-pressure-gauge": [("pressure", 140, 160, "bar")],
        "fire-extinguisher": [("pressure", 12.5, None, "bar")],
    },
    "regional_coach": {
        "drive-belt": [("adjustment", None, 12.5, "millimeter")],
        "alternator-output": [("charge", 27.2, 28.8, "volt")],
        "front-tyre": [("wear", 1.6, None, "millimeter")],
        "air-pressure-gauge": [("pressure", 7.5, 10, "bar")],
    },
    "ground_power": {
        "tyres": [("pressure", 2.2, 2.6, "bar")],
        "fan-belt-tension": [("play", None, 10, "millimeter")],
        "output-voltage": [("charge", 28, 29, "volt")],
    },
}
ZONES = {
    "gantry_crane": ["legs-and-travel", "hydraulic-unit", "hoist", "cabin"],
    "regional_coach": ["engine-bay", "nearside", "rear", "offside", "inside"],
    "ground_power": ["chassis", "engine", "output"],
}
NARRATIONS = {
    "gantry_crane": (
        """Legs and travel. Left travel wheel condition is good. Right travel wheel is cracked.
        Both rail clamps are good, no corrosion. At the hydraulic unit. Hydraulic reservoir level is good.
        Number one hydraulic pump is dry. Number two hydraulic pump is leaking.
        Going up to the hoist. Wire rope has no corrosion, condition good. Cabin. The V H F aerial is secure.
        Windshield is clean.""",
        {
            "legs-and-travel.travel-wheel.left": "satisfactory",
            "legs-and-travel.travel-wheel.right": "defect",
            "legs-and-travel.rail-clamp.left": "satisfactory",
            "legs-and-travel.rail-clamp.right": "satisfactory",
            "hydraulic-unit.hydraulic-reservoir-level": "satisfactory",
            "hydraulic-unit.hydraulic-pump.number-one": "satisfactory",
            "hydraulic-unit.hydraulic-pump.number-two": "defect",
            "hoist.wire-rope": "satisfactory",
            "cabin.vhf-antenna": "satisfactory",
            "cabin.windscreen": "satisfactory",
        },
    ),
    "regional_coach": (
        """Engine bay. Engine oil level is good. Drive belt is cracked. Down the nearside. Front tire is good, no cuts.
        Wheel nuts are secure. Rear. Left brake light works, right brake light is not working.
        Round to the offside. Front tyre has a bulge. Inside. Seat belts are in good condition.
        Air pressure gauge reads eight bar.""",
        {
            "engine-bay.engine-oil-level": "satisfactory",
            "engine-bay.drive-belt": "defect",
            "nearside.front-tyre.left": "satisfactory",
            "nearside.wheel-nuts.left": "satisfactory",
            "rear.brake-light.left": "satisfactory",
            "rear.brake-light.right": "defect",
            "offside.front-tyre.right": "defect",
            "inside.seat-belts": "satisfactory",
            "inside.air-pressure-gauge": "satisfactory",
        },
    ),
    "ground_power": (
        """Chassis. Left forward tyre is good. Tow bar has no cracks, it's secure. Engine.
        Engine oil level is between the marks. Number two fuel filter is leaking.
        Output. Number one output cable is good. Number two output cable is cut.
        Hour meter is good. Bonding lead is not fitted.""",
        {
            "chassis.tyres.left-forward": "satisfactory",
            "chassis.tow-bar": "satisfactory",
            "engine.engine-oil-level": "satisfactory",
            "engine.fuel-filter.number-two": "defect",
            "output.output-cable.number-one": "satisfactory",
            "output.output-cable.number-two": "defect",
            "output.hour-meter": "satisfactory",
            "output.bonding-lead": "not_fitted",
        },
    ),
}


def test_zones_stand_in_the_order_of_the_sheet(outside: tuple[str, str, Pack]) -> None:
    name, _, pack = outside
    assert [zone.id for zone in pack.zones] == ZONES[name]


def test_items_are_named_and_placed(outside: tuple[str, str, Pack]) -> None:
    name, _, pack = outside
    labels = {item.id: item.label for item in pack.items}
    assert {one: labels.get(one) for one in ITEMS[name]} == ITEMS[name]


def test_limits_are_read_with_decimal_commas(outside: tuple[str, str, Pack]) -> None:
    name, _, pack = outside
    limits = {
        one.id: [(limit.of, limit.minimum, limit.maximum, limit.unit) for limit in one.limits]
        for one in pack.components.values()
        if one.limits
    }
    assert limits == LIMITS[name]
    assert all(limit.example for one in pack.components.values() for limit in one.limits)


def test_other_worksheets_are_named(outside: tuple[str, str, Pack]) -> None:
    name, said, _ = outside
    assert ("Not read: worksheet 'Contacts'; --worksheet" in said) == (name == "gantry_crane")


def test_the_pack_passes_lint(outside: tuple[str, str, Pack]) -> None:
    _, _, pack = outside
    assert [str(remark) for remark in lint(pack)] == []


def test_a_narration_fills_the_sheet(outside: tuple[str, str, Pack], tmp_path: Path) -> None:
    name, _, pack = outside
    narration, expected = NARRATIONS[name]
    lines = [line.strip() for line in narration.replace("\n", " ").split(".") if line.strip()]
    cues = [
        f"00:{at // 20:02}:{at % 20 * 3:02}.000 --> 00:{at // 20:02}:{at % 20 * 3 + 2:02}.900\n{line}.\n"
        for at, line in enumerate(lines)
    ]
    captions = tmp_path / "walk.vtt"
    captions.write_text("WEBVTT\n\n" + "\n".join(cues))
    result, _ = check(Request(sounds=[], pack=str(pack.folder), captions=captions))
    found = {item.id: item.status.value for item in result.items}
    assert {one: found[one] for one in found if found[one] != "not_mentioned"} == expected


def test_what_was_left_out_is_said(outside: tuple[str, str, Pack]) -> None:
    _, said, pack = outside
    assert "row 22 left out" in said or "row 30 left out" in said
    assert f"{len(pack.items)} items" in said


def test_optional_rows_are_not_required(outside: tuple[str, str, Pack]) -> None:
    name, _, pack = outside
    optional = {item.component for item in pack.items if not item.required}
    assert (
        optional
        == {
            "gantry_crane": {"buffer", "vhf-antenna"},
            "regional_coach": {"fire-extinguisher"},
            "ground_power": {"bonding-lead"},
        }[name]
    )
