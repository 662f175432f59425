"""From sheets that are hard to read no item is lost or invented without its being said."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.packs.importing import imported
from tests.packs.messy_sheets import FORKLIFT, HOIST, fire_pump
from tests.spoken import spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.sheet_boxes import marked_sides, side_boxes
from spokenfor.packs.sheet_headings import KnownHeadings
from spokenfor.packs.sheet_languages import TwoLanguages, two_languages
from spokenfor.packs.sheet_states import SheetStates
from spokenfor.packs.spreadsheets import Row
from spokenfor.reading.pipeline import build, read


def made(sheet: Path, folder: Path) -> tuple[list[str], Pack]:
    """What importing says, and the pack."""
    said = imported(sheet, folder, "--yes")
    return said.splitlines(), load_pack(str(folder))


def lines(pack: Pack) -> list[str]:
    return [item.label for item in pack.items]


@pytest.fixture(scope="module")
def pump(tmp_path_factory: pytest.TempPathFactory) -> tuple[list[str], Pack]:
    folder = tmp_path_factory.mktemp("pump")
    return made(fire_pump(folder), folder / "pack")


def test_two_rows_of_headings_numbers_and_two_languages(pump: tuple[list[str], Pack]) -> None:
    _, pack = pump
    assert [zone.prefLabel for zone in pack.zones] == [
        "pump room",
        "diesel engine",
        "control panel",
    ]
    assert lines(pack) == [
        "pump casing",
        "gland packing",
        "suction valve, left",
        "suction valve, right",
        "suction pressure gauge",
        "discharge pressure gauge",
        "coupling guard",
        "engine oil level",
        "coolant level",
        "battery, number one",
        "battery, number two",
        "battery terminals, number one",
        "battery terminals, number two",
        "battery charger",
        "fuel tank",
        "air filter indicator",
        "drive belts",
        "mains healthy lamp",
        "mode selector switch",
        "alarm lamp and horn",
        "emergency stop",
    ]


@pytest.mark.parametrize(
    "told",
    [
        "row 2 left out (above the headings): Site: | Date: | Form 77 rev C",
        "row 4 left out (above the headings): What to check | Result | Limit",
        "row 29 left out (heads no item): * delete as applicable",
        "row 30 left out (nothing in the item column): Signature / Unterschrift | Name",
        "row 8: unit 'drops/min' is not known",
        "row 26: 'alarm lamp and horn' names two things as one; give each a row if each counts",
        "names stand in two languages, the other was left out: row 7 'Pumpengeh\u00e4use'",
    ],
)
def test_what_was_left_out_or_doubted_is_said(pump: tuple[list[str], Pack], told: str) -> None:
    assert told in pump[0]


def test_a_narration_fills_it(pump: tuple[list[str], Pack]) -> None:
    name = str(pump[1].folder)
    transcript = spoken(
        "Pump room.\nPump casing has no leaks, condition is good. Left suction valve is open. "
        "Right suction valve is closed.\nDischarge pressure gauge reads six bar.\n"
        "Diesel engine.\nEngine oil level is between the marks. Number two battery terminals are corroded.\n"
        "Control panel.\nMains healthy lamp is lit. Mode selector switch in manual. Horn."
    )
    result = assemble(transcript, read(transcript, name, build(name)), load_pack(name))
    assert {i.id: i.status.value for i in result.items if i.status != "not_mentioned"} == {
        "pump-room.pump-casing": "satisfactory",
        "pump-room.suction-valve.left": "satisfactory",
        "pump-room.suction-valve.right": "defect",
        "pump-room.discharge-pressure-gauge": "defect",
        "diesel-engine.engine-oil-level": "satisfactory",
        "diesel-engine.battery-terminals.number-two": "defect",
        "control-panel.mains-healthy-lamp": "satisfactory",
        "control-panel.mode-selector-switch": "defect",
        "control-panel.alarm-lamp-and-horn": "named",
    }


@pytest.mark.parametrize(
    ("encoding", "first"),
    [("cp1252", ""), ("utf-8-sig", ""), ("utf-8-sig", "sep=;\r\n"), ("utf-16", "")],
)
def test_a_csv_in_any_encoding_reads_the_same(encoding: str, first: str, tmp_path: Path) -> None:
    sheet = tmp_path / "forklift.csv"
    sheet.write_bytes((first + FORKLIFT.replace("\n", "\r\n")).encode(encoding))
    said, pack = made(sheet, tmp_path / "pack")
    assert pack.head.title == "Gabelstapler / Forklift truck - daily"
    assert [zone.id for zone in pack.zones] == [
        "mast",
        "travel-and-brakes",
        "power",
        "operator-s-place",
    ]
    assert len(pack.items) == 18
    assert lines(pack)[:2] == ["lift chain, left", "lift chain, right"]
    start = 1 if first else 0
    assert f"row {23 + start} left out (heads no item): Bemerkungen:" in said
    assert f"row {8 + start}: limit 'max 1,5' of 'mast rollers' has no unit that is known" in said
    nothing = "nothing is known that could be stated; condition will be"
    assert f"row {21 + start}: of 'colour' {nothing}" in said


def test_boxes_for_sides(tmp_path: Path) -> None:
    sheet = tmp_path / "hoist.csv"
    sheet.write_text(HOIST)
    said, pack = made(sheet, tmp_path / "pack")
    assert lines(pack) == [
        "rack bolts, left",
        "rack bolts, right",
        "buffer springs",
        "safety gear",
        "cage gate",
        "control box",
    ]
    assert any("D  LH" in line and "box left" in line for line in said)


def test_boxes_that_say_nothing_are_told(tmp_path: Path) -> None:
    sheet = tmp_path / "hoist.csv"
    sheet.write_text(HOIST.replace(",x", ",").replace("n/a", ""))
    said, pack = made(sheet, tmp_path / "pack")
    assert len(pack.items) == 5
    assert any("columns D and E are boxes for sides" in line for line in said)


@pytest.mark.parametrize(
    ("left", "right", "sides"),
    [
        ("x", "x", "left & right"),
        ("", "x", "right"),
        ("", "", ""),
        ("n/a", "", "right"),
        ("-", "-", ""),
    ],
)
def test_marked_sides(left: str, right: str, sides: str) -> None:
    boxes = side_boxes(["Item", "L/H", "R/H"], [0])
    assert marked_sides(Row(1, ["horn", left, right]), boxes) == sides


def test_one_side_alone_is_no_pair_of_boxes() -> None:
    assert side_boxes(["Item", "L", "Remarks"], [0]) == {}


@pytest.mark.parametrize(
    ("rows", "last", "texts"),
    [
        ([["Item", "Limit", ""], ["", "Min", "Max"], ["Horn", "", ""]], 1, ("Item", "Min", "Max")),
        ([["Daily check"], ["Item", "Check"], ["Horn", "test"]], 1, ("Item", "Check")),
        ([["Benennung / Item", "Grenzwert"], ["Horn", ""]], 0, ("Benennung / Item", "Grenzwert")),
    ],
)  # fmt: skip
def test_where_the_headings_stand(rows: list[list[str]], last: int, texts: tuple[str, ...]) -> None:
    found = KnownHeadings().find([Row(at, cells) for at, cells in enumerate(rows, start=1)])
    assert (found.last, found.texts) == (last, texts)


def test_which_language_is_english() -> None:
    cells = ["Kette / chain", "Bremse / brake", "Reifen / tyre", "horn"]
    assert two_languages(cells).split("Spiegel / mirror") == ("mirror", "Spiegel")
    assert two_languages(["seat belt / restraint", "horn / bell"]) == TwoLanguages(None)


@pytest.mark.parametrize(
    ("check", "right"),
    [
        ("open, locked", ["open", "locked"]),
        ("must be closed", ["closed", "shut"]),
        ("opens and closes; open - closed", []),
        ("leaks", []),
    ],
)
def test_states_that_a_sheet_asks_for(check: str, right: list[str]) -> None:
    assert [word for row in SheetStates().find(check) for word in row.right] == right
