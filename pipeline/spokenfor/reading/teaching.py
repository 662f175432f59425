"""What is taught rather than found: what is so whenever it happens, the reason given for a question, and the
name that a question was answered with."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken
from spokenfor.reading.document import mentioned, table_of
from spokenfor.reading.targets import SentenceReading

_WHENEVER = {"when", "whenever"}
_JOINING = {"and", "but", "also", "so", "only", "even"}
_PRESENT = {"is", "are", "get", "gets", "has", "have"}
_ASKED_NAME = {"what", "which", "who", "where", "how"}
_ANY = {"a", "an", "any", "every"}
_IN = {"in", "on", "at", "of"}
_CONFIRMING = {"correct", "right", "exactly"}


def unstate_taught(doc: Doc, reading: SentenceReading, before: SentenceReading | None) -> None:
    """Reads the flagged words of a sentence that only teaches as supposed."""
    keys = table_of(doc).key[reading.sentence.start : reading.sentence.end]
    if keys[0] in _ANY:
        for target in reading.targets:
            if target.is_condition and _is_of_any(doc, reading, target.span):
                target.reading = FlaggedReading.SUPPOSED
    because = before is not None and keys[0] == "because"
    if not because and _WHENEVER.isdisjoint(keys):
        return
    for target in reading.targets:
        if target.is_condition and target.reading is FlaggedReading.PRESENT:
            reason = because and before is not None and _gives_reason(before, target.span)
            if reason or _is_whenever(doc, reading, target.span):
                target.reading = FlaggedReading.SUPPOSED


def _is_of_any(doc: Doc, reading: SentenceReading, target: Span) -> bool:
    """Whether a flagged word opens a sentence about any thing of a kind ("*a nick in a propeller blade* is
    where a crack starts"), or belongs to what is said of it."""
    named = mentioned(doc, TermKind.COMPONENT, reading.sentence.start, reading.sentence.end)
    first = next((one for one in reading.targets if one.is_condition), None)
    if first is None or not named or first.span.start != reading.sentence.start + 1:
        return False
    keys = table_of(doc).key
    led = named[0].start > first.span.end and keys[named[0].start - 1] in _ANY
    return led and keys[first.span.end] in _IN and target.start >= first.span.start


def _is_whenever(doc: Doc, reading: SentenceReading, target: Span) -> bool:
    """Whether a flagged word stands in a clause of what is so each time ("when there's a leak up there, you'll
    see it here"): "when", and a verb of the present before the word or right behind it (*common practice*)."""
    start, end = reading.clauses[reading.clause_of(target.start)]
    # "When *there is* a leak": the word may be the end of the clause before.
    for first in (start, max(reading.sentence.start, start - 1)):
        words = spoken(doc[first : min(end, target.end + 1)])
        while words and words[0] in _JOINING:
            words = words[1:]
        if words and words[0] in _WHENEVER:
            return not _PRESENT.isdisjoint(words)
    return False


def _gives_reason(before: SentenceReading, span: Span) -> bool:
    """Whether a flagged word, behind "because", gives the reason for one like it that was asked about and only
    supposed ("Why is play bad? Because play grows")."""
    if not before.is_question:
        return False
    concept = span._.term.concepts[0]
    return any(
        one.is_condition
        and one.reading is FlaggedReading.SUPPOSED
        and one.span._.term.concepts[0] == concept
        for one in before.targets
    )


def confirms_name(doc: Doc, before: SentenceReading | None, span: Span) -> bool:
    """Whether a good word only says that a question was answered rightly ("What's this called? Swashplate,
    *correct*."): it stands alone between two marks, and the question asked for a name or place."""
    if before is None or not before.is_question or table_of(doc).key[span.start] not in _CONFIRMING:
        return False
    if len(span) > 1 or (span.start > 0 and table_of(doc).is_word[span.start - 1]):
        return False
    asked = spoken(doc[before.sentence.start : before.sentence.end])
    return not _ASKED_NAME.isdisjoint(asked)
