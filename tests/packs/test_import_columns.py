"""Columns of a sheet from outside are asked about, cells are read, and what is no sheet is told in one line."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from tests.packs.importing import imported
from typer.testing import CliRunner

from spokenfor.cli import app
from spokenfor.errors import InputError
from spokenfor.packs.from_sheet import CAUTION, pack_from_sheet
from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import PackHead
from spokenfor.packs.sheet_columns import guess_columns, letter, said_columns
from spokenfor.packs.spreadsheets import read_table

HEAD = PackHead(name="made", title="Made", version="1.0.0", description="Made.", caution=CAUTION)


def test_columns_are_asked_about_and_changed(tmp_path: Path) -> None:
    sheet = tmp_path / "plain.csv"
    sheet.write_text("Thing,Where\nHorn,Cab\nMirror,Cab\nTow hook,Front\n")
    said = imported(sheet, tmp_path / "pack", typed="zone=B item=A\nyes\n")
    assert "Is that right?" in said
    assert [item.id for item in load_pack(str(tmp_path / "pack")).items] == [
        "cab.horn",
        "cab.mirror",
        "front.tow-hook",
    ]


def test_nobody_there_to_ask(tmp_path: Path) -> None:
    sheet = tmp_path / "plain.csv"
    sheet.write_text("Item,Zone\nHorn,Cab\n")
    with pytest.raises(InputError, match="--yes"):
        imported(sheet, tmp_path / "pack")
    assert not (tmp_path / "pack").exists()


def test_what_the_user_says_of_columns_stands(tmp_path: Path) -> None:
    sheet = tmp_path / "codes.csv"
    sheet.write_text("X1,Y2\nHorn,Cab\n")
    imported(sheet, tmp_path / "pack", "--column", "item=A", "--column", "zone=B", "--yes")
    items = [item.id for item in load_pack(str(tmp_path / "pack")).items]
    assert "cab.horn" in items


@pytest.mark.parametrize(
    ("content", "name", "says"),
    [
        (b"", "empty.csv", "empty"),
        (b"Item\n", "heads.csv", "no row gives an item"),
        (b"PK\x03\x04nonsense", "torn.xlsx", "not a spreadsheet"),
        (b"Item,Zone\nHorn,Cab\n", "sheet.ods", "not read"),
        (b"\x00\x01\x02\x00", "binary.csv", "not a text file"),
        (b"1,2,3\n4,5,6\n", "numbers.csv", "no column looks like the items"),
    ],
)
def test_what_is_no_sheet_is_told_in_one_line(
    tmp_path: Path, content: bytes, name: str, says: str
) -> None:
    (tmp_path / name).write_bytes(content)
    with pytest.raises(InputError, match=says):
        imported(tmp_path / name, tmp_path / "pack", "--yes")
    assert not (tmp_path / "pack").exists()


def test_a_folder_that_is_there_is_left_alone(tmp_path: Path) -> None:
    sheet = tmp_path / "plain.csv"
    sheet.write_text("Item,Zone\nHorn,Cab\n")
    (tmp_path / "pack").mkdir()
    (tmp_path / "pack" / "mine.txt").write_text("mine")
    with pytest.raises(InputError, match="is there already"):
        imported(sheet, tmp_path / "pack", "--yes")
    assert [path.name for path in (tmp_path / "pack").iterdir()] == ["mine.txt"]


CELLS = [
    # written, items as (component, positions), common practice of check sheets
    ("L/H & R/H MLG tyre", [("main landing gear tyre", ["left", "right"])]),
    ("Door L/R", [("door", ["left", "right"])]),
    ("Eng. 1 + 2 oil lvl", [("engine oil level", ["number-one", "number-two"])]),
    ("No. 1 & No. 2 hyd. pump", [("hydraulic pump", ["number-one", "number-two"])]),
    ("#1/#2 gen", [("generator", ["number-one", "number-two"])]),
    ("Nav lts (both)", [("navigation light", ["left", "right"])]),
    ("Eng cowl (both)", [("engine cowling", ["number-one", "number-two"])]),
    (
        "Skid, fwd/aft, LH & RH",
        [("skid", ["left forward", "right forward", "left aft", "right aft"])],
    ),
    ("Static port", [("static port", [])]),
    ("Front bumper", [("front bumper", [])]),
    ("Pump, hydraulic", [("hydraulic pump", [])]),
    ("Tyres, wheels, brakes", [("tyres", []), ("wheels", []), ("brakes", [])]),
    ("1.2.3 Check horn for operation", [("horn", [])]),
    ("Ensure covers are removed", [("covers", [])]),
    ("ELT ANT (2 off)", [("ELT antenna", [])]),
    ("LED light bar", [("LED light bar", [])]),
    ("a) Battery (28 V)", [("battery", [])]),
    ("Grease nipples x4", [("grease nipples x4", [])]),
]


@pytest.mark.parametrize(("written", "expected"), CELLS, ids=[row[0] for row in CELLS])
def test_how_a_cell_is_read(
    tmp_path: Path, written: str, expected: list[tuple[str, list[str]]]
) -> None:
    """Common practice."""
    sheet = tmp_path / "one.csv"
    with sheet.open("w", newline="") as file:
        csv.writer(file).writerows(
            [
                ["Zone", "Item", "Remarks"],
                ["nose", written, ""],
                ["nose", "No 1 engine", ""],
                ["nose", "No 2 engine", ""],
                ["nose", "L/H and R/H step", ""],
            ]
        )
    table = read_table(sheet)
    parts = pack_from_sheet(table, guess_columns(table), HEAD).parts
    names = {one.id: one.prefLabel for one in parts.components}
    lines = [(names[line.component], line.positions) for line in parts.sheet[0].lines]
    assert [one for one in lines if one[0] not in ("engine", "step")] == expected


def test_columns_have_the_letters_of_spreadsheets() -> None:
    assert [letter(at) for at in (0, 25, 26, 51, 52)] == ["A", "Z", "AA", "AZ", "BA"]


@pytest.mark.parametrize("said", ["item", "item=1", "thing=A", "item=ZZ", "item=ABC"])
def test_a_column_that_is_none(tmp_path: Path, said: str) -> None:
    sheet = tmp_path / "plain.csv"
    sheet.write_text("Item,Zone\nHorn,Cab\n")
    table = read_table(sheet)
    with pytest.raises(InputError, match="--column"):
        said_columns(guess_columns(table), [said], table)


def test_a_few_questions_make_a_pack(tmp_path: Path) -> None:
    answers = (
        "Forklift, daily check\n\nmast\nforks L/H & R/H; chain (both)\ncab\nhorn; seat belt\n\n"
    )
    done = CliRunner().invoke(
        app, ["pack", "new", "--out", str(tmp_path / "forklift")], input=answers
    )
    assert done.exit_code == 0, done.output
    pack = load_pack(str(tmp_path / "forklift"))
    assert pack.head.name == "forklift-daily-check"
    assert [item.id for item in pack.items] == [
        "mast.forks.left",
        "mast.forks.right",
        "mast.chain.left",
        "mast.chain.right",
        "cab.horn",
        "cab.seat-belt",
    ]


def test_an_empty_sheet_is_refused_with_an_option_that_there_is(tmp_path: Path) -> None:
    sheet = tmp_path / "empty.csv"
    sheet.write_text("\n;;\n", encoding="utf-8")
    with pytest.raises(InputError, match=r"the sheet is empty.*--worksheet"):
        read_table(sheet)
    shown = CliRunner().invoke(app, ["pack", "import", "--help"], env={"COLUMNS": "200"})
    assert "--worksheet" in shown.output
