"""What is excepted from a result that is said of others ("all on *bar the left one*")."""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.reading.document import CUES, is_word, key_of, table_of, within
from spokenfor.reading.targets import Target
from spokenfor.reading.unit import Unit

SURE = 0.8
"""How probable (0..1) it is that what is only excepted from a good result has the contrary."""

_TRIFLES = frozenset(
    "odd mud dust dirt flies fly bugs bug fingerprints fingerprint dew rain".split()
)
_PLURAL = frozenset(("are", "were", "look", "work", "feel"))
_RELATIVE = frozenset(("which", "that", "who", "it", "that's", "it's"))


def lead_exceptions(doc: Doc, found: list[Unit]) -> list[Unit]:
    """Gives an exception that opens a sentence to the component of what follows ("other than a bit of dirt,
    the windscreen's fine")."""
    at = next((number for number, unit in enumerate(found) if unit.components), None)
    if not at:
        return found
    cues = within(doc, CUES, found[0].start, found[0].end)
    opens = cues and cues[0].label_ == CueCategory.EXCEPTION
    if opens and not any(unit.components for unit in found[:at]):
        for unit in found[:at]:
            unit.components = list(found[at].components)
            unit.foreign_subject = False
    return found


def except_last(doc: Doc, found: list[Unit]) -> list[Unit]:
    """Says of what is only excepted from a good result before it that it does not hold of it ("servos all dry,
    *except the left one*"), for a person to listen to. No tick of the others may stand for it."""
    for at in range(len(found) - 2, 0, -1):
        before, unit, behind = found[at - 1 : at + 2]
        if unit.excepted and _is_listed(before) and speaks_of_all(doc, behind):
            before.targets += behind.targets
            before.grouped |= behind.grouped
            del found[at + 1]
    for before, unit in pairwise(found):
        _share_out(doc, before, unit)
        bare = unit.excepted and unit.components and not unit.states_something
        if bare and not before.settling and any(map(_holds_well, before.targets)):
            at = unit.components[-1].start
            span = Span(doc, at, at + 1, label=CueCategory.UNSATISFACTORY.value)
            unit.targets.append(Target(span, FlaggedReading.PRESENT, unlisted=SURE))
    return found


def except_part(doc: Doc, found: list[Unit], clause: tuple[int, int] | None) -> list[Unit]:
    """What is said by a last clause that only excepts a part from a good result ("the servo's dry, *bar the
    bottom seal*"): a fault, for a person to listen to; of several components it is not said which."""
    named = [span for unit in found for span in unit.components]
    if clause is None or not named or not any(map(_holds_well, found[-1].targets)):
        return []
    start, end = clause
    if not _TRIFLES.isdisjoint(table_of(doc).key[start:end]):
        return []
    span = Span(doc, start, end, label=CueCategory.UNSATISFACTORY.value)
    whose = FlaggedReading.PRESENT if len(named) == 1 else FlaggedReading.UNCLEAR
    return [Unit(start, end, named, [Target(span, whose, unlisted=SURE)], excepted=True)]


def _share_out(doc: Doc, before: Unit, unit: Unit) -> None:
    """Gives a good result behind an exception to those it is said of ("servos *bar the left one* are dry")."""
    if not (unit.excepted and unit.components and _is_listed(before) and not unit.settling):
        return
    behind = unit.components[-1].end
    shared = [
        one
        for one in unit.targets
        if _holds_well(one)
        and one.span.start >= behind
        and _RELATIVE.isdisjoint(table_of(doc).key[behind : one.span.start])
    ]
    before.targets += shared
    unit.targets = [one for one in unit.targets if one not in shared]


def _is_listed(unit: Unit) -> bool:
    """Whether a unit only names several of something."""
    says = unit.states_something or unit.purpose or not unit.components
    several: bool = not says and unit.components[-1]._.plural
    return several


def speaks_of_all(doc: Doc, unit: Unit) -> bool:
    """Whether a unit that names nothing says something of several ("*are dry*", "*all dry*")."""
    words = [key_of(token) for token in doc[unit.start : unit.end] if is_word(token)]
    told = bool(unit.targets) and all(map(_holds_well, unit.targets))
    return told and not unit.components and (unit.grouped or words[0] in _PLURAL)


def _holds_well(target: Target) -> bool:
    return target.reading is FlaggedReading.PRESENT and not target.is_bad_word
