"""A nod behind a name ("mast, nut, lock plate, yep"; "governor, linkage, two ticks"): all is well with it.
*Common practice* of terse speech. It says little, and is marked for a person to listen to. "Nothing" is no nod:
of a light it may say that it is dead."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken
from spokenfor.reading.document import CUES, is_word, mentioned, within
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
    """Adds a good result to the nods of a sentence that else says nothing from the name to the nod."""
    sentence = reading.sentence
    if reading.is_question or sentence[0]._.doubtful:
        return
    start = begin = sentence.start
    for at in range(sentence.start, sentence.end + 1):
        if at < sentence.end and is_word(doc[at]):
            continue
        ends = at >= sentence.end - 1
        if ends and _is_nod(doc, begin, at) and _only_names(doc, reading, start, at):
            last = max(number for number in range(begin, at) if is_word(doc[number]))
            span = Span(doc, last, last + 1, label=CueCategory.SATISFACTORY.value)
            reading.targets.append(Target(span, FlaggedReading.PRESENT, unlisted=SURE))
            break
        if any(begin <= one.span.start < at for one in reading.targets):
            start = at
        begin = at + 1
    reading.targets.sort(key=lambda one: one.span.start)


def _is_nod(doc: Doc, begin: int, end: int) -> bool:
    """Whether the piece of words `begin` to `end` is a nod."""
    words = spoken(doc[begin:end])
    return bool(words) and words[-1] in _NODS and _BESIDE.issuperset(words[:-1])


def _only_names(doc: Doc, reading: SentenceReading, start: int, end: int) -> bool:
    """Whether a terse stretch names something and says nothing of it."""
    if not mentioned(doc, TermKind.COMPONENT, start, end) or reading.is_aside(start):
        return False
    said = any(start <= one.span.start < end for one in reading.targets)
    cues = {cue.label_ for cue in within(doc, CUES, start, end - 1)}
    return not said and cues <= _EMPTY and _TALK.isdisjoint(spoken(doc[start:end]))
