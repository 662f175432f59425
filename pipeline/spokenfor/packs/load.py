"""From a folder of YAML to a checked Pack."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import TypeAdapter, ValidationError

from spokenfor.errors import InputError
from spokenfor.packs.references import check_references
from spokenfor.packs.schema import (
    Aspect,
    Component,
    Condition,
    Cue,
    Labelled,
    PackHead,
    Position,
    SheetLine,
    SheetZone,
    TurningWord,
    Unit,
    Zone,
)
from spokenfor.packs.yaml_lines import YamlFile

COMMON_FILES = ("conditions", "positions", "aspects", "speech", "units", "turning")
Value = TypeVar("Value")
Concept = TypeVar("Concept", bound=Labelled)


@dataclass(frozen=True)
class SheetItem:
    """A line of the sheet spelled out: one component at one position. `position` joins position ids
    with a space, in the order of the pack, or is None; `id` is stable: zone.component[.position]."""

    id: str
    zone: str
    component: str
    position: str | None
    label: str
    required: bool

    @property
    def positions(self) -> frozenset[str]:
        return frozenset((self.position or "").split())


@dataclass(frozen=True)
class Pack:
    """A trade vocabulary and a check sheet, read and checked."""

    head: PackHead
    sha256: str
    zones: list[Zone]
    components: dict[str, Component]
    sheet: list[SheetZone]
    items: list[SheetItem]
    conditions: dict[str, Condition]
    positions: dict[str, Position]
    aspects: dict[str, Aspect]
    cues: list[Cue]
    units: list[Unit]
    turning: list[TurningWord]
    folder: Path
    common: Path


def vocabulary_root() -> Path:
    """The folder that holds the packs: beside the package in a wheel, at the top of a checkout."""
    shipped = Path(__file__).resolve().parents[1] / "vocab"
    return shipped if shipped.is_dir() else Path(__file__).resolve().parents[3] / "vocab"


def pack_names() -> list[str]:
    """Names of the packs that ship with spokenfor."""
    return sorted(path.parent.name for path in vocabulary_root().glob("*/pack.yaml"))


def pack_folder(name: str) -> Path:
    """Folder of the pack called `name`, or `name` itself where it is a folder with a pack.yaml.

    Raises InputError where there is neither.
    """
    shipped = vocabulary_root() / name
    if "/" not in name and (shipped / "pack.yaml").is_file():
        return shipped
    folder = Path(name)
    if (folder / "pack.yaml").is_file():
        return folder
    if folder.is_dir():
        raise InputError(f"'{name}' has no pack.yaml", "Give the folder that holds pack.yaml")
    raise InputError(
        f"There is no pack called '{name}'",
        f"Use one of: {', '.join(pack_names())}; or give the path of a pack folder",
    )


def load_pack(name: str) -> Pack:
    """The pack called `name` (or at that path); each is read once per process.

    Raises InputError naming file, line and mend.
    """
    return _load(pack_folder(name).resolve())


@lru_cache(maxsize=8)
def _load(folder: Path) -> Pack:
    common = folder.parent / "common"
    if not common.is_dir():
        common = vocabulary_root() / "common"
    conditions = _by_id(common / "conditions.yaml", Condition)
    positions = _by_id(common / "positions.yaml", Position)
    aspects = _by_id(common / "aspects.yaml", Aspect)
    head = _read(folder / "pack.yaml", PackHead)
    zones = list(_by_id(folder / "zones.yaml", Zone).values())
    components: dict[str, Component] = {}
    for path in _component_files(folder):
        for identifier, component in _by_id(path, Component).items():
            if identifier in components:
                raise InputError(
                    f"{path}: component '{identifier}' is already defined in another file",
                    "Give each component one id and one place",
                )
            components[identifier] = component
    sheet = _read(folder / "sheet.yaml", list[SheetZone])
    pack = Pack(
        head=head,
        sha256=pack_sha256(pack_files(folder, common)),
        zones=zones,
        components=components,
        sheet=sheet,
        items=list(_items(folder / "sheet.yaml", sheet, zones, components, positions)),
        conditions=conditions,
        positions=positions,
        aspects=aspects,
        cues=_read(common / "speech.yaml", list[Cue]),
        units=_read(common / "units.yaml", list[Unit]),
        turning=_read(common / "turning.yaml", list[TurningWord]),
        folder=folder,
        common=common,
    )
    if not pack.items:
        raise InputError(
            f"{folder / 'sheet.yaml'}: no lines", "Add at least one zone with one line"
        )
    check_references(head, components, aspects, conditions, positions, zones)
    return pack


def pack_files(folder: Path, common: Path) -> list[Path]:
    """Every file that makes a pack what it is, in a fixed order."""
    own = [folder / f"{stem}.yaml" for stem in ("pack", "zones", "sheet")]
    shared = [common / f"{stem}.yaml" for stem in COMMON_FILES]
    return [*own, *_component_files(folder), *shared]


def _component_files(folder: Path) -> list[Path]:
    files = sorted((folder / "components").glob("*.yaml"))
    if not files:
        raise InputError(f"{folder}: no components/*.yaml", "Add at least one file of components")
    return files


def pack_sha256(paths: Iterable[Path]) -> str:
    """The SHA-256 over names and bytes of a pack's files, in the order of pack_files. Raises OSError."""
    digest = hashlib.sha256()
    for path in paths:
        content = path.read_bytes()
        digest.update(f"{path.parent.name}/{path.name} {len(content)}\n".encode())
        digest.update(content)
    return digest.hexdigest()


def _read(path: Path, kind: type[Value]) -> Value:
    source = YamlFile(path)
    try:
        return TypeAdapter(kind).validate_python(source.data)
    except ValidationError as error:
        first = error.errors()[0]
        raise InputError(
            f"{path}, line {source.line(first['loc'])}: {_place(first['loc'])}{first['msg']}",
            _mend(first["type"]),
        ) from error


def _place(location: tuple[Any, ...]) -> str:
    named = [str(part) for part in location if isinstance(part, str)]
    return f"{'.'.join(named)}: " if named else ""


def _mend(kind: str) -> str:
    mends = {
        "missing": "Add the missing key",
        "extra_forbidden": "Remove that key or mend its spelling; docs/pack-author.md lists the keys",
        "string_pattern_mismatch": "Use the form that docs/pack-author.md gives for this key",
        "enum": "Use one of the values listed",
    }
    return mends.get(kind, "See docs/pack-author.md for what this key holds")


def _by_id(path: Path, kind: type[Concept]) -> dict[str, Concept]:
    concepts: dict[str, Concept] = {}
    read: list[Concept] = _read(path, list[kind])  # type: ignore[valid-type]
    for index, concept in enumerate(read):
        if concept.id in concepts:
            line = YamlFile(path).line((index,))
            raise InputError(
                f"{path}, line {line}: '{concept.id}' is defined twice",
                "Keep one, or give the second its own id",
            )
        concepts[concept.id] = concept
    return concepts


def _items(
    path: Path,
    sheet: list[SheetZone],
    zones: list[Zone],
    components: dict[str, Component],
    positions: dict[str, Position],
) -> Iterable[SheetItem]:
    zone_ids = [zone.id for zone in zones]
    seen: set[str] = set()
    for zone_index, part in enumerate(sheet):
        _require(part.zone in zone_ids, path, (zone_index, "zone"), f"zone '{part.zone}'", "zones")
        for line_index, line in enumerate(part.lines):
            where = (zone_index, "lines", line_index)
            known = line.component in components
            _require(known, path, where, f"component '{line.component}'", "components/")
            for position in line.positions or (None,):
                for name in (position or "").split():
                    _require(name in positions, path, where, f"position '{name}'", "positions")
                item = _item(part.zone, line, position, components[line.component], positions)
                if item.id in seen:
                    raise InputError(
                        f"{path}, line {YamlFile(path).line(where)}: '{item.id}' stands twice",
                        "Keep one of the two lines",
                    )
                seen.add(item.id)
                yield item


def _item(
    zone: str,
    line: SheetLine,
    position: str | None,
    component: Component,
    positions: dict[str, Position],
) -> SheetItem:
    names = (position or "").split()
    said = " ".join(positions[name].prefLabel for name in names)
    return SheetItem(
        id=".".join([zone, line.component, *(["-".join(names)] if names else [])]),
        zone=zone,
        component=line.component,
        position=position,
        label=f"{component.prefLabel}, {said}" if said else component.prefLabel,
        required=line.required,
    )


def _require(known: bool, path: Path, where: tuple[str | int, ...], what: str, home: str) -> None:
    if not known:
        raise InputError(
            f"{path}, line {YamlFile(path).line(where)}: {what} is not defined",
            f"Mend its spelling or define it in {home}",
        )
