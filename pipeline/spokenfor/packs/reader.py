"""From one file of a pack to checked models, with the place of each concept noted."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Protocol, TypeVar

from pydantic import TypeAdapter, ValidationError

from spokenfor.packs.faults import Fault, PackError, model_faults
from spokenfor.packs.yaml_lines import Location, Place, YamlFile

Value = TypeVar("Value")


class _WithId(Protocol):
    @property
    def id(self) -> str: ...


Concept = TypeVar("Concept", bound=_WithId)


class Sources:
    """Where each concept of a pack stands in its files."""

    def __init__(self) -> None:
        self._where: dict[tuple[str, str], tuple[YamlFile, Location]] = {}

    def note(self, kind: str, name: str, source: YamlFile, location: Location = ()) -> None:
        """Remember that the `kind` called `name` stands at `location` of a file."""
        self._where[kind, name] = (source, location)

    def place(self, kind: str, name: str, *inside: str | int) -> Place:
        """Place of a concept, or of what stands `inside` it ("altLabel", 2)."""
        source, location = self._where[kind, name]
        return source.place((*location, *inside))


class Reader:
    """Reads the files of one pack and notes where each concept stands."""

    def __init__(self) -> None:
        self.sources = Sources()

    def read(self, path: Path, name: str, kind: type[Value]) -> Value:
        """What a whole file holds, noted under `name`. Raises PackError with every fault of the file."""
        source = YamlFile(path)
        self.sources.note(name, "", source)
        return self._checked(source, kind)

    def by_id(
        self, path: Path, name: str, kind: type[Concept], elsewhere: Iterable[str] = ()
    ) -> dict[str, Concept]:
        """The concepts of a file by id. Raises PackError for an id that stands twice, here or `elsewhere`."""
        source = YamlFile(path)
        taken, concepts, faults = set(elsewhere), dict[str, Concept](), []
        read: list[Concept] = self._checked(source, list[kind])  # type: ignore[valid-type]
        for index, concept in enumerate(read):
            if concept.id in taken:
                first = self.sources.place(name, concept.id, "id")
                what = f"{name} '{concept.id}' is already defined in {first.file.name}, line {first.line}"
                mend = "Keep one, or give the second its own id"
                faults.append(Fault(source.place((index, "id")), what, mend))
                continue
            taken.add(concept.id)
            concepts[concept.id] = concept
            self.sources.note(name, concept.id, source, (index,))
        if faults:
            raise PackError(faults)
        return concepts

    @staticmethod
    def _checked(source: YamlFile, kind: type[Value]) -> Value:
        try:
            return TypeAdapter(kind).validate_python(source.data)
        except ValidationError as error:
            raise PackError(model_faults(source, error)) from error
