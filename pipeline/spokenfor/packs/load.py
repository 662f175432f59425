"""From a folder of YAML to a checked Pack."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.packs.faults import Fault, PackError
from spokenfor.packs.kinds import Kind, with_kinds
from spokenfor.packs.reader import Reader, Sources
from spokenfor.packs.references import reference_faults
from spokenfor.packs.schema import (
    Aspect,
    Component,
    Condition,
    Cue,
    PackHead,
    Position,
    SameWords,
    SheetLine,
    SheetZone,
    TurningWord,
    Unit,
    Zone,
)
from spokenfor.packs.yaml_lines import Location

COMMON_FILES = tuple("conditions positions aspects speech units turning same-words kinds".split())
OPTIONAL_FILES = ("same-words", "kinds")
"""Common files that a pack\'s own common folder may lack: packs that were kept before there were any."""


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


@dataclass(frozen=True, eq=False)
class Pack:
    """A trade vocabulary and a check sheet, read and checked; equal only to itself, so that what was worked out
    of it can be remembered."""

    head: PackHead
    sha256: str
    zones: list[Zone]
    components: dict[str, Component]
    sheet: list[SheetZone]
    items: list[SheetItem]
    kinds: dict[str, Kind]
    conditions: dict[str, Condition]
    positions: dict[str, Position]
    aspects: dict[str, Aspect]
    cues: list[Cue]
    units: list[Unit]
    turning: list[TurningWord]
    same_words: list[SameWords]
    folder: Path
    common: Path
    sources: Sources = field(repr=False, compare=False)


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


def pack_head(name: str) -> PackHead:
    """Name, title and version of a pack without reading the rest of it. Raises InputError as load_pack."""
    return Reader().read(pack_folder(name) / "pack.yaml", "pack", PackHead)


def load_pack(name: str) -> Pack:
    """The pack called `name` (or at that path); read once per process, and again when a file of it changed.

    Raises InputError naming file, line, column and mend.
    """
    folder = pack_folder(name).resolve()
    common = folder.parent / "common"
    if not common.is_dir():
        common = vocabulary_root() / "common"
    return _load(folder, common, _stamps(pack_files(folder, common)))


def _stamps(paths: Iterable[Path]) -> tuple[tuple[str, int, int], ...]:
    """Name, size and time of change of each file that is there."""
    there = [(path, path.stat()) for path in paths if path.is_file()]
    return tuple((str(path), about.st_size, about.st_mtime_ns) for path, about in there)


@lru_cache(maxsize=8)
def _load(folder: Path, common: Path, _stamp: tuple[tuple[str, int, int], ...]) -> Pack:
    reader = Reader()

    def shared(stem: str) -> Path:
        return common / f"{stem}.yaml"

    conditions = reader.by_id(shared("conditions"), "condition", Condition)
    positions = reader.by_id(shared("positions"), "position", Position)
    aspects = reader.by_id(shared("aspects"), "aspect", Aspect)
    head = reader.read(folder / "pack.yaml", "pack", PackHead)
    zones = reader.by_id(folder / "zones.yaml", "zone", Zone)
    components: dict[str, Component] = {}
    for path in _component_files(folder):
        components |= reader.by_id(path, "component", Component, components)
    kinds = _kinds(reader, [shared("kinds"), folder / "kinds.yaml"])
    components = {name: with_kinds(one, kinds) for name, one in components.items()}
    sheet = reader.read(folder / "sheet.yaml", "sheet", list[SheetZone])
    pack = Pack(
        head=head,
        sha256=pack_sha256(pack_files(folder, common)),
        zones=list(zones.values()),
        components=components,
        sheet=sheet,
        items=_items(reader.sources, sheet, zones, components, positions),
        kinds=kinds,
        conditions=conditions,
        positions=positions,
        aspects=aspects,
        cues=reader.read(shared("speech"), "speech", list[Cue]),
        units=reader.read(shared("units"), "units", list[Unit]),
        turning=reader.read(shared("turning"), "turning", list[TurningWord]),
        same_words=_same_words(reader, shared("same-words")),
        folder=folder,
        common=common,
        sources=reader.sources,
    )
    faults = list(reference_faults(pack))
    if faults:
        raise PackError(faults)
    return pack


def _same_words(reader: Reader, path: Path) -> list[SameWords]:
    """The rows of same-words.yaml; none where a pack's own common folder has no such file."""
    return reader.read(path, "same-words", list[SameWords]) if path.is_file() else []


def _kinds(reader: Reader, paths: Sequence[Path]) -> dict[str, Kind]:
    """The kinds that all packs share and those of a pack's own, where it has any."""
    kinds: dict[str, Kind] = {}
    for path in paths:
        if path.is_file():
            kinds |= reader.by_id(path, "kind", Kind, kinds)
    return kinds


def pack_files(folder: Path, common: Path) -> list[Path]:
    """Every file that makes a pack what it is, in a fixed order."""
    own = [folder / f"{stem}.yaml" for stem in ("pack", "zones", "sheet", "kinds")]
    shared = [common / f"{stem}.yaml" for stem in COMMON_FILES]
    files = [*own, *_component_files(folder), *shared]
    return [path for path in files if path.stem not in OPTIONAL_FILES or path.is_file()]


def _component_files(folder: Path) -> list[Path]:
    files = sorted((folder / "components").glob("*.yaml"))
    if not files:
        raise InputError(f"{folder}: no components/*.yaml", "Add at least one file of components")
    return files


def pack_sha256(paths: Sequence[Path]) -> str:
    """SHA-256 over names and bytes of a pack's files, in the order of pack_files; where the folder lies, and
    what it is called, do not count. Raises OSError."""
    digest = hashlib.sha256()
    folder = paths[0].parent
    for path in paths:
        content = path.read_bytes()
        own = path.is_relative_to(folder)
        name = path.relative_to(folder).as_posix() if own else f"common/{path.name}"
        digest.update(f"{name} {len(content)}\n".encode())
        digest.update(content)
    return digest.hexdigest()


def _items(
    sources: Sources,
    sheet: list[SheetZone],
    zones: dict[str, Zone],
    components: dict[str, Component],
    positions: dict[str, Position],
) -> list[SheetItem]:
    """The lines of the sheet spelled out. Raises PackError with every line that names what is not there."""
    items: dict[str, SheetItem] = {}
    faults: list[Fault] = []

    def unknown(where: Location, what: str, home: str) -> None:
        mend = f"Mend its spelling or define it in {home}"
        faults.append(Fault(sources.place("sheet", "", *where), f"{what} is not defined", mend))

    for where, zone, line in _lines(sheet):
        if zone not in zones:
            unknown((where[0], "zone"), f"zone '{zone}'", "zones.yaml")
            continue
        if line.component not in components:
            unknown((*where, "component"), f"component '{line.component}'", "components/")
            continue
        for index, position in enumerate(line.positions or (None,)):
            at = (*where, "positions", index)
            missing = [name for name in (position or "").split() if name not in positions]
            for name in missing:
                unknown(at, f"position '{name}'", "common/positions.yaml")
            if missing:
                continue
            item = _item(zone, line, position, components[line.component], positions)
            if item.id in items:
                place = sources.place("sheet", "", *at)
                faults.append(
                    Fault(place, f"'{item.id}' stands twice", "Keep one of the two lines")
                )
            items[item.id] = item
    if not sheet:
        mend = "Add at least one zone with one line"
        faults.append(Fault(sources.place("sheet", ""), "no lines", mend))
    if faults:
        raise PackError(faults)
    return list(items.values())


def _lines(sheet: list[SheetZone]) -> Iterator[tuple[Location, str, SheetLine]]:
    for zone_index, part in enumerate(sheet):
        for line_index, line in enumerate(part.lines):
            yield (zone_index, "lines", line_index), part.zone, line


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
