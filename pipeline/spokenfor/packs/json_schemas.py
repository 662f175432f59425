"""JSON Schema (2020-12) of the files of a pack, so that editors complete and check them.

`python -m spokenfor.packs.json_schemas` writes them into vocab/schema, from where they ship.
"""

from __future__ import annotations

import json
from typing import Any

from pydantic import TypeAdapter

from spokenfor.packs.kinds import Kind
from spokenfor.packs.load import vocabulary_root
from spokenfor.packs.schema import (
    Aspect,
    Component,
    Condition,
    Cue,
    PackHead,
    Position,
    SameWords,
    SheetZone,
    TurningWord,
    Unit,
    Zone,
)

FILES: dict[str, Any] = {
    "pack": PackHead,
    "zones": list[Zone],
    "components": list[Component],
    "sheet": list[SheetZone],
    "kinds": list[Kind],
}
COMMON: dict[str, Any] = {
    "conditions": list[Condition],
    "positions": list[Position],
    "aspects": list[Aspect],
    "speech": list[Cue],
    "units": list[Unit],
    "turning": list[TurningWord],
    "same-words": list[SameWords],
}


def file_name(stem: str) -> str:
    """The file with the schema of `stem`.yaml."""
    return f"{stem}.schema.json"


def hint(stem: str, up: int = 0) -> str:
    """The first line of a file of a pack: where an editor finds its schema, `up` folders above."""
    return f"# yaml-language-server: $schema={'../' * up}.schema/{file_name(stem)}\n"


def schema(kind: Any, title: str) -> dict[str, Any]:
    """The JSON Schema of what one file holds."""
    made = TypeAdapter(kind).json_schema(mode="validation")
    made |= {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title}
    return made


def schema_files(common: bool = False) -> dict[str, str]:
    """File names and texts of the schemas of a pack's own files, and of the common ones if asked."""
    kinds = FILES | (COMMON if common else {})
    return {
        file_name(stem): json.dumps(
            schema(kind, f"{stem}.yaml of a pack"), indent=2, sort_keys=True
        )
        + "\n"
        for stem, kind in kinds.items()
    }


def main() -> None:
    """Writes every schema into vocab/schema."""
    folder = vocabulary_root() / "schema"
    folder.mkdir(exist_ok=True)
    for name, text in schema_files(common=True).items():
        (folder / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
