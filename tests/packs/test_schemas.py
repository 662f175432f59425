"""The JSON Schemas that ship are those of the models, and every shipped file keeps to them."""

from __future__ import annotations

import json
import re
from pathlib import Path

import jsonschema
import pytest
from tests.packs.small_pack import write_small_pack
from tests.packs.test_import import imported

from spokenfor.packs.json_schemas import file_name, schema_files
from spokenfor.packs.load import COMMON_FILES, vocabulary_root
from spokenfor.packs.yaml_lines import YamlFile

ROOT = vocabulary_root()
FILES = sorted(
    path
    for path in ROOT.glob("**/*.yaml")
    if path.parent.name != "common" or path.stem in COMMON_FILES
)
HINT = re.compile(r"# yaml-language-server: \$schema=(\S+)\n")


def hinted(path: Path) -> Path:
    """The schema that the first line of a file names."""
    found = HINT.match(path.read_text(encoding="utf-8"))
    assert found, path
    return (path.parent / found[1]).resolve()


def test_the_schemas_that_ship_are_those_of_the_models() -> None:
    shipped = {path.name: path.read_text() for path in (ROOT / "schema").glob("*.json")}
    assert shipped == schema_files(common=True), "run python -m spokenfor.packs.json_schemas"


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_shipped_file_keeps_to_its_schema(path: Path) -> None:
    """Reference: jsonschema's own check against JSON Schema 2020-12."""
    schema = json.loads(hinted(path).read_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(YamlFile(path).data)


def test_an_imported_pack_carries_its_schemas(tmp_path: Path) -> None:
    sheet = tmp_path / "plain.csv"
    sheet.write_text("Item,Zone\nHorn,Cab\n")
    imported(sheet, tmp_path / "pack", "--yes")
    files = sorted((tmp_path / "pack").glob("**/*.yaml"))
    assert len(files) == 4
    for path in files:
        schema = json.loads(hinted(path).read_text())
        jsonschema.Draft202012Validator(schema).validate(YamlFile(path).data)


def test_an_editor_sees_a_misspelt_key(tmp_path: Path) -> None:
    folder = write_small_pack(tmp_path, {"zones.yaml": ("prefLabel: frame", "prefLable: frame")})
    schema = json.loads((ROOT / "schema" / file_name("zones")).read_text())
    errors = list(
        jsonschema.Draft202012Validator(schema).iter_errors(YamlFile(folder / "zones.yaml").data)
    )
    assert {error.validator for error in errors} == {"additionalProperties", "required"}
