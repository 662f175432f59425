"""Units that say nothing of their own but take up what was said before: the same of another component ("and so
is the aerial"), the contrary of another ("the far one isn't"), the contrary by now ("it is now").
"""

from __future__ import annotations

from spacy.tokens import Doc

from spokenfor.reading.afterwards import contrary_now
from spokenfor.reading.contractions import spoken_words
from spokenfor.reading.joining import agrees, contradicts
from spokenfor.reading.unit import Unit

_DEEDS_BETWEEN = 2


class Echoes:
    """Gives such units what they mean, in the order of speech."""

    def __init__(self, doc: Doc) -> None:
        self._doc = doc
        self._last: tuple[int, Unit] | None = None
        self._told: tuple[int, Unit] | None = None

    def take_up(self, unit: Unit, number: int) -> None:
        """Fills in a unit of sentence `number` that takes up one before it."""
        before, self._last = self._last, (number, unit)
        if before is not None and number - before[0] <= 1:
            if agrees(self._doc, unit):
                unit.targets = list(before[1].targets)
                unit.settling = list(before[1].settling)
                unit.grouped |= before[1].grouped
            elif contradicts(self._doc, unit):
                unit.targets = [one.turned() for one in before[1].targets]
        told = self._told
        if told is not None and number - told[0] <= _DEEDS_BETWEEN and not unit.components:
            said = self._words(told[1])
            if contrary_now(self._words(unit), said):
                unit.targets = [one.turned() for one in told[1].targets]
                unit.settling, unit.now = [], True
        if unit.targets:
            self._told = (number, unit)

    def _words(self, unit: Unit) -> list[str]:
        return spoken_words(self._doc, unit.start, unit.end)
