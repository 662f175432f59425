"""Whether what was measured is what the speaker says it should be ("gap is forty thou, *should be sixteen*").

All words: *common practice* of spoken English. A component's own limits are in the pack (limits.py).
"""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.reading.contractions import spoken
from spokenfor.reading.document import QUANTITIES, table_of, within
from spokenfor.reading.excepted import SURE
from spokenfor.reading.targets import SentenceReading, Target

_DUE = (("should", "be"), ("ought", "to", "be"), ("supposed", "to", "be"), ("meant", "to", "be"))
_LEAST = frozenset("least over above minimum more".split())
_MOST = frozenset("most under below maximum less".split())
_NOT = frozenset("no not".split())
_BETWEEN = frozenset("between from to and or".split())
_NEAR = 0.05
"""What differs by less than this share of what it should be is said to be near it."""
_REACH = 6


def add_due(doc: Doc, reading: SentenceReading) -> None:
    """Adds a fault, for a person to listen to, where a sentence measures something and says behind it that it
    should be otherwise."""
    start, end = reading.sentence.start, reading.sentence.end
    keys = table_of(doc).key
    if reading.is_question or "be" not in keys[start:end]:
        return
    for at in range(start + 1, end):
        said = next((one for one in _DUE if tuple(keys[at : at + len(one)]) == one), None)
        if said is None or reading.is_aside(at):
            continue
        before = [one for one in within(doc, QUANTITIES, start, at) if one.end <= at]
        if not before:
            continue
        measured = before[-1]
        if _differs(doc, measured, at + len(said), end):
            span = Span(doc, measured.start, measured.end, label=CueCategory.UNSATISFACTORY.value)
            reading.targets.append(Target(span, FlaggedReading.PRESENT, unlisted=SURE))
            reading.targets.sort(key=lambda one: one.span.start)
            return


def _differs(doc: Doc, measured: Span, start: int, end: int) -> bool:
    """Whether the number that should be (in the words from start on) is another than was measured; False where
    none is said, in another unit, or a range."""
    value, unit = float(measured._.quantity.value), str(measured._.quantity.unit)
    for at in range(start, min(end, start + _REACH)):
        due = _number(doc, at, unit)
        if due is None:
            continue
        words = spoken(doc[start:at])
        after = table_of(doc).key[at + 1] if at + 1 < end else ""
        if not _BETWEEN.isdisjoint(words) or after in _BETWEEN:
            return False
        least = not _LEAST.isdisjoint(words)
        most = not _MOST.isdisjoint(words)
        if not _NOT.isdisjoint(words):
            least, most = most, least
        if least or most:
            return value < due if least else value > due
        return abs(value - due) > _NEAR * abs(due)
    return False


def _number(doc: Doc, at: int, unit: str) -> float | None:
    """The number that stands at a token: bare, or a measure in the same unit."""
    held = [one for one in within(doc, QUANTITIES, at, at + 1) if one.start == at]
    if held and held[0]._.quantity.unit:
        same = held[0]._.quantity.unit == unit
        return float(held[0]._.quantity.value) if same else None
    key = table_of(doc).key[at]
    return float(key) if key.isdecimal() else None
