"""Which units of a sentence belong together: lists of components, and measures said of what went before."""

from __future__ import annotations

from spacy.lang.en.stop_words import STOP_WORDS
from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory
from spokenfor.reading.contractions import spoken_words, spread
from spokenfor.reading.document import (
    CUES,
    is_place,
    is_position,
    is_word,
    key_of,
    table_of,
    tokens_of,
    within,
)
from spokenfor.reading.excepted import except_last, lead_exceptions, speaks_of_all
from spokenfor.reading.said_again import same_is_said
from spokenfor.reading.unit import Unit

JOINS = set("and or plus & , the a an its your both then also nor neither either".split())
_POINTING = set(
    "that that's the those these this is are was its your a on for of with and then in at round "
    "around by under so your my them".split()
)
_FINISHED = set(
    "done finished complete sorted too there then this time now again here today as well".split()
)
_SINGULAR = {"is", "has", "was", "does"}
_PLURAL_ACTS = set(
    "show carry have were look seem appear feel work move turn lock operate need shows bear hold remain".split()
)
_MOVING_ON = set("now next moving let we i you will go going then after later onto over".split())
_FEW = 2
_ANOTHER = set("1 ones other others second third fourth fifth sixth last rest".split())
_AUXILIARY = set("is are was were has have does do did will can".split())
_OF_SEVERAL = {"are", "all", "both"}
_PLURAL_VERBS = {"are", "all", "both", "they're", "they"}


def join(doc: Doc, found: list[Unit]) -> list[Unit]:
    """Units in order, with lists and measures joined."""
    found = _gather_lists(doc, _join_measures(_same_for(doc, found)))
    return except_last(doc, lead_exceptions(doc, _named_last(doc, found)))


def _same_for(doc: Doc, found: list[Unit]) -> list[Unit]:
    """Gives "same for" and "so does" to the place that stands behind them ("*same for* the right one")."""
    joined: list[Unit] = []
    for unit in found:
        before = joined[-1] if joined else unit
        alone = before.settled == {CueCategory.BY_REFERENCE} and not (
            before.components or before.targets or before.quantities
        )
        place = unit.components and not unit.states_something and before.end >= unit.start
        if alone and place and _likens(doc, before.start, unit.components[-1].start):
            unit.settling, unit.start = [*before.settling, *unit.settling], before.start
            joined.pop()
        joined.append(unit)
    return joined


def _likens(doc: Doc, start: int, end: int) -> bool:
    keys = table_of(doc).key
    return same_is_said([keys[at] for at in range(start, end) if not is_position(doc, at)])


def _join_measures(found: list[Unit]) -> list[Unit]:
    """Gives "but it's within limits" and "about two millimetres deep" to the unit before, of which they are
    said."""
    joined: list[Unit] = []
    for unit in found:
        limits = unit.settled & {CueCategory.WITHIN_LIMITS, CueCategory.HARMLESS}
        measure = bool(limits) or (unit.quantities and not unit.targets and not unit.settling)
        conditions = any(target.is_condition for target in unit.targets)
        before = joined[-1] if joined else unit
        # "Governor, linkage, no bother": said of the whole list.
        listed = before.components and not (before.states_something or before.purpose)
        listed = listed and unit.settled == {CueCategory.HARMLESS} and not unit.quantities
        if joined and measure and not (unit.components or conditions or listed):
            before.settling += unit.settling
            before.targets += unit.targets
            before.quantities += unit.quantities
            before.end = unit.end
        else:
            joined.append(unit)
    return joined


def _gather_lists(doc: Doc, found: list[Unit]) -> list[Unit]:
    """Joins components that only stand in a list to the unit that speaks of the whole list."""
    gathered: list[Unit] = []
    listed: list[Unit] = []
    for unit in found:
        bare = bool(unit.components) and not unit.states_something and _is_list(doc, unit)
        if unit.excepted:
            # "Dry, hose, pump, apart from the cooler, weeping": the cooler is none of the list.
            gathered, listed = [*gathered, *listed], []
        if listed and bare and _is_denied(doc, listed[-1].components[-1].end, unit.start):
            gathered, listed = [*gathered, *listed], []
        before = (listed or gathered)[-1:]
        told = any(_begins_to_say(doc, one) and not one.states_something for one in before)
        if bare and told and _says_where(doc, unit):
            continue
        if bare and not _begins_to_say(doc, unit, _FEW):
            if listed and _corrected(doc, listed[-1].components[-1].end, unit.components[0].start):
                listed = []
            if listed and is_one_of_them(listed[-1].components[-1], unit.components[0]):
                gathered, listed = [*gathered, *listed], []
            listed.append(unit)
            continue
        if listed and unit.components and _corrected(doc, listed[-1].end, unit.start):
            listed = []
        if listed and listed[-1].excepted and speaks_of_all(doc, unit):
            gathered, listed = [*gathered, *listed], []
        if listed and (not unit.components or _speaks_of_list(doc, unit)):
            components = [span for one in listed for span in one.components]
            unit.components = [*components, *unit.components]
            unit.start = listed[0].start
            unit.purpose |= any(one.purpose for one in listed)
            unit.excepted |= any(one.excepted for one in listed)
            listed = []
        gathered += [*listed, unit]
        listed = []
    if listed and not gathered and not any(one.excepted for one in listed):
        # "Cowl, intake, separator." What the next sentence says is said of them all.
        whole = listed[0]
        for one in listed[1:]:
            whole.components += one.components
            whole.end, whole.grouped = one.end, whole.grouped or one.grouped
        return [whole]
    return [*gathered, *listed]


def _begins_to_say(doc: Doc, unit: Unit, least: int = 0) -> bool:
    """Whether a verb on the last name begins to say something of it, in more than so many words ("reservoir's a
    bit down, ...", "the bolts *have* their marks in one piece; the spat is loose")."""
    if not unit.components:
        return False
    last = unit.components[-1]
    words = spoken_words(doc, last.end - 1, unit.end)[1:]
    return bool(words) and words[0] in _AUXILIARY and len(words) > least


def _says_where(doc: Doc, unit: Unit) -> bool:
    """Whether a unit only says where ("just under the line")."""
    words = [key_of(token) for token in doc[unit.start : unit.components[0].start]]
    return not {"under", "over", "above", "below", "near", "by", "from", "to"}.isdisjoint(words)


def _named_last(doc: Doc, found: list[Unit]) -> list[Unit]:
    """Gives what is said to a component that is only named behind it ("not cracked, not bent, that's the
    tail skid", "tight as a drum, that curtain, and the buckles are done up")."""
    at = next((number for number, unit in enumerate(found) if unit.components), 0)
    if not at:
        return found
    last, before, rest = found[at], found[:at], found[at + 1 :]
    if last.states_something or last.purpose or not any(one.states_result for one in before):
        return found
    begin = max(unit.end for unit in before)
    if not rest and _concludes(doc, last, begin):
        return _given(before, last.components)
    names = list(last.components)
    while rest and _only_lists(doc, rest[0]):
        names += rest.pop(0).components
    end = rest[0].start if rest else found[-1].end
    if not only_names(doc, begin, end, names):
        return found
    if rest and not (rest[0].excepted or _goes_on(doc, rest[0]) or _points_back(doc, last)):
        return found
    return [*_given(before, names), *rest]


def _given(units: list[Unit], names: list[Span]) -> list[Unit]:
    """The units, as said of these components."""
    for unit in units:
        unit.components = list(names)
        unit.foreign_subject = False
    return units


def _concludes(doc: Doc, unit: Unit, begin: int) -> bool:
    """Whether a unit draws from what was said before it what becomes of what it names ("snapped right through,
    *so there's a bracket to order*"), and does not only go on to it ("so now the bracket")."""
    words = spoken_words(doc, begin, unit.end)
    opens = words[1:2] if words[:1] == ["and"] else words[:1]
    return opens == ["so"] and _MOVING_ON.isdisjoint(words) and len(unit.components) == 1


def _only_lists(doc: Doc, unit: Unit) -> bool:
    says = unit.states_something or unit.purpose or not unit.components
    return not says and only_names(doc, unit.start, unit.end, unit.components)


def _goes_on(doc: Doc, unit: Unit) -> bool:
    """Whether a unit of another component begins with "and" or "but"."""
    opens = {key_of(token) for token in doc[max(0, unit.start - 1) : unit.start + 1]}
    return bool(unit.components) and not opens.isdisjoint(("and", "then", "plus", "but"))


def _points_back(doc: Doc, unit: Unit) -> bool:
    """Whether a name stands with "that" behind what was said of it ("solid, *that bumper*, ...")."""
    first = unit.components[0].start
    return len(unit.components) == 1 and table_of(doc).key[first - 1] in (
        "that",
        "those",
        "them",
        "these",
    )


def only_names(doc: Doc, start: int, end: int, components: list[Span]) -> bool:
    """Whether a stretch does no more than name components ("so that's the tail skid done")."""
    parts = [cue for cue in within(doc, CUES, start, end) if cue.label_ == CueCategory.PART]
    inside = tokens_of([*components, *parts])
    last = components[-1].end

    def plain(at: int, words: set[str]) -> bool:
        other = table_of(doc).is_word[at] and at not in inside and not is_position(doc, at)
        return not other or table_of(doc).key[at] in words

    return all(plain(at, _POINTING) for at in range(start, last)) and all(
        plain(at, _POINTING | _FINISHED) for at in range(last, end)
    )


def _corrected(doc: Doc, start: int, end: int) -> bool:
    """Whether what was named before is taken back ("the right light, correction, the left light")."""
    cues = within(doc, CUES, start, max(start, end))
    return any(cue.label_ == CueCategory.CORRECTION for cue in cues)


def _is_list(doc: Doc, unit: Unit) -> bool:
    inside = tokens_of(unit.components)
    cued = tokens_of(within(doc, CUES, unit.start, unit.end))
    return all(
        token.i in inside
        or token.i in cued
        or not is_word(token)
        or key_of(token) in JOINS
        or key_of(token) in ("main", "whole", "entire")
        or is_place(doc, token.i)
        or token.lower_ in STOP_WORDS
        for token in doc[unit.start : unit.components[-1].end]
    )


def is_one_of_them(general: Span, mention: Span) -> bool:
    """Whether a mention refers to one of the several that were named before it ("servos, *left one*, dry"):
    what is said of it is not said of the others."""
    refers = mention._.said is not None or key_of(mention[0]) in _ANOTHER
    several = general._.plural and general._.said is None
    if not (refers and several and mention._.term is general._.term):
        return False
    # "Servos, left, right, forward. All dry" lists the places first.
    return not any(is_position(general.doc, at) for at in range(general.end, mention.start - 1))


def _is_denied(doc: Doc, start: int, end: int) -> bool:
    """Whether "nothing" or the like is said of a name, whatever that is to mean ("pumps, one, *nothing*, two,
    seeping")."""
    cues = within(doc, CUES, start, end)
    return any(cue.label_ == CueCategory.ABSENT for cue in cues)


def _speaks_of_list(doc: Doc, unit: Unit) -> bool:
    """Whether the last name of a list says what holds of the whole: "and the brake *are* dry", "and the hoses
    *show* no leaks", but not "and the brake *is* dry"."""
    opens = table_of(doc).key[unit.start] in ("and", "plus") or len(unit.components) > 1
    words = {key_of(token) for token in doc[unit.start : unit.end]}
    last = unit.components[-1]
    at = last.end
    while at < unit.end and (table_of(doc).key[at] in ("of", "the") or is_place(doc, at)):
        at += 1
    follows = table_of(doc).key[at] if at < unit.end else ""
    verb = (
        spread(table_of(doc).key[last.end - 1])[-1:] == ("is",) or spread(follows)[-1] in _SINGULAR
    )
    plain = (
        follows[:1].isalpha() and not follows.endswith("s") and follows not in ("on", "in", "off")
    )
    plural = bool(words & _PLURAL_VERBS) or unit.grouped
    if (
        follows in _OF_SEVERAL
        and not last._.plural
        and len(spread(table_of(doc).key[last.end - 1])) == 1
    ):
        return True
    return opens and (plural or (plain and not verb and follows in _PLURAL_ACTS))
