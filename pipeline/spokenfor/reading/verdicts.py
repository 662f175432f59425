"""What verdicts one unit of speech gives one component."""

from __future__ import annotations

from dataclasses import dataclass, field

from spokenfor.models import FlaggedReading, Quantity, Statement, Verdict
from spokenfor.packs.load import Pack
from spokenfor.packs.schema import Component, CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.approval import GRAVE, approves, is_noted, only_left, only_noted
from spokenfor.reading.contractions import spoken
from spokenfor.reading.document import mentioned, table_of
from spokenfor.reading.misfits import misfits
from spokenfor.reading.past_trouble import is_cleaning, mends_nothing, takes_out, tells_trouble
from spokenfor.reading.relapses import is_there_again
from spokenfor.reading.set_right import sets_right
from spokenfor.reading.state_words import is_state_of, lies_in, lies_in_condition, yields_to
from spokenfor.reading.targets import Target
from spokenfor.reading.unit import NO_RESULT, Unit

_LENGTHS = {"millimeter", "centimeter", "inch", "mil", "thou"}
_IN_SIGHT = frozenset("see showing shows glass left".split())
_VOLUMES = {"liter", "gallon", "pint", "quart"}


@dataclass
class Said:
    """One verdict: the conditions found, those spoken of at all (present or absent), quantities, whether
    by reference, whether it settles an earlier statement, and the token index where a late answer ends."""

    verdict: Verdict
    conditions: list[str] = field(default_factory=list)
    spoken_of: list[str] = field(default_factory=list)
    quantities: list[Quantity] = field(default_factory=list)
    by_reference: bool = False
    clears: bool = False
    answered: int | None = None


def say(
    unit: Unit,
    component: Component,
    quantities: list[Quantity],
    earlier: list[Statement],
    pack: Pack,
    *,
    returned: bool = False,
    mended: bool = False,
) -> list[Said]:
    """The verdicts of a unit on a component, worst first. `earlier` are the statements made of the same
    line so far; `returned` that the speaker has said they came back to it, `mended` that they told of
    trouble and of a deed first (mending.py). A flagged word said to be
    within limits is read so (`reading` of the target is set)."""
    states = [
        target
        for target in unit.targets
        if is_state_of(target, component) and not lies_in_condition(target, unit.targets)
    ]
    targets = [target for target in unit.targets if not yields_to(target.span, states, target)]
    settling = {cue._.cue.category for cue in unit.settling if not lies_in(cue, states)}
    bad, good, conditions = _sort(targets, states, component)
    if unit.absent and "level" in component.aspects and _is_empty(unit):
        bad = True
    elif unit.absent:
        settling.add(CueCategory.NOT_FITTED)
    if (
        bad
        and CueCategory.HARMLESS in settling
        and all(one.unlisted for one in targets if one.is_bad_word)
    ):
        # "Black with grease, which is exactly what you want to see": what only looked like a fault.
        bad = False
    if conditions:
        # "No cracks on this one" speaks of cracks, not of the component.
        settling.discard(CueCategory.NOT_FITTED)
    found = any(one.verdict in (Verdict.DEFECT, Verdict.REMARK) for one in earlier)
    found |= any(one.reading is FlaggedReading.PRESENT for one in conditions)
    if found and only_left(unit):
        settling.discard(CueCategory.NOT_INSPECTED)
    limited = CueCategory.WITHIN_LIMITS in settling
    put_right = CueCategory.PUT_RIGHT in settling
    noted = only_noted(unit)
    for target in conditions:
        present = target.reading is FlaggedReading.PRESENT
        if noted and _concept(target) in GRAVE:
            continue
        measured = not put_right and _measured_within(target, quantities, component, pack)
        if present and (limited or measured):
            target.reading = FlaggedReading.WITHIN_LIMITS
    # How much there is of what has a level and no limit is all that can be said of it.
    good |= "level" in component.aspects and any(one.unit in _VOLUMES for one in quantities)
    verdicts = _verdicts(unit, conditions, bad, good, settling, quantities, pack)
    if _is_read_off(unit, verdicts, settling, quantities, earlier):
        verdicts = [Said(Verdict.SATISFACTORY, quantities=quantities)]
    if CueCategory.BY_REFERENCE in settling and not verdicts:
        verdicts.append(Said(Verdict.SATISFACTORY, by_reference=True))
    verdicts += _settled(unit, verdicts, settling, earlier, returned, mended)
    if not verdicts and (unit.components or unit.states_something):
        looked = unit.purpose or any(one.reading is FlaggedReading.LOOKED_FOR for one in targets)
        verdicts.append(Said(Verdict.LOOKED_FOR if looked else Verdict.NAMED))
    spoken_of = [_concept(target) for target in conditions if target.reading not in NO_RESULT]
    answers = [target.answered for target in conditions if target.answered is not None]
    for said in verdicts:
        said.spoken_of = spoken_of
        said.answered = max(answers, default=None)
    return verdicts


def _verdicts(
    unit: Unit,
    conditions: list[Target],
    bad: bool,
    good: bool,
    settling: set[CueCategory],
    quantities: list[Quantity],
    pack: Pack,
) -> list[Said]:
    def found(reading: FlaggedReading, serious: bool) -> list[str]:
        return [
            _concept(target)
            for target in conditions
            if target.reading is reading and pack.conditions[_concept(target)].serious is serious
        ]

    verdicts = []
    defects = found(FlaggedReading.PRESENT, True)
    slight = found(FlaggedReading.PRESENT, False)
    if CueCategory.HARMLESS in settling:
        defects, slight = [], defects + slight
    limited = found(FlaggedReading.WITHIN_LIMITS, True) + found(FlaggedReading.WITHIN_LIMITS, False)
    beyond = any(quantity.within is False for quantity in quantities)
    if defects or bad or beyond:
        verdicts.append(Said(Verdict.DEFECT, conditions=defects, quantities=quantities))
    if CueCategory.NOT_INSPECTED in settling:
        verdicts.append(Said(Verdict.NOT_INSPECTED))
    if CueCategory.NOT_FITTED in settling:
        verdicts.append(Said(Verdict.NOT_FITTED))
    unjudged = any(quantity.within is None for quantity in quantities) and not (good or verdicts)
    measured = any(quantity.within is True for quantity in quantities) and not beyond
    # A length within limits may be the size of a flaw; a pressure within limits is as it should be.
    read_off = measured and not unjudged and all(one.unit not in _LENGTHS for one in quantities)
    judged = CueCategory.WITHIN_LIMITS in settling and not (verdicts or read_off)
    if slight or limited or judged or unjudged:
        verdicts.append(Said(Verdict.REMARK, conditions=[*limited, *slight], quantities=quantities))
    absent = any(target.reading is FlaggedReading.ABSENT for target in conditions)
    if (good or absent) and not (verdicts or beyond) and is_noted(unit):
        verdicts.append(Said(Verdict.REMARK, quantities=quantities))
    excused = CueCategory.NOT_INSPECTED in settling or CueCategory.NOT_FITTED in settling
    told = any(one.reading not in NO_RESULT for one in conditions)
    approved = not (told or defects or bad or beyond) and approves(unit)
    if approved:
        verdicts = []
    if (good or absent or measured or approved) and not excused:
        verdicts.append(Said(Verdict.SATISFACTORY, quantities=quantities))
    return verdicts


def _is_read_off(
    unit: Unit,
    verdicts: list[Said],
    settling: set[CueCategory],
    quantities: list[Quantity],
    earlier: list[Statement],
) -> bool:
    """Whether a number said to be within limits is a reading ("the gauge gives me 0.2, legal") and not the
    size of a flaw."""
    if CueCategory.WITHIN_LIMITS not in settling or not quantities:
        return False
    doc = unit.quantities[0].doc
    first, after = table_of(doc).first[unit.start], table_of(doc).after[unit.start]
    if mentioned(doc, TermKind.CONDITION, first, after):
        return False
    remarks = {said.verdict for said in verdicts} <= {Verdict.REMARK, Verdict.SATISFACTORY}
    return remarks and not any(statement.conditions for statement in earlier)


def _settled(
    unit: Unit,
    verdicts: list[Said],
    settling: set[CueCategory],
    earlier: list[Statement],
    returned: bool,
    mended: bool,
) -> list[Said]:
    """What settles an earlier defect or an earlier "not inspected"; a good result that holds "now" settles
    a defect as well ("... Pass us the screwdriver. That's tight now")."""
    if is_there_again(unit):
        return []
    made = {said.verdict for said in verdicts}
    stood = {statement.verdict for statement in earlier}
    deeds = [spoken(cue) for cue in unit.settling if cue.label_ == CueCategory.PUT_RIGHT]
    damage = [name for one in verdicts for name in one.conditions]
    damage += [name for one in earlier for name in one.conditions]
    if mends_nothing(deeds, damage):
        return []
    if CueCategory.PUT_RIGHT in settling and {Verdict.DEFECT, Verdict.REMARK} & (made | stood):
        return [Said(Verdict.SATISFACTORY, clears=True)]
    found = {Verdict.DEFECT, Verdict.REMARK} & stood
    # What was only told by likeness settles no defect.
    by_deed = mended and all(one.unlisted for one in earlier if one.verdict in found)
    good_now = (unit.now or by_deed or sets_right(unit, earlier)) and unit.unlisted is None
    if good_now and made == {Verdict.SATISFACTORY} and found:
        for said in verdicts:
            said.clears = True
    # "Now the nose cone" mends nothing: "now" counts with a good result, a deed by itself.
    deed = CueCategory.PUT_RIGHT in settling or (unit.now and bool(made))
    good_at_most = made <= {Verdict.SATISFACTORY} and not found
    trouble = any(map(tells_trouble, earlier)) or (mended and bool(made))
    trouble |= any(map(takes_out, deeds)) or (bool(earlier) and any(map(is_cleaning, deeds)))
    if (deed or mended) and good_at_most and trouble:
        for said in verdicts:
            said.clears = True
        return [] if verdicts else [Said(Verdict.SATISFACTORY, clears=True)]
    # Coming back to what was left out settles that, and no defect found before.
    came_back = returned or CueCategory.LATER_DONE in settling
    if came_back and Verdict.NOT_INSPECTED in stood and not found:
        for said in verdicts:
            said.clears = said.verdict is not Verdict.NOT_INSPECTED
    return []


def _sort(
    targets: list[Target], states: list[Target], component: Component
) -> tuple[bool, bool, list[Target]]:
    """Whether a bad, and whether a good result was stated, and the flagged words."""
    bad = good = False
    conditions = []
    for target in targets:
        if target.is_condition:
            conditions.append(target)
        elif target.span.label_ != TermKind.STATE or target in states:
            general = target.span.label_ == CueCategory.SATISFACTORY
            if general and misfits(target, component):
                continue
            is_good = general or (
                target in states and f"{component.id}:expected" in target.span._.state.concepts
            )
            if target.reading is FlaggedReading.PRESENT:
                good, bad = good or is_good, bad or not is_good
            elif target.reading is FlaggedReading.ABSENT:
                good, bad = good or not is_good, bad or is_good
    return bad, good, conditions


def _is_empty(unit: Unit) -> bool:
    """Whether a unit that says there is none tells of what should be in something ("I can't see any fluid in
    the glass"), and not how the machine is made."""
    doc = unit.components[0].doc
    return not _IN_SIGHT.isdisjoint(spoken(doc[unit.start : unit.end]))


def _measured_within(
    target: Target, quantities: list[Quantity], component: Component, pack: Pack
) -> bool:
    """Whether what a flagged word speaks of was measured, and found within the component's limit."""
    judged = [one.within for one in quantities if one.within is not None]
    if not judged or not all(judged) or not target.is_condition:
        return False
    limits = [pack.aspects[limit.of].conditions for limit in component.limits]
    return any(_concept(target) in conditions for conditions in limits)


def _concept(target: Target) -> str:
    return str(target.span._.term.concepts[0])
