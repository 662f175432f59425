"""Sheets that are harder to read than most: two rows of headings, numbering, two languages, boxes for sides,
old encodings, a foot with signatures; every line invented."""

from __future__ import annotations

from pathlib import Path

from openpyxl.styles import Font
from tests.packs.outside_sheets import filled_in

PUMP: list[tuple[str, ...]] = [
    ("Fire pump set FP-3 \u2013 weekly / Feuerl\u00f6schpumpe w\u00f6chentlich",),
    ("Site:", "", "Date:", "", "", "", "Form 77 rev C"),
    (),
    ("", "", "What to check", "", "", "Result", "", "", "Limit"),
    (
        "Pos.",
        "Bauteil / Component",
        "Pr\u00fcfung / Check",
        "Side",
        "",
        "OK",
        "not OK",
        "n/a",
        "Grenzwert",
        "Einheit",
    ),
    ("A. PUMP ROOM",),
    ("1.1", "Pumpengeh\u00e4use / Pump casing", "Leaks, cracks"),
    ("1.2", "Gland packing", "drip rate", "", "", "", "", "", "20 - 60", "drops/min"),
    ("1.3", "Suction valve", "open, locked", "L/H + R/H"),
    ("1.4", "Suct. press. gauge", "reads", "", "", "", "", "", "0,2 - 0,8", "bar"),
    ("1.5", "Discharge press. gauge", "reads", "", "", "", "", "", "min. 7,5", "bar"),
    ("1.6", "Coupling guard", "sec."),
    ("B. DIESEL ENGINE",),
    ("2.1", "Engine oil lvl", "between marks"),
    ("2.2", "Coolant lvl"),
    ("2.3", "Batt. 1 & 2", "Charge", "", "", "", "", "", "> 12,4", "V"),
    ("2.4", "Batt. terminals", "corrosion", "both"),
    ("2.4.1", "Battery charger", "on"),
    ("2.5", "Fuel tank", "level", "", "", "", "", "", "> 75", "%"),
    ("2.6", "Air filter ind.", "green"),
    (),
    ("2.7", "Drive belts (2 off)", "tension"),
    ("C. CONTROL PANEL",),
    ("3.1", "Mains healthy lamp", "lit"),
    ("3.2", "Mode selector sw.", "in AUTO"),
    ("3.3", "Alarm lamp & horn", "test"),
    ("3.4", "Emergency stop", "func."),
    ("Note: pump must be run for 30 min each week. Tell the control room first.",),
    ("* delete as applicable",),
    ("Signature / Unterschrift", "", "", "Name"),
]

FORKLIFT = """Gabelstapler / Forklift truck - daily;;;;;;;
Nr. 12;;;Fahrer:;;;;
;;;;;;;
;Pr\u00fcfpunkt;;;Soll;;Ergebnis;
Lfd. Nr.;Component;Checked for;Side;min;max;i.O.;n.i.O.
MAST
1;Lift chain;wear, lubrication;L/H & R/H;;;;
2;Mast rollers;"play; cracks";both;;1,5;;
3;Tilt cyl.;leaks;L/R;;;;
4;Fork arms;bent, cracks;No 1/2;;;;
5;Backrest;sec.;;;;;
TRAVEL & BRAKES
6;Drive tyres;cuts;L/H R/H;;;;
7;Park brake;holds;;;;;
POWER
8;Gas bottle strap;tight;;;;;
9;Hyd. oil lvl;between marks;;;;;
OPERATOR'S PLACE
10;Seat belt / restraint;locks;;;;;
11;Beacon (if fitted);flashing;;;;;
12;Overhead guard;colour;;;;;

Bemerkungen:;;;;;;;
Unterschrift Fahrer;;;;;;;
"""

HOIST = """Tower hoist,,,,
,Component,Look for,LH,RH
1,Rack bolts,tight,x,x
2,Buffer springs,cracks,,x
3,Safety gear,in date,,
4,Cage gate,closes and locks,n/a,
5,Control box,,,
"""


def fire_pump(folder: Path) -> Path:
    """An xlsx with two rows of headings, two languages, numbering 1.1, 2.4.1 and notes at the end."""
    book, sheet = filled_in(PUMP)
    for at, row in enumerate(PUMP, start=1):
        if len(row) == 1:
            sheet.merge_cells(start_row=at, end_row=at, start_column=1, end_column=10)
            sheet.cell(at, 1).font = Font(bold=row[0][1:2] == ".")
    for cells in ("C4:E4", "F4:H4", "I4:J4"):
        sheet.merge_cells(cells)
    path = folder / "fire_pump.xlsx"
    book.save(path)
    return path
