"""Three check sheets as they come from shops that never heard of packs; every line invented.

- `gantry_crane.xlsx`: title rows, zones in cells merged downwards, short forms, sides mixed, German decimals.
- `regional_coach.csv`: semicolons, section headings between the rows, cp1252, units in a column, a foot.
- `ground_power.xlsx`: no zone column, sections in capitals across the sheet, limits in words, "No 1/2", "both".
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.worksheet.worksheet import Worksheet

CRANE: list[tuple[str, str, str, str, str, str]] = [
    ("LEGS & TRAVEL", "Travel whl", "L/H & R/H", "Cond., wear", "min. 3,5 mm", ""),
    ("", "Travel mtr brake", "L/H & R/H", "Adj.", "0,8 - 1,2 mm", ""),
    ("", "Rail clamp", "both", "Chk for corr. and damage", "", ""),
    ("", "Buffer", "fwd & aft", "Sec.", "", "if fitted"),
    ("HYD. UNIT", "Hyd res. lvl", "", "between min and max", "", ""),
    ("", "Hyd pump", "No 1/2", "Leaks", "", ""),
    ("", "Hyd press. gauge", "", "", "140 - 160 bar", ""),
    ("", "Return filter ind.", "", "", "", ""),
    ("HOIST", "Wire rope", "", "Chk for broken wires, corr.", "", ""),
    ("", "Hook & latch", "", "Cond. & sec.", "", ""),
    ("", "Hoist gbox oil lvl", "", "", "", ""),
    ("", "Limit sw, upper", "", "Func.", "", ""),
    ("CABIN", "Fire exting.", "", "Press.", "12,5 bar min", "x2"),
    ("", "Horn", "", "Op.", "", ""),
    ("", "W/screen", "", "Clean", "", ""),
    ("", "VHF ant", "", "", "", "optional"),
]

COACH = """Daily walk-round check;;;;;;
Depot North;;Rev. 4;;;;
;;;;;;
No.;Item to check;Side;What to look for;Min;Max;Unit
;ENGINE BAY;;;;;
1;Engine oil level;;;;;
2;Coolant lvl;;no leaks;;;
3;Drive belt;;cracks, tension;;12,5;mm
4;Batt. terminals;;corr.;;;
5;Alternator output;;;27,2;28,8;V
;NEARSIDE;;;;;
6;Front tyre;N/S;cuts, bulges;1,6;;mm
7;Wheel nuts;N/S;sec.;;;
8;Luggage door;N/S;locked;;;
9;Mirror;N/S;;;;
;REAR;;;;;
10;Brake lts;L & R;func.;;;
11;Emergency door;;opens \u2013 closes;;;
12;Exhaust;;leaks / sec.;;;
;OFFSIDE;;;;;
13;Front tyre;O/S;cuts, bulges;1,6;;mm
14;Wheel nuts;O/S;sec.;;;
15;Fuel cap;;;;;
16;Mirror;O/S;;;;
;INSIDE;;;;;
17;Fire extinguisher (if fitted);;in date;;;
18;Seat belts;;cond.;;;
19;Air pressure gauge;;;7,5;10;bar
20;First aid kit;;;;;
;Signature: ______;;;;;
"""

POWER: list[tuple[str, ...]] = [
    ("Ground Power Trolley - Check before use",),
    ("Form 12, issue 3",),
    (),
    ("", "Inspection point", "Criteria / limit", "OK", "Not OK", "Remarks"),
    ("CHASSIS",),
    (
        "1.1",
        "Tyres, L/H + R/H, fwd + aft",
        "Pressure 2,2 bis 2,6 bar".replace("bis", "to"),
        "",
        "",
        "",
    ),
    ("1.2", "Tow bar", "Check for cracks", "", "", ""),
    ("1.3", "Parking brake", "holds", "", "", ""),
    ("1.4", "Lights (both)", "Func. check", "", "", ""),
    ("ENGINE",),
    ("2.1", "Check eng. oil level", "between marks", "", "", ""),
    ("2.2", "Fuel filter No 1 & No 2", "no leaks", "", "", ""),
    ("2.3", "Exhaust silencer", "sec.; no cracks", "", "", ""),
    ("2.4", "Radiator hose", "not chafed", "", "", ""),
    ("2.5", "Fan belt tension", "max 10 mm", "", "", ""),
    ("OUTPUT",),
    ("3.1", "Output cable - #1 and #2", "no cuts; plug clean", "", "", ""),
    ("3.2", "Output voltage", "28,5 V \u00b1 0,5 V", "", "", ""),
    ("3.3", "Ammeter, voltmeter, hour meter", "readable", "", "", ""),
    ("3.4", "Emerg. stop", "tested", "", "", ""),
    ("3.5", "Bonding lead (if fitted)", "cond.", "", "", ""),
    ("Inspected by:", "", "Date:", "", "", ""),
]


def filled_in(rows: Sequence[Sequence[str]]) -> tuple[Workbook, Worksheet]:
    """A workbook with these rows in its only worksheet; empty cells stay empty."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    for at, row in enumerate(rows, start=1):
        for column, text in enumerate(row, start=1):
            if text:
                sheet.cell(at, column, text)
    return book, sheet


def gantry_crane(folder: Path) -> Path:
    """An xlsx with title rows and merged zone cells."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Weekly"
    sheet["A1"] = "Gantry crane 4 - weekly check"
    sheet.merge_cells("A1:F1")
    sheet["A2"], sheet["E2"] = "Shop copy", "Week:"
    headings = ("Zone", "Check item", "Pos.", "Check", "Limit", "Remarks")
    for column, text in enumerate(headings, start=1):
        sheet.cell(4, column, text).font = Font(bold=True)
    first = 5
    for at, row in enumerate(CRANE, start=first):
        for column, text in enumerate(row, start=1):
            if text:
                sheet.cell(at, column, text)
    starts = [first + at for at, row in enumerate(CRANE) if row[0]] + [first + len(CRANE)]
    for start, after in pairwise(starts):
        sheet.merge_cells(start_row=start, end_row=after - 1, start_column=1, end_column=1)
    last = first + len(CRANE) + 1
    sheet.cell(last, 1, "Checked by")
    sheet.cell(last, 4, "Signature")
    other = book.create_sheet("Contacts")
    other["A1"] = "Stores: extension 12"
    path = folder / "gantry_crane.xlsx"
    book.save(path)
    return path


def regional_coach(folder: Path) -> Path:
    """A csv with semicolons in the code page of old office programs."""
    path = folder / "regional_coach.csv"
    path.write_bytes(COACH.replace("\n", "\r\n").encode("cp1252"))
    return path


def ground_power(folder: Path) -> Path:
    """An xlsx whose sections are headings across the sheet."""
    book, sheet = filled_in(POWER)
    for at, row in enumerate(POWER, start=1):
        if len(row) == 1:
            sheet.merge_cells(start_row=at, end_row=at, start_column=1, end_column=6)
            sheet.cell(at, 1).font = Font(bold=True)
    path = folder / "ground_power.xlsx"
    book.save(path)
    return path


SHEETS = {
    "gantry_crane": gantry_crane,
    "regional_coach": regional_coach,
    "ground_power": ground_power,
}
