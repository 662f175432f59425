"""A nod behind a name ("mast, nut, lock plate, yep"; "governor, linkage, two ticks"): all is well with it.
*Common practice* of terse speech. It says little, and is marked for a person to listen to. "Nothing" is no nod:
of a light it may say that it is dead."""

from __future__ import annotations

from itertools import groupby

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken
from spokenfor.reading.document import CUES, is_word, mentioned, table_of, within
from spokenfor.reading.targets import SentenceReading, Target

SURE = 0.8
"""How probable (0..1) it is that a nod means a result."""

_NODS = frozenset("yep yup yes yeah tick ticks".split())
# What may stand in a nod's piece beside it: how many ticks.
_BESIDE = frozenset("both all 2 3 4 5 6 7 8".split())
# A terse speaker uses none of these: with one, it is talk ("so I do the mast first, yeah").
_TALK = frozenset(
    "i we you he she they it that's what who why how do does did is are was were have has had can could will "
    "would shall should let let's go going went say said think know mean if when because so then".split()
)
# Cues that leave the names before a nod as they are.
_EMPTY = {CueCategory.PART.value, CueCategory.FILLER.value, CueCategory.AFFIRMED.value}


def add_nods(doc: Doc, reading: SentenceReading) -> None:
    """Adds a good result to a nod that ends its sentence, where nothing else is said from the name to it."""
    sentence = reading.sentence
    end = next((token.i + 1 for token in reversed(list(sentence)) if is_word(token)), 0)
    ends_so = end and table_of(doc).key[end - 1] in _NODS
    if not ends_so or reading.is_question or table_of(doc).doubtful[sentence.start]:
        return
    pieces = [
        [token.i for token in run]
        for words, run in groupby(doc[sentence.start : end], is_word)
        if words
    ]
    told = {one.span.start for one in reading.targets}
    start = max(
        (piece[-1] + 1 for piece in pieces if not told.isdisjoint(piece)), default=sentence.start
    )
    if _is_nod(doc, pieces[-1][0], end) and _only_names(doc, reading, start, end):
        span = Span(doc, end - 1, end, label=CueCategory.SATISFACTORY.value)
        reading.targets.append(Target(span, FlaggedReading.PRESENT, unlisted=SURE))


def _is_nod(doc: Doc, begin: int, end: int) -> bool:
    """Whether the piece of words `begin` to `end`, a nod the last of them, is no more than that."""
    return _BESIDE.issuperset(spoken(doc[begin : end - 1]))


def _only_names(doc: Doc, reading: SentenceReading, start: int, end: int) -> bool:
    """Whether a terse stretch names something and says nothing of it."""
    if not mentioned(doc, TermKind.COMPONENT, start, end) or reading.is_aside(start):
        return False
    said = any(start <= one.span.start < end for one in reading.targets)
    cues = {cue.label_ for cue in within(doc, CUES, start, end - 1)}
    return not said and cues <= _EMPTY and _TALK.isdisjoint(spoken(doc[start:end]))
