"""Which words of a sentence speak of which component: a sentence cut into units."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from spacy.lang.en.stop_words import STOP_WORDS
from spacy.tokens import Doc, Span, Token

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.absence import doubt_denied_name, settle_absence
from spokenfor.reading.afterwards import says_by_now
from spokenfor.reading.contractions import spoken_words, spread
from spokenfor.reading.cues import LAYERED
from spokenfor.reading.document import (
    ASPECTS,
    CUES,
    QUANTITIES,
    is_one_of,
    is_position,
    is_word,
    key_of,
    mentions_by_token,
    table_of,
    tokens_of,
    within,
)
from spokenfor.reading.excepted import except_part
from spokenfor.reading.joining import JOINS, is_one_of_them, join
from spokenfor.reading.targets import SentenceReading, Target
from spokenfor.reading.unit import SETTLING, Unit

_LINKS = frozenset(
    "on in at from around round of under to for along inside near behind by between with into through "
    "above below over across off out down up onto past against underneath beneath beside".split()
)
_SIDES_OF = {"side", "sides", "surface", "surfaces", "faces", "ends"}
_COUNTED = {"one's", "1's"}
_GROUPING = {"all", "both"}
_DETERMINERS = {"the", "this", "that", "these", "those"}
_VERBS = {"is", "are", "was", "were", "has", "have", "looks", "look", "seems", "appears"}
_EXCEPTIONS = {CueCategory.EXCEPTION.value}
_POINTS_BACK = {"it", "them", "these", "this"}
_PRONOUNS = {"it", "they"}
_PLAIN_WORDS = STOP_WORDS | set(
    "nice nicely lovely pretty fully properly perfectly absolutely totally completely reasonably "
    "slightly slight small minor little bit light tiny looks look looking seems appears feels okay ok "
    "yeah yes right just new old same other others rest first second third fourth fifth sixth seventh eighth "
    "ninth tenth last bottom top got gets having 1 2 3 4 one's lot lots couple few some "
    "several most remainder half pair another patched repaired welded repainted "
    "red blue yellow green white black".split()
)


def units(doc: Doc, reading: SentenceReading) -> list[Unit]:
    """The units of a sentence, in order. Components in a list share the result that follows it
    ("tyre, brake and line are good"); a component after a preposition is where, not what."""
    found: list[Unit] = []
    other: list[str] = []
    for start, end in reading.clauses:
        inside = _in_clause(doc, reading, start, end)
        named = [span for unit in found for span in unit.components] if other else []
        if inside and not inside[0].components and len(named) > 1:
            one = [span for span in named if table_of(doc).stem[span.end - 1] == other[-1]]
            inside[0].components, inside[0].excepted = one[-1:], True
            inside[0].foreign_subject = not one
        sure = any(unit.components or unit.settling or _is_listed(unit) for unit in inside)
        other = _excepted_other(doc, reading, start, end) if not sure else []
        found += inside if not other else []
    return join(doc, [*found, *except_part(doc, found, reading.clauses[-1] if other else None)])


def _is_listed(unit: Unit) -> bool:
    """Whether a unit has a result that is told by more than its likeness."""
    return any(one.unlisted is None for one in unit.targets)


def _excepted_other(doc: Doc, reading: SentenceReading, start: int, end: int) -> list[str]:
    """The stems of what a clause behind others excepts and does no more, where it is none of what is named
    ("hose and pump are dry, *bar one nozzle*, weeping"): of which it is a part, nobody said."""
    cues = [cue for cue in within(doc, CUES, start, start + 1) if cue.label_ in _EXCEPTIONS]
    if not cues or start == reading.sentence.start:
        return []
    return [
        token._.stem
        for token in doc[cues[0].end : end]
        if is_word(token) and key_of(token) not in STOP_WORDS and not is_position(doc, token.i)
    ]


def _in_clause(doc: Doc, reading: SentenceReading, start: int, end: int) -> list[Unit]:
    targets: dict[int, list[Target]] = defaultdict(list)
    for target in reading.targets:
        if start <= target.span.start < end and not target.void:
            targets[target.span.start].append(target)
    by_token = mentions_by_token(doc)
    cues = {cue.start: cue for cue in within(doc, CUES, start, end) if cue.label_ not in LAYERED}
    quantities = {span.start: span for span in within(doc, QUANTITIES, start, end)}
    unit = Unit(start, start)
    found = [unit]
    counted = start > reading.sentence.start and table_of(doc).key[start] in _COUNTED
    last_said = start
    for index in range(start, end):
        mention = by_token.get(index)
        if mention is not None and mention.start == index and mention.label_ == TermKind.COMPONENT:
            if counted and unit.targets and not unit.components:
                # "Static wicks, one's missing on the elevator": where, not what.
                last_said = mention.end
                continue
            unit = _place_component(doc, found, mention, last_said)
            last_said = mention.end
        for target in targets.get(index, ()):
            unit.targets.append(target)
            last_said = max(last_said, target.span.end)
        if index in quantities and index not in reading.void:
            unit.quantities.append(quantities[index])
            last_said = max(last_said, quantities[index].end)
        if index in cues:
            cue = cues[index]._.cue
            category, alone = cue.category, cue.direction.value == "alone"
            void = reading.ironic or index in reading.void
            if category in SETTLING and not alone and not void:
                unit.settling.append(cues[index])
                last_said = max(last_said, cues[index].end)
            by_now = category in (CueCategory.NOW, CueCategory.LATER_DONE)
            unit.now |= by_now and table_of(doc).key[index] == "now"
            unit.grouped |= category is CueCategory.GROUP or table_of(doc).key[index] in _GROUPING
            # A bare "for" aims at the flagged word after it; it does not make the whole unit a look.
            bare = cue.scope is Scope.NEXT
            unit.purpose |= category is CueCategory.PURPOSE and not bare
        unit.end = index + 1
    excepted = any(cue.label_ in _EXCEPTIONS for cue in within(doc, CUES, start, start + 1))
    for one in found:
        one.excepted = excepted
        one.components = _without_owners(doc, one.components)
        settle_absence(doc, reading, one)
        doubt_denied_name(doc, one)
        one.foreign_subject = _foreign_subject(doc, one)
        if one.components and _only_modifies(doc, one.components[-1]):
            one.targets = [target for target in one.targets if _is_found(target)]
    return [one for one in found if _matters(doc, one)]


def _matters(doc: Doc, unit: Unit) -> bool:
    if unit.components or unit.states_something or unit.purpose or unit.grouped:
        return True
    words = spoken_words(doc, unit.start, unit.end)
    return unit.now and says_by_now(words) is not None


def _place_component(doc: Doc, found: list[Unit], mention: Span, last_said: int) -> Unit:
    """Puts a component into the last unit, or begins a new one with it; returns the unit it is in."""
    unit = found[-1]
    between = [
        key_of(token) for token in doc[last_said : mention.start] if not is_position(doc, token.i)
    ]
    while _is_side_of(between):
        between = between[: between.index("of") - 1]
    ends = table_of(doc).key[last_said - 1] if last_said > unit.start else ""
    linked = bool({*between, ends} & _LINKS)
    said_since = unit.components and last_said > unit.components[-1].end
    if not unit.components:
        acts_on = bool(between) and set(between) <= _DETERMINERS
        if unit.targets and acts_on and _is_of_pronoun(doc, unit):
            # "It's not touching the leg" is said of what was named before.
            return unit
        if not unit.states_something or linked or _adjoins(unit, between):
            unit.components.append(mention)
            return unit
    elif not said_since and not is_one_of_them(unit.components[-1], mention):
        if set(between) <= JOINS:
            unit.components.append(mention)
            return unit
        if linked:
            return unit
    elif linked and unit.targets and unit.targets[-1].is_condition and _is_noun(doc, unit):
        moved = unit.targets.pop()
        unit.end = moved.span.start
        found.append(Unit(moved.span.start, mention.end, [mention], [moved]))
        return found[-1]
    start = mention.start
    while start > unit.start and (
        table_of(doc).key[start - 1] in JOINS or is_position(doc, start - 1)
    ):
        start -= 1
    unit.end = min(unit.end, max(start, last_said))
    found.append(Unit(start, mention.end, [mention]))
    return found[-1]


def _is_of_pronoun(doc: Doc, unit: Unit) -> bool:
    """Whether a unit begins with "it", and a verb's object is what follows a flagged word in it."""
    words = spoken_words(doc, unit.start, unit.targets[-1].span.start)
    opens = words[1:] if words[:1] == ["and"] else words
    last = unit.targets[-1]
    return last.is_condition and key_of(last.span[-1]).endswith("ing") and opens[:1] == ["it"]


def _is_side_of(between: list[str]) -> bool:
    """Whether words only say that a component has sides ("both *sides of the* tailplane")."""
    return between[-2:] in (["of", "the"], ["side", "of"], ["sides", "of"]) and (
        len(between) > 2 and between[between.index("of") - 1] in _SIDES_OF
    )


def _is_found(target: Target) -> bool:
    return target.is_condition and target.reading is not FlaggedReading.ABSENT


def _is_noun(doc: Doc, unit: Unit) -> bool:
    """Whether the last flagged word is a thing on the next component ("no leaks on the pump") and not what
    the component before it is ("the doors cracked along the line")."""
    before = unit.targets[-1].span.start
    return before > unit.components[-1].end and table_of(doc).key[before - 1] not in _VERBS


def _adjoins(unit: Unit, between: list[str]) -> bool:
    """Whether what was said stands right before the component, as its adjective ("loose catch") or as its
    verb ("can't see the downlock")."""
    if unit.settling:
        verbs = {cue._.cue.category for cue in unit.settling} - {CueCategory.BY_REFERENCE}
        return bool(verbs) and not unit.targets and set(between) <= JOINS
    last = unit.targets[-1] if unit.targets else None
    if last is not None and last.is_condition and between:
        acts = last.reading is FlaggedReading.ABSENT or key_of(last.span[-1]).endswith("ing")
        return acts and set(between) <= _DETERMINERS
    return (
        not between and len(unit.targets) == 1 and unit.targets[0].reading is FlaggedReading.PRESENT
    )


def _without_owners(doc: Doc, named: list[Span]) -> list[Span]:
    """Components less those that only say whose part the next one is ("the *tab's* rod is greased")."""
    begins = {span.start for span in named}
    return [
        span
        for span in named
        if span.end not in begins or spread(table_of(doc).key[span.end - 1])[1:] != ("is",)
    ]


def _only_modifies(doc: Doc, component: Span) -> bool:
    """Whether a component only stands before the thing that is spoken of ("filter buttons are in"): a word
    that nothing explains, and then a verb. A good result then says nothing of the component."""
    at = component.end
    if at + 1 >= table_of(doc).after[component.start] or not doc[at].is_alpha:
        return False
    known = at in mentions_by_token(doc) or any(
        span.start <= at for group in (CUES, ASPECTS) for span in within(doc, group, at, at + 1)
    )
    covered = known or any(cue.end > at for cue in within(doc, CUES, component.start, at))
    return (
        not covered and doc[at].lower_ not in _PLAIN_WORDS and table_of(doc).key[at + 1] in _VERBS
    )


def _foreign_subject(doc: Doc, unit: Unit) -> bool:
    """Whether a unit with no component begins by naming a thing the pack does not know ("the blanket is
    good"): its result must not fall on what was named before."""
    results = [target for target in unit.targets if target.span.label_ != TermKind.STATE]
    if unit.components or unit.settling or not results or results[0].unlisted is not None:
        return False
    first = results[0].span.start
    if results[0].is_condition and results[0].reading is FlaggedReading.PRESENT:
        verbs = [token.i for token in doc[unit.start : first] if key_of(token) in _VERBS]
        first = verbs[-1] if verbs else unit.start
    # What the sentence began with counts too, as long as it names nothing the pack knows.
    table, by_token = table_of(doc), mentions_by_token(doc)
    begin = table.first[unit.start]
    named = [at for at in range(begin, unit.start) if at in by_token]
    begin = unit.start if named or (results[0].is_condition and first == unit.start) else begin
    opening = next((token for token in doc[unit.start : first] if is_word(token)), None)
    pronoun = opening is not None and spread(key_of(opening))[0] in _PRONOUNS
    if pronoun or any(is_one_of(doc, at) for at in range(unit.start, first)):
        return False
    groups = [within(doc, group, begin, unit.end) for group in (CUES, ASPECTS, QUANTITIES)]
    known = tokens_of(span for spans in groups for span in spans)
    subject = list(_subject(doc, begin, first))
    if not _POINTS_BACK.isdisjoint(table.key[begin : unit.start]):
        # "Steve's just put it on for me, and it works": what is spoken of stays the same.
        subject = list(_subject(doc, unit.start, first))
    subject = [one for one in subject if one.i not in known and one.i not in by_token]
    return any(one.lower_ not in _PLAIN_WORDS and one.is_alpha for one in subject)


def _subject(doc: Doc, start: int, end: int) -> Iterator[Token]:
    """The words of start..end that stand before a verb, clause by clause."""
    open_ = True
    for token in doc[start:end]:
        if not is_word(token):
            open_ = True
            continue
        words = spread(key_of(token))
        if open_:
            yield token
        if words[-1] in _VERBS:
            open_ = False
