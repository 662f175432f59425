"""How far a time past reaches ("*had a crack in May*, none now")."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory, Direction, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken
from spokenfor.reading.document import CUES, key_of, table_of, within
from spokenfor.reading.scopes import in_reach
from spokenfor.reading.targets import SentenceReading

_PRESENT = {"is", "are", "has", "have", "looks", "look", "feels"}
_PAST = {"was", "were", "had", "been", "found", "did", "came", "got", "saw", "went", "used"}
# What happened once and holds since ("the kit expired last month").
_LASTING = {"expired"}
_DEEDS = {"put", "taken", "new", "done", "built", "made", "swept"}
_LOOKS = {"checked", "inspected", "looked", "tested", "examined", "was", "were", "had", "used"}


def history_reaches(doc: Doc, reading: SentenceReading, cue: Span, target: Span) -> bool:
    """History covers its own clause, unless that says "still" or "now". Another clause it covers where that
    is in the past as well, or stands before it without a verb of the present."""
    if any(key_of(token) == "still" for token in doc[target.end : reading.sentence.end]):
        return False
    if key_of(target[-1]) in _LASTING:
        return False
    own = reading.clause_of(cue.start)
    number = reading.clause_of(target.start)
    start, end = reading.clauses[number]
    if any(other.label_ == CueCategory.NOW for other in within(doc, CUES, start, end)):
        return False
    if own == number:
        forward = cue.end <= target.start
        return cue._.cue.direction is Direction.BOTH or forward
    if own > number and target.label_ != TermKind.CONDITION and _tells_deed(doc, reading, cue):
        return False
    first, last = sorted((cue, target), key=lambda span: span.start)
    if not in_reach(doc, reading, Scope.SENTENCE, first.end, last.start) and own > number:
        return False
    words = set(spoken(doc[start : target.start]))
    if words & _PAST:
        return True
    hung = table_of(doc).key[start] == "with" and own < number
    return (own > number or hung) and not words & _PRESENT


def _tells_deed(doc: Doc, reading: SentenceReading, cue: Span) -> bool:
    """Whether the clause of a time past says what was done then, and not that a thing was looked at: it tells
    why it is well now ("full, *filled last night*")."""
    start, _ = reading.clauses[reading.clause_of(cue.start)]
    words = spoken(doc[start : cue.start])
    done = [word for word in words if word.endswith("ed") or word in _DEEDS]
    return bool(done) and _LOOKS.isdisjoint(words)
