"""Which ones a cell of a check sheet speaks of: "L/H & R/H", "No 1/2", "both", "fwd and aft"."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from itertools import product

from spokenfor.packs.schema import Axis, Position

_AND = r"\s*(?:&|/|,|\+|\band\b)\s*"
_NUMBERED = r"(?:engine|system|axle|tank|battery|generator|pump|circuit|rotor|hydraulic)s?"
_NUMBERS = rf"\d(?:{_AND}(?:(?:no|nr|number)s?\b\.?|\#)?\s*\d)*"
_EVERY = re.compile(r"\b(?:both sides|both|each side|either side|each)\b")
# "port" is a place for a plug as often as it is the left side, "back one" and the like are speech.
_ONLY_ALONE = {"port", "starboard", "top", "bottom", "middle", "centre", "center"}


@dataclass(frozen=True)
class Which:
    """Positions a text speaks of by axis, in the order said, and whether it says "both". `rest` is the text
    without them."""

    rest: str
    by_axis: dict[Axis, list[str]] = field(default_factory=dict)
    both: bool = False

    def entries(self, order: Mapping[str, int]) -> list[str]:
        """As the sheet of a pack has them: one entry for each combination, "left upper" where two hold."""
        if not self.by_axis:
            return []
        return [
            " ".join(sorted(one, key=lambda name: order[name]))
            for one in product(*self.by_axis.values())
        ]


class SheetPositions:
    """The positions of a vocabulary, ready to be found in the text of a sheet (abbreviations spelled out);
    `meant` says which one an id means."""

    def __init__(self, positions: Iterable[Position], meant: Callable[[str], str]) -> None:
        self.axis = {position.id: position.axis for position in positions}
        self.order = {name: at for at, name in enumerate(self.axis)}
        labels = {
            written: meant(position.id)
            for position in positions
            for label in [position.prefLabel, *position.altLabel]
            for written in {
                label.lower(),
                label.lower().replace("'s ", " "),
                label.lower().replace("'s ", "s "),
            }
        }
        self._named = labels
        self._digit = {
            digit: name for digit in "123456789" if (name := labels.get(f"no {digit}")) is not None
        }
        in_names = [
            label
            for label, name in labels.items()
            if self.axis[name] in (Axis.SIDE, Axis.NUMBER) and label not in _ONLY_ALONE
        ]
        self._in_names = _any_of(in_names)
        self._alone = _any_of(labels)
        ends = [label for label, name in labels.items() if self.axis[name] is not Axis.NUMBER]
        any_end = "|".join(sorted(map(re.escape, ends), key=len, reverse=True))
        self._pair = re.compile(rf"\b({any_end})\b{_AND}\b({any_end})\b")

    def find(self, text: str, alone: bool = False) -> Which:
        """Positions in a lower-case text. In a name only sides and numbers are taken out, and others where
        both ends stand ("fwd and aft"); `alone` says that the text is about positions only."""
        found: dict[Axis, list[str]] = {}

        def take(name: str) -> None:
            names = found.setdefault(self.axis[name], [])
            if name not in names:
                names.append(name)

        def letters(match: re.Match[str]) -> str:
            take("left")
            take("right")
            return " "

        def digits(match: re.Match[str]) -> str:
            numbers = [one for one in re.findall(r"\d", match[0]) if one in self._digit]
            for one in numbers:
                take(self._digit[one])
            kept = match.groupdict().get("kept") or ""
            return f" {kept} " if numbers else match[0]

        def pair(match: re.Match[str]) -> str:
            one, other = self._named[match[1]], self._named[match[2]]
            if self.axis[one] is not self.axis[other] or one == other:
                return match[0]
            take(one)
            take(other)
            return " "

        def single(match: re.Match[str]) -> str:
            take(self._named[match[0]])
            return " "

        text = re.sub(rf"\bl{_AND}r\b", letters, text)
        text = re.sub(rf"(?:\b(?:no|nr|number)s?\b\.?|\#)\s*{_NUMBERS}", digits, text)
        text = re.sub(rf"\b(?P<kept>{_NUMBERED})\s+{_NUMBERS}(?![\d.,]*\d)", digits, text)
        if alone:
            text = re.sub(rf"\b{_NUMBERS}\b", digits, text)
            text = re.sub(r"\b[lr]\b", lambda one: "left" if one[0] == "l" else "right", text)
        text = self._pair.sub(pair, text)
        text = (self._alone if alone else self._in_names).sub(single, text)
        both = bool(_EVERY.search(text))
        rest = _EVERY.sub(" ", text) if both else text
        return Which(_tidied(rest) if found or both else rest.strip(), found, both)


def _any_of(labels: Iterable[str]) -> re.Pattern[str]:
    longest_first = sorted(map(re.escape, labels), key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(longest_first)})\b")


def _tidied(text: str) -> str:
    """Text without joining words and marks that are left over at its ends or in a row."""
    text = re.sub(r"(?:\s*[&/,+]\s*)(?=\s*[&/,+]|\s*$)", " ", " ".join(text.split()))
    text = re.sub(r"^(?:(?:and|or|of|on)\b|[\s&/,+.:;-])+", "", text)
    text = re.sub(r"(?:\b(?:and|or|of|on|side|hand)|[\s&/,+.:;-])+$", "", text)
    return " ".join(text.split())
