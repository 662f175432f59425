"""What is wrong in the files of a pack: each fault with its place and its mend."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from spokenfor.errors import InputError
from spokenfor.packs.yaml_lines import Place, YamlFile


@dataclass(frozen=True)
class Fault:
    """Something in a pack that is wrong: where, what, and how to mend it."""

    place: Place
    what: str
    mend: str

    def __str__(self) -> str:
        return f"{self.place}: {self.what}. {self.mend}."


class PackError(InputError):
    """A pack that cannot be used. The message is the first fault's; `faults` are all that were found."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        first = faults[0]
        super().__init__(f"{first.place}: {first.what}", first.mend)
        self.faults = list(faults)


_MENDS = {
    "missing": "Add that key",
    "extra_forbidden": "Remove that key or mend its spelling; docs/pack-author.md lists the keys",
    "string_pattern_mismatch": "Use the form that docs/pack-author.md gives for this key",
    "enum": "Use one of the values listed",
    "string_too_short": "Write something there or leave the key out",
}
_PATTERNS = {
    "id": "an id is lower-case letters and digits with hyphens between",
    "say": "ARPAbet phones are capital letters with spaces between, as in 'P IY1 T OW0'",
    "version": "a version is three numbers, as in '1.2.0'",
    "ata": "an ATA number is two or four digits in quotes, as in '3240'",
}


def model_faults(source: YamlFile, error: ValidationError) -> list[Fault]:
    """Every fault that checking the data of one file against its model found, in the order of the file."""
    faults = [_fault(source, one) for one in error.errors(include_url=False)]
    return sorted(faults, key=lambda fault: (fault.place.line, fault.place.column))


def _fault(source: YamlFile, error: Any) -> Fault:
    kind, location, given = error["type"], error["loc"], error.get("input")
    keys = [str(part) for part in location if isinstance(part, str)]
    where = f"{'.'.join(keys)}: " if keys else ""
    mend = _MENDS.get(kind, "See docs/pack-author.md for what this key holds")
    what = where + error["msg"].removeprefix("Value error, ")
    plain = isinstance(given, bool | int | float)
    if kind == "string_type" and plain:
        shown = str(given).lower() if isinstance(given, bool) else str(given)
        what = f"{where}{shown} is read as a number or as true/false, not as text"
        mend = f"Put it in quotes: '{shown}'"
    elif kind in ("string_type", "list_type", "dict_type", "model_type") and given is None:
        what, mend = (
            f"{where}nothing is written there",
            "Write something there or leave the key out",
        )
    elif kind == "list_type":
        what = f"{where}a list belongs there, with one or more entries"
        mend = f"Put it in brackets: [{given}]"
    elif kind == "extra_forbidden":
        what = f"{where}there is no such key here"
    elif kind == "missing":
        what = f"key '{keys[-1]}' is missing"
    elif kind == "string_pattern_mismatch":
        rule = next((_PATTERNS[key] for key in reversed(keys) if key in _PATTERNS), "")
        what = f"{where}'{given}' is not of the right form{f' ({rule})' if rule else ''}"
    return Fault(source.place(location), what, mend)
