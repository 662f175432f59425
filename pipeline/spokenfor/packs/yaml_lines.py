"""Reading YAML so that every value remembers its line."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

from spokenfor.errors import InputError

Location = tuple[str | int, ...]


class YamlFile:
    """The plain data of one YAML file, and the line (from 1) of every value in it.

    Raises InputError, naming file and line, for a file that cannot be read or is not YAML.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._lines: dict[Location, int] = {}
        try:
            with path.open(encoding="utf-8") as stream:
                loader = yaml.CSafeLoader(stream)
                try:
                    node = loader.get_single_node()
                    self._note_lines(node, ())
                    self.data: Any = loader.construct_document(node) if node else None
                finally:
                    loader.dispose()
        except yaml.MarkedYAMLError as error:
            mark = error.problem_mark
            line = mark.line + 1 if mark else 1
            raise InputError(
                f"{path}, line {line}: not valid YAML ({error.problem})",
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

    def line(self, location: Location) -> int:
        """Line of the value at `location`, or of the nearest value that encloses it."""
        while location and location not in self._lines:
            location = location[:-1]
        return self._lines.get(location, 1)

    def _note_lines(self, node: yaml.Node | None, location: Location) -> None:
        if node is None:
            return
        self._lines[location] = node.start_mark.line + 1
        if isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                self._note_lines(value, (*location, str(key.value)))
                self._lines[(*location, str(key.value))] = key.start_mark.line + 1
        elif isinstance(node, yaml.SequenceNode):
            for index, value in enumerate(node.value):
                self._note_lines(value, (*location, index))
