"""The statements made so far, and when a new one only goes on with an old one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from spacy.tokens import Doc

from spokenfor.models import FlaggedReading, Statement, Verdict
from spokenfor.reading.document import evidence
from spokenfor.reading.unit import Unit

# How many statements back one may go on: more than one sentence ever makes.
_RECENT = 24
_RIGHT_BEFORE = 3
"""Tokens between a fault and "same for the right"."""


def doubt(statements: Iterable[Statement], bad: float) -> None:
    """Makes ticks less sure, where words that may be of them are so probably (0..1) bad."""
    for one in statements:
        if one.verdict is Verdict.SATISFACTORY:
            one.confidence *= 1 - bad


@dataclass
class Entry:
    """A statement, the tokens it quotes (start, end), the sentence it was made in, and its units."""

    statement: Statement
    start: int
    end: int
    sentence: int
    units: list[Unit]


class StatementLog:
    """Statements in the order in which they were made; `standing` has them by line of the sheet."""

    def __init__(self, doc: Doc) -> None:
        self.doc = doc
        self.entries: list[Entry] = []
        self.standing: dict[str, list[Statement]] = {}

    @property
    def statements(self) -> list[Statement]:
        return [entry.statement for entry in self.entries]

    @property
    def next_id(self) -> str:
        return f"s{len(self.entries) + 1}"

    def add(self, new: Entry) -> None:
        """Keeps a statement, or joins it to the one that it goes on with."""
        joins = (self._goes_on, self._takes_up, self._measures, self._repeats, self._judges)
        if any(join(new) for join in joins):
            return
        self.entries.append(new)
        if new.statement.item is not None:
            self.standing.setdefault(new.statement.item, []).append(new.statement)

    def fault_just_told(self, component: str, start: int) -> Statement | None:
        """The fault of the same component that the last statement told, right before a token."""
        last = self.entries[-1] if self.entries else None
        if (
            last is None
            or start - last.end > _RIGHT_BEFORE
            or last.statement.component != component
        ):
            return None
        return last.statement if last.statement.verdict is Verdict.DEFECT else None

    def left_out(self, item: str) -> int | None:
        """The token after the words by which a line was last said not to be inspected; None where it never
        was."""
        if all(one.verdict is not Verdict.NOT_INSPECTED for one in self.standing.get(item, ())):
            return None
        left = (
            entry.end
            for entry in reversed(self.entries)
            if entry.statement.item == item and entry.statement.verdict is Verdict.NOT_INSPECTED
        )
        return next(left, None)

    def made_in(self, sentence: int) -> list[Statement]:
        """The statements made in a sentence."""
        return [one.statement for one in self.entries[-_RECENT:] if one.sentence == sentence]

    def note(self, sentence: int, *, here: bool) -> None:
        """Makes remarks of the results of the line last spoken of, in this sentence or (not `here`) the one or
        two before, where nothing worse was said of it ("... still tight. *Noted.*")."""
        near = range(sentence, sentence + 1) if here else range(sentence - 2, sentence)
        said = [one for one in self.entries[-_RECENT:] if one.sentence in near]
        for entry in said:
            one = entry.statement
            same = one.item == said[-1].statement.item is not None
            plain = not (one.by_reference or one.clears)
            if same and plain and one.verdict in (Verdict.SATISFACTORY, Verdict.NAMED):
                one.verdict = Verdict.REMARK

    def soften(
        self, sentence: int, *, limited: bool, noted: bool, item: str | None = None
    ) -> list[Statement]:
        """Reads the defects of the sentence before as remarks, where a sentence says only that they are within
        limits (`limited`) or of no matter ("Slight wear on the tyre. It's within limits."), and what is well as
        a remark where one is made of it (`noted`). With `item`, those of that line in the same sentence too.
        Gives those that it softened."""
        softened: list[Statement] = []
        for entry in self.entries[-_RECENT:]:
            near = sentence - entry.sentence <= 1 and (
                entry.sentence < sentence or item is not None
            )
            same = item is None or entry.statement.item == item
            read_off = entry.statement.quantities and not entry.statement.conditions
            no_fault = entry.statement.verdict in (Verdict.REMARK, Verdict.SATISFACTORY)
            if near and same and read_off and limited and no_fault:
                # "The gauge gives me 0.2. That's legal": a reading, and no flaw.
                entry.statement.verdict = Verdict.SATISFACTORY
                softened.append(entry.statement)
            elif near and same and noted and entry.statement.verdict is Verdict.SATISFACTORY:
                entry.statement.verdict = Verdict.REMARK
                softened.append(entry.statement)
            elif near and same and entry.statement.verdict is Verdict.DEFECT:
                entry.statement.verdict = Verdict.REMARK
                for target in (target for unit in entry.units for target in unit.targets):
                    present = target.is_condition and target.reading is FlaggedReading.PRESENT
                    if present and limited:
                        target.reading = FlaggedReading.WITHIN_LIMITS
                softened.append(entry.statement)
        return softened

    def _goes_on(self, new: Entry) -> bool:
        """Joins a statement to one of the same line, sentence and verdict; a bare name in the same sentence
        gives way to what is said of it. What was settled in between parts them: "weeping, wiped it, *leaking
        again*" is a fault anew."""
        said = new.statement
        for entry in reversed(self.entries[-_RECENT:]):
            old = entry.statement
            if entry.sentence != new.sentence:
                continue
            if (old.item, old.component) != (said.item, said.component):
                continue
            if old.clears or said.clears:
                return False
            same = old.verdict is said.verdict and old.by_reference == said.by_reference
            if not same and old.verdict is not Verdict.NAMED:
                continue
            self._merge(entry, new)
            return True
        return False

    def _takes_up(self, new: Entry) -> bool:
        """Joins what is said of a line to its bare name in the sentence before ("Nose tyre. No cuts.")."""
        said = new.statement
        for entry in reversed(self.entries[-_RECENT:]):
            old = entry.statement
            named = old.verdict is Verdict.NAMED and not old.by_reference
            before = entry.sentence == new.sentence - 1
            if named and before and old.item is not None and old.item == said.item:
                self._merge(entry, new)
                return True
        return False

    def _merge(self, entry: Entry, new: Entry) -> None:
        """Makes an old statement say what a new one says as well."""
        old, said = entry.statement, new.statement
        old.verdict, old.by_reference, old.clears = said.verdict, said.by_reference, said.clears
        old.conditions += [name for name in said.conditions if name not in old.conditions]
        old.aspects = sorted({*old.aspects, *said.aspects})
        old.quantities += [one for one in said.quantities if one not in old.quantities]
        old.confidence = min(old.confidence, said.confidence)
        entry.sentence = new.sentence
        self._extend(entry, new)

    def _measures(self, new: Entry) -> bool:
        """Joins a bare measurement to the finding of the sentence before ("...a crack. About 10 mm long.")."""
        said = new.statement
        named_again = any(unit.components or unit.targets for unit in new.units)
        if (
            not self.entries
            or not said.quantities
            or named_again
            or said.verdict is not Verdict.REMARK
        ):
            return False
        last = self.entries[-1]
        near = new.sentence - last.sentence <= 1 and last.statement.item == said.item
        if not near or last.statement.verdict is not Verdict.DEFECT:
            return False
        last.statement.quantities += said.quantities
        self._extend(last, new)
        return True

    def _judges(self, new: Entry) -> bool:
        """Joins a good result to the bare measurement before it that it judges ("...half a millimetre. One is
        permitted, so that's fine")."""
        said = new.statement
        if said.verdict is not Verdict.SATISFACTORY or said.by_reference or said.quantities:
            return False
        if any(unit.components for unit in new.units):
            return False
        for entry in reversed(self.entries[-_RECENT:]):
            old = entry.statement
            if old.item is None or old.item != said.item or new.sentence - entry.sentence > 1:
                continue
            if old.verdict is not Verdict.REMARK or old.conditions or not old.quantities:
                return False
            self._merge(entry, new)
            return True
        return False

    def _repeats(self, new: Entry) -> bool:
        """Joins a finding that the next sentence only says again ("there's a leak here. It's wet.")."""
        said = new.statement
        if not self.entries or not said.conditions or said.quantities:
            return False
        last = self.entries[-1]
        old = last.statement
        alike = (old.item, old.component, old.verdict) == (said.item, said.component, said.verdict)
        named_again = any(unit.components for unit in new.units)
        if not alike or named_again or not set(said.conditions) <= set(old.conditions):
            return False
        self._extend(last, new)
        return True

    def _extend(self, entry: Entry, new: Entry) -> None:
        entry.start, entry.end = min(entry.start, new.start), max(entry.end, new.end)
        entry.units += new.units
        entry.statement.evidence = evidence(self.doc, entry.start, entry.end)
