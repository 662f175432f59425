"""Writing a pack as a folder of YAML."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from spokenfor.errors import InputError
from spokenfor.packs.json_schemas import hint, schema_files
from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import Component, PackHead, PackModel, SheetZone, Zone


@dataclass(frozen=True)
class PackParts:
    """What a pack is made of, before it is a folder."""

    head: PackHead
    zones: Sequence[Zone]
    components: Sequence[Component]
    sheet: Sequence[SheetZone]


def _value(value: object) -> str:
    """A value as it stands behind its key: plain where it can, lists and mappings in brackets."""
    text = yaml.safe_dump(
        value, default_flow_style=True, sort_keys=False, allow_unicode=True, width=10_000
    )
    return text.removesuffix("\n").removesuffix("\n...")


def _keys(data: dict[str, Any]) -> str:
    return "".join(f"{key}: {_value(value)}\n" for key, value in data.items())


def _plain(model: PackModel) -> dict[str, Any]:
    data = model.model_dump(mode="json", exclude_defaults=True)
    for limit in data.get("limits", ()):
        if "nominal" in limit:  # the bounds are made of it
            limit.pop("minimum", None)
            limit.pop("maximum", None)
    return data


def _rows(models: Iterable[PackModel]) -> str:
    """A list of models, each with its keys below one another."""
    return "".join(_entry(_plain(model)) for model in models)


def _entry(data: dict[str, Any]) -> str:
    lines = _keys(data).splitlines()
    return "".join(f"{'  ' if at else '- '}{line}\n" for at, line in enumerate(lines))


def _sheet(zones: Iterable[SheetZone]) -> str:
    text = ""
    for zone in zones:
        text += f"- zone: {zone.zone}\n  lines:\n"
        text += "".join(f"    - {_value(_plain(line))}\n" for line in zone.lines)
    return text


def write_pack(parts: PackParts, folder: Path) -> None:
    """Writes a pack to a folder that is not there yet; all of it, or nothing.

    Raises InputError where something is there already or the pack would not load.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise InputError(f"{folder}: is there already", "Give another folder with --out")
    folder.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=folder.parent, prefix=".pack-") as made:
        whole = Path(made) / folder.name
        (whole / "components").mkdir(parents=True)
        texts = {
            "pack.yaml": hint("pack") + _keys(_plain(parts.head)),
            "zones.yaml": hint("zones") + _rows(parts.zones),
            "components/components.yaml": hint("components", up=1) + _rows(parts.components),
            "sheet.yaml": hint("sheet") + _sheet(parts.sheet),
        }
        for name, text in texts.items():
            (whole / name).write_text(text, encoding="utf-8")
        for name, text in schema_files().items():
            (whole / ".schema").mkdir(exist_ok=True)
            (whole / ".schema" / name).write_text(text, encoding="utf-8")
        load_pack(str(whole))
        if folder.exists():
            folder.rmdir()
        shutil.move(str(whole), folder)
