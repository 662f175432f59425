"""What is excepted from a result that is said of others ("all on *bar the left one*")."""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.reading.document import CUES, within
from spokenfor.reading.targets import Target
from spokenfor.reading.unit import Unit

SURE = 0.8
"""How probable (0..1) it is that what is only excepted from a good result has the contrary."""


def lead_exceptions(doc: Doc, found: list[Unit]) -> list[Unit]:
    """Gives an exception that opens a sentence to the component of what follows ("other than a bit of dirt,
    the windscreen's fine")."""
    at = next((number for number, unit in enumerate(found) if unit.components), None)
    if not at:
        return found
    cues = within(doc, CUES, found[0].start, found[0].end)
    opens = cues and cues[0].label_ == CueCategory.EXCEPTION.value
    if opens and not any(unit.components for unit in found[:at]):
        for unit in found[:at]:
            unit.components = list(found[at].components)
            unit.foreign_subject = False
    return found


def except_last(doc: Doc, found: list[Unit]) -> list[Unit]:
    """Says of what is only excepted from a good result before it that it does not hold of it ("servos all dry,
    *except the left one*"), for a person to listen to. No tick of the others may stand for it."""
    for before, unit in pairwise(found):
        bare = unit.excepted and unit.components and not unit.states_something
        if bare and not before.settling and any(map(_holds_well, before.targets)):
            at = unit.components[-1].start
            span = Span(doc, at, at + 1, label=CueCategory.UNSATISFACTORY.value)
            unit.targets.append(Target(span, FlaggedReading.PRESENT, unlisted=SURE))
    return found


def _holds_well(target: Target) -> bool:
    bad = target.is_condition or target.span.label_ == CueCategory.UNSATISFACTORY.value
    return target.reading is FlaggedReading.PRESENT and not bad
