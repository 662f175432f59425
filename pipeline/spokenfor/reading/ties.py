"""What ties a clause to a component that may be named elsewhere in its sentence."""

from __future__ import annotations

from enum import Enum
from itertools import dropwhile

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import CUES, is_one_of, mentioned, table_of, within
from spokenfor.reading.joining import only_names
from spokenfor.reading.targets import SentenceReading

_GOING_ON = {"and", "but", "so", "then", "well", "yeah", "yes", "okay"}
# A clause that names nothing speaks of what was named before only where it begins with one of these.
_POINTING = frozenset(
    "it they that this these those both all each every either neither none nothing not no them".split()
)
_SPEAKERS = frozenset(("i", "we", "you", "can", "could", "cannot"))
_POINTED_AT = frozenset("it they them that those these any".split())


class Tie(Enum):
    """What ties a clause to a component, and how probable (0..1) its result must be at least."""

    NAMED = 0.0
    """It names one, or points to what was named."""
    GOES_ON = 0.7
    """It goes on in a sentence that named one ("with no argument between them", "and the stay holds it")."""
    NONE = 0.8
    """It may be of anything: it can only cast doubt."""


def tie(doc: Doc, reading: SentenceReading, start: int, end: int) -> Tie:
    """What ties the clause of the tokens start..end to a component."""
    if mentioned(doc, TermKind.COMPONENT, start, end):
        return Tie.NAMED
    words = [part for at in said_in(doc, start, end) for part in spread(table_of(doc).key[at])]
    if words[:1] and (
        words[0] in _POINTING
        or (words[0] in _SPEAKERS and not _POINTED_AT.isdisjoint(words))
        or any(is_one_of(doc, at) for at in range(start, min(end, start + 4)))
    ):
        return Tie.NAMED
    cues = {cue.label_ for cue in within(doc, CUES, start, end)}
    named = mentioned(doc, TermKind.COMPONENT, reading.sentence.start, start)
    if named and "no" in table_of(doc).key[max(0, named[-1].start - 1) : named[-1].start]:
        return Tie.NONE  # "no tail lift, which will spare us some time"
    named = named or _named_last(doc, reading, end)
    return Tie.GOES_ON if named and CueCategory.EXCEPTION.value not in cues else Tie.NONE


def _named_last(doc: Doc, reading: SentenceReading, end: int) -> list[Span]:
    """The components that the last clause of a sentence names and does no more, none having been named before
    ("clean sweep, two good squirts, so *that's wipers*")."""
    named = mentioned(doc, TermKind.COMPONENT, reading.sentence.start, reading.sentence.end)
    begin, after = reading.clauses[-1]
    last = bool(named) and end <= begin <= named[0].start
    return named if last and only_names(doc, begin, after, named) else []


def said_in(doc: Doc, start: int, end: int) -> list[int]:
    """The tokens of a clause that are words, less what only leads on ("and", "but then")."""
    words = [at for at in range(start, end) if table_of(doc).is_word[at]]
    return list(dropwhile(lambda at: table_of(doc).key[at] in _GOING_ON, words))
