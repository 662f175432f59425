"""What goes out of a pack comes back, or is read by other programs."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from rdflib import RDF, Graph, Literal
from rdflib.collection import Collection
from rdflib.namespace import SKOS
from tests.packs.test_import import imported
from typer.testing import CliRunner

from spokenfor.cli import app
from spokenfor.errors import InputError
from spokenfor.packs.diff import diff_lines
from spokenfor.packs.load import load_pack, pack_names
from spokenfor.packs.skos import skos_text


def exported(name: str, path: Path) -> Path:
    done = CliRunner().invoke(app, ["pack", "export", name, str(path)])
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    assert done.exit_code == 0, done.output
    return path


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
@pytest.mark.parametrize("name", pack_names())
def test_a_sheet_that_went_out_comes_back(name: str, kind: str, tmp_path: Path) -> None:
    """Zones, items, names, limits, aspects and states; mis-hearings and phones stay in the pack."""
    pack = load_pack(name)
    sheet = exported(name, tmp_path / f"sheet.{kind}")
    imported(sheet, tmp_path / "back", "--yes")
    back = load_pack(str(tmp_path / "back"))

    def lines(one: object) -> list[tuple[str, str, bool]]:
        zones = {zone.id: zone.prefLabel.removesuffix(" area") for zone in one.zones}  # type: ignore[attr-defined]
        return [(zones[item.zone], item.label, item.required) for item in one.items]  # type: ignore[attr-defined]

    assert lines(back) == lines(pack)
    before = {c.prefLabel: c for c in pack.components.values()}
    for component in back.components.values():
        was = before[component.prefLabel]
        assert set(component.aspects) == set(was.aspects), component.prefLabel
        assert component.altLabel == was.altLabel
        assert component.ata == was.ata
        assert component.states == was.states
        assert [(x.of, x.minimum, x.maximum, x.unit) for x in component.limits] == [
            (x.of, x.minimum, x.maximum, x.unit) for x in was.limits
        ]


def test_a_label_is_never_a_formula(tmp_path: Path) -> None:
    sheet = openpyxl.load_workbook(exported("goods-vehicle", tmp_path / "sheet.xlsx")).active
    assert sheet is not None
    assert {cell.data_type for row in sheet.iter_rows() for cell in row} <= {"s", "inlineStr", "n"}
    assert all(
        cell.value is None for row in sheet.iter_rows() for cell in row if cell.data_type == "n"
    )


@pytest.mark.parametrize("name", pack_names())
def test_rdflib_reads_the_skos_back(name: str) -> None:
    """Reference: rdflib's own Turtle parser and SKOS namespace."""
    pack = load_pack(name)
    graph = Graph().parse(data=skos_text(pack), format="turtle")
    concepts = set(graph.subjects(RDF.type, SKOS.Concept))
    owners = [
        *pack.zones,
        *pack.components.values(),
        *pack.conditions.values(),
        *pack.positions.values(),
    ]
    assert len(concepts) == len(owners)
    for label in ("prefLabel", "altLabel", "hiddenLabel"):
        count = len(list(graph.subject_objects(SKOS[label])))
        written = [getattr(one, label) for one in owners]
        assert count == sum(1 if isinstance(one, str) else len(set(one)) for one in written), label
    walks = list(graph.subjects(RDF.type, SKOS.OrderedCollection))
    assert len(walks) == len(pack.sheet)
    first = next(one for one in walks if str(one).endswith(f"/lines/{pack.sheet[0].zone}"))
    members = graph.value(first, SKOS.memberList)
    assert members is not None
    named = [graph.value(one, SKOS.notation) for one in Collection(graph, members)]
    assert named == [Literal(line.component) for line in pack.sheet[0].lines]
    broader = list(graph.subject_objects(SKOS.broader))
    assert len(broader) == sum(one.broader is not None for one in pack.conditions.values())


def test_a_file_that_is_there_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "sheet.csv").write_text("mine")
    with pytest.raises(InputError, match="is there already"):
        exported("goods-vehicle", tmp_path / "sheet.csv")
    with pytest.raises(InputError, match=r"\.pdf"):
        exported("goods-vehicle", tmp_path / "sheet.pdf")


def test_diff_names_what_changed_on_the_sheet(tmp_path: Path) -> None:
    sheet = tmp_path / "a.csv"
    sheet.write_text(
        "Zone,Item,Position,Max,Unit\nCab,Horn,,,\nCab,Mirror,L/H & R/H,,\nAxle,Tyre,,2.5,bar\n"
    )
    imported(sheet, tmp_path / "old", "--yes", "--name", "van")
    sheet.write_text(
        "Zone,Item,Position,Max,Unit,Also said\nAxle,Tyre,,2.6,bar,rubber\nCab,Mirror,L/H & R/H,,,\nCab,Seat,,,,\n"
    )
    imported(sheet, tmp_path / "new", "--yes", "--name", "van")
    changed = diff_lines(load_pack(str(tmp_path / "old")), load_pack(str(tmp_path / "new")))[2:]
    assert changed == [
        "item added: cab.seat (seat)",
        "item taken out: cab.horn (horn)",
        "walk: zones are walked in another order",
        "component tyre: altLabel + rubber",
        "component tyre: limits pressure max 2.6 bar, were pressure max 2.5 bar",
        "the version is the same: give the new one a higher number in pack.yaml",
    ]


def test_diff_of_a_pack_with_itself() -> None:
    pack = load_pack("goods-vehicle")
    lines = diff_lines(pack, pack)
    assert lines[2:] == ["the same pack"]
    assert pack.sha256 in lines[0]
