"""What a cell of a check sheet measures: "2,4 - 2,6 bar", "min 1.6 mm", "28 V ± 5 %"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from spokenfor.packs.schema import Unit

_NUMBER = r"\d+(?:[.,'\u2019 ]\d{3})*(?:[.,]\d+)?"
_LEAST = r"min(?:imum)?\.?|>=|=>|\u2265|>|at least|not less than|no less than|above|over"
_MOST = r"max(?:imum)?\.?|<=|=<|\u2264|<|at most|up to|not more than|no more than|below|under"


@dataclass(frozen=True)
class Measured:
    """A limit as written: bounds, or a nominal value with a tolerance or per cent of it; `unit` as pint
    spells it, "" where none was written. `alone` is a value of which nothing says what bound it is."""

    text: str
    unit: str
    minimum: float | None = None
    maximum: float | None = None
    nominal: float | None = None
    tolerance: float | None = None
    percent: float | None = None
    alone: float | None = None


def decimal_comma(texts: Iterable[str], likely: bool = False) -> bool:
    """Whether a sheet writes decimals with a comma: more numbers that only make sense so (2,4) than such
    with a point (2.4); `likely` decides where there are as many."""
    commas = points = 0
    for text in texts:
        commas += len(re.findall(r"(?<![\d.,])\d+,\d{1,2}(?![\d,.]*\d)", text))
        points += len(re.findall(r"(?<![\d.,])\d+\.\d{1,2}(?![\d.,]*\d)", text))
    return commas > points or (likely and commas == points)


def number(text: str, comma: bool) -> float:
    """The value of a written number; the mark that is not the decimal one parts thousands."""
    decimal, thousands = (",", ".") if comma else (".", ",")
    bare = re.sub(r"['\u2019 ]", "", text)
    other = re.fullmatch(r"\d{1,3}(?:" + re.escape(thousands) + r"\d{3})+(?:\D\d+)?", bare)
    if thousands in bare and not other:
        return float(bare.replace(thousands, "."))
    return float(bare.replace(thousands, "").replace(decimal, "."))


class SheetLimits:
    """The units of a vocabulary, ready to be found in the text of a sheet."""

    def __init__(self, units: Iterable[Unit], comma: bool) -> None:
        self._comma = comma
        self._units = {said.lower(): unit.unit for unit in units for said in unit.said}
        longest_first = sorted(map(re.escape, self._units), key=len, reverse=True)
        unit = rf"(?:\s*(?P<unit>(?:{'|'.join(longest_first)}))s?(?![a-z]))"
        n = _NUMBER
        self._ranges = re.compile(
            rf"(?:between\s+)?(?P<a>{n}){unit.replace('unit', 'unit1')}?\s*(?:-|\u2013|to|and|\.\.+)\s*"
            rf"(?P<b>{n}){unit}?"
        )
        self._margin = re.compile(
            rf"(?P<a>{n}){unit.replace('unit', 'unit1')}?\s*(?:\u00b1|\+/-|\+-|plus or minus)\s*"
            rf"(?P<b>{n})(?:\s*(?P<percent>%|percent|per cent)|{unit})?"
        )
        self._bound = re.compile(
            rf"(?:(?P<least>(?<![a-z]){_LEAST})|(?P<most>(?<![a-z]){_MOST}))\s*(?P<a>{n}){unit}?"
        )
        self._behind = re.compile(
            rf"(?P<a>{n}){unit}?\s*(?:(?P<least>min)|(?P<most>max))(?:imum)?\b\.?"
        )
        self._alone = re.compile(rf"(?P<a>{n}){unit}")
        self._number = re.compile(rf"(?<![\w.,])(?P<a>{n})(?![\w])")

    def unit(self, text: str) -> str:
        """The unit a text names, as pint spells it; "" for none."""
        words = text.lower().strip(" .()[]")
        return self._units.get(words) or self._units.get(words.removesuffix("s"), "")

    def find(self, text: str, unit: str = "", bare: bool = False) -> tuple[str, list[Measured]]:
        """The limits of a lower-case text, and the text without them. `unit` is what a number without one
        is in; `bare` numbers without any count too (a column of limits)."""
        found: list[Measured] = []

        def take(match: re.Match[str]) -> str:
            parts = match.groupdict()
            said = parts.get("unit") or parts.get("unit1")
            means = self._units[said] if said else unit
            if not means and not parts.get("percent") and not bare:
                return match[0]
            values = [number(parts[name], self._comma) for name in ("a", "b") if parts.get(name)]
            found.append(_measured(match[0].strip(), means, parts, values))
            return " "

        for pattern in (self._margin, self._ranges, self._bound, self._behind, self._alone):
            text = pattern.sub(take, text)
        if bare:
            text = self._number.sub(take, text)
        return " ".join(text.split()), found


def _measured(text: str, unit: str, parts: dict[str, str | None], values: list[float]) -> Measured:
    if len(values) == 2:
        if parts.get("percent"):
            return Measured(text, unit, nominal=values[0], percent=values[1])
        if "percent" in parts:
            return Measured(text, unit, nominal=values[0], tolerance=values[1])
        return Measured(text, unit, minimum=min(values), maximum=max(values))
    if parts.get("least"):
        return Measured(text, unit, minimum=values[0])
    if parts.get("most"):
        return Measured(text, unit, maximum=values[0])
    return Measured(text, unit, alone=values[0])
