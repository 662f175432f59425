"""Would a component come here, by the order of the sheet? Walks mostly follow it, line after line."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping

from spacy.tokens import Doc

from spokenfor.packs.terms import Term, TermKind
from spokenfor.reading.document import mentioned

_NEXT = 3
_NEAR = 40


class SheetOrder:
    """The components that were heard word for word in a Doc, against the lines of the sheet; `lines` is the
    number of a line by (zone, component)."""

    def __init__(self, doc: Doc, lines: Mapping[tuple[int, str], int]) -> None:
        self._lines = lines
        self._spans = mentioned(doc, TermKind.COMPONENT, 0, len(doc))
        self._starts = [span.start for span in self._spans]
        self._concepts = [span._.term.concepts for span in self._spans]

    def around(self, term: Term, at: int, zone: int) -> dict[str, bool]:
        """`next_line`, `between` and `named_near` of Surroundings for a term at token `at`."""
        own = [self._lines[zone, name] for name in term.concepts if (zone, name) in self._lines]
        place = bisect_left(self._starts, at)
        before = self._line(place - 1, zone)
        after = self._line(place, zone)
        near = any(
            abs(self._starts[one] - at) <= _NEAR and set(self._concepts[one]) & set(term.concepts)
            for one in range(max(0, place - 8), min(place + 8, len(self._spans)))
        )
        return {
            "next_line": before is not None and any(0 < one - before <= _NEXT for one in own),
            "between": before is not None
            and after is not None
            and any(before < one < after for one in own),
            "named_near": near,
        }

    def _line(self, number: int, zone: int) -> int | None:
        if not 0 <= number < len(self._spans):
            return None
        found = [
            self._lines[zone, name]
            for name in self._concepts[number]
            if (zone, name) in self._lines
        ]
        return min(found) if found else None
