"""How far a purpose reaches ("looking *for cuts in the tyre and cracks in the rim*")."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spread
from spokenfor.reading.document import CUES, QUANTITIES, mentioned, table_of, within
from spokenfor.reading.targets import targets_between

_AIMS = {"for", "if", "whether", "that", "any", "is", "are", "it's", "they're", "that's"}
_POINTING = (["that"], ["this"], ["those"], ["at", "that"], ["at", "this"], ["at", "those"])
_LISTING = frozenset(("and", "or", ",", "any", "a", "an", "for"))


def purpose_reaches(doc: Doc, cue: Span, target: Span) -> bool:
    """Purpose covers what it aims at. Past a component or measure it needs an aiming word ("checking the
    pump *for* leaks"); it ends at a denial that follows the component or an earlier target ("checking the
    pump, no leaks")."""
    if table_of(doc).key[cue.end : target.start] in _POINTING:
        return False  # "Take a gander at *that* bulge."
    components = mentioned(doc, TermKind.COMPONENT, cue.end, target.start)
    denials = [
        other
        for other in within(doc, CUES, cue.end, target.start)
        if other.label_ in (CueCategory.ABSENT.value, CueCategory.TERMINATION.value)
    ]
    for denial in denials:
        if mentioned(doc, TermKind.COMPONENT, cue.end, denial.start) or targets_between(
            doc, cue.end, denial.start
        ):
            return False
    if within(doc, QUANTITIES, cue.end, target.start):
        return False
    if components and goes_on_listing(doc, cue.end, target):
        return True
    if cue._.cue.scope is Scope.SENTENCE or not components:
        return True
    last = components[0].end - 1
    after = doc[last + 1 : target.start]
    with_verb = len(spread(table_of(doc).key[last])) > 1  # "whether the actuator's wet"
    return with_verb or not _AIMS.isdisjoint(spoken(after))


def goes_on_listing(doc: Doc, start: int, target: Span) -> bool:
    """Whether a flagged word goes on with what is looked for from a token on: in a list ("for *cuts and flat
    spots*"), or joined to what is named with one before it ("for cuts in the tyre *and cracks* in the rim")."""
    components = mentioned(doc, TermKind.COMPONENT, start, target.start)
    if components:
        aimed = mentioned(doc, TermKind.CONDITION, start, components[-1].start)
        between = table_of(doc).key[components[-1].end : target.start]
        return bool(aimed) and between in (["and"], ["or"], ["and", "for"], ["or", "for"])
    listed = mentioned(doc, TermKind.CONDITION, start, target.start)
    inside = {at for span in listed for at in range(span.start, span.end)}
    rest = {table_of(doc).key[at] for at in range(start, target.start) if at not in inside}
    return bool(listed) and rest <= _LISTING
