"""Reading YAML so that every value can be found again in its file."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from spokenfor.errors import InputError

Location = tuple[str | int, ...]


@dataclass(frozen=True)
class Place:
    """Where something stands: a file, its line and its column, both from 1."""

    file: Path
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}, line {self.line}, column {self.column}"


class _Loader(yaml.CSafeLoader):
    """Plain scalars as YAML 1.2 reads them: only `true` and `false` are booleans, so that the words on, off,
    yes and no stay words; dates stay text."""


_DROPPED = ("tag:yaml.org,2002:bool", "tag:yaml.org,2002:timestamp")
_Loader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in rules if tag not in _DROPPED]
    for first, rules in yaml.CSafeLoader.yaml_implicit_resolvers.items()
}
# YAML 1.2.2, section 10.3.2 (core schema).
_Loader.add_implicit_resolver(
    "tag:yaml.org,2002:bool", re.compile(r"true|True|TRUE|false|False|FALSE"), list("tTfF")
)


class YamlFile:
    """The plain data of one YAML file, and the place of every value in it.

    Raises InputError, naming file, line and column, for a file that cannot be read or is not YAML.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        try:
            with path.open(encoding="utf-8") as stream:
                loader = _Loader(stream)
                try:
                    self._node: yaml.Node | None = loader.get_single_node()
                    self.data: Any = loader.construct_document(self._node) if self._node else None
                finally:
                    loader.dispose()
        except yaml.MarkedYAMLError as error:
            mark = error.problem_mark
            place = Place(path, mark.line + 1, mark.column + 1) if mark else Place(path, 1, 1)
            raise InputError(
                f"{place}: not valid YAML ({error.problem})",
                "Mend that line; indentation and the space after ':' are the usual causes",
            ) from error
        except (yaml.YAMLError, ValueError, RecursionError) as error:
            raise InputError(
                f"{path}: not a YAML text file", "Save it as plain UTF-8 text"
            ) from error
        except OSError as error:
            raise InputError(
                f"{path}: cannot be read ({error.strerror})", "Check the name and the permissions"
            ) from error

    def place(self, location: Location = ()) -> Place:
        """Place of the value at `location` (of its key, where it has one), or of the nearest value that
        encloses it."""
        node, mark = self._node, self._node.start_mark if self._node else None
        for step in location:
            if isinstance(node, yaml.MappingNode):
                pair = next((one for one in node.value if one[0].value == str(step)), None)
                if pair is None:
                    break
                mark, node = pair[0].start_mark, pair[1]
            elif isinstance(node, yaml.SequenceNode) and isinstance(step, int):
                if step >= len(node.value):
                    break
                node = node.value[step]
                mark = node.start_mark
        return Place(self.path, mark.line + 1, mark.column + 1) if mark else Place(self.path, 1, 1)
