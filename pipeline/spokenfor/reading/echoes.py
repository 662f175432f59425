"""Units that say nothing of their own but take up what was said before: the same of another component ("and so
is the aerial"), the contrary of another ("the far one isn't"), the contrary by now ("it is now").
"""

from __future__ import annotations

from spacy.tokens import Doc

from spokenfor.reading.afterwards import contrary_now
from spokenfor.reading.contractions import spoken_words
from spokenfor.reading.said_again import agrees, contradicts, told_nothing
from spokenfor.reading.targets import Target, states_good
from spokenfor.reading.unit import Unit

_DEEDS_BETWEEN = 2
_WORKING = frozenset(
    "lit on works working work flashing flashes blinking winking sounds lights comes came burning shining "
    "squirts sprays sweeps turns spins popping beeps hoots clicks latches locks holds".split()
)


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
            elif contradicts(self._doc, unit) and not self._may_be_well(unit, before[1]):
                unit.targets = [one.turned() for one in before[1].targets]
        told = self._told
        if told is not None and number - told[0] <= _DEEDS_BETWEEN and not unit.components:
            said = self._words(told[1])
            if contrary_now(self._words(unit), said):
                unit.targets = [one.turned() for one in told[1].targets]
                unit.settling, unit.now = [], True
        if unit.targets:
            self._told = (number, unit)

    def _may_be_well(self, unit: Unit, before: Unit) -> bool:
        """Whether "nothing" may say that nothing was found: "left dry, right *nothing*"."""
        nothing = told_nothing(self._doc, unit) or self._words(unit)[-1:] == ["nothing"]
        good = [one for one in before.targets if states_good(one)]
        words = {word for one in good for word in self._words_of(one)}
        return nothing and bool(good) and _WORKING.isdisjoint(words)

    def _words_of(self, target: Target) -> list[str]:
        return spoken_words(self._doc, target.span.start, target.span.end)

    def _words(self, unit: Unit) -> list[str]:
        return spoken_words(self._doc, unit.start, unit.end)
