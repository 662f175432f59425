"""Which results that a cue states are not meant of what was found: asked, supposed, past, or still to be
done."""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spoken_words
from spokenfor.reading.document import CUES, QUANTITIES, mentioned, table_of, within
from spokenfor.reading.reach import reaching
from spokenfor.reading.targets import SentenceReading
from spokenfor.reading.unit import SETTLING

_TO_COME = set("will shall need needs want wants should must going be get getting".split())
_NO_VERBS = set("just probably have to need be to and then i we it that not also".split())
# What one puts off when one puts off a look (*common practice*).
_LOOKING = set(
    "check look inspect see get do come go test examine reach leave skip miss wait try return pick catch "
    "open finish start give put park pass drop defer postpone climb feel listen judge tell ask stand fetch "
    "bring "
    "show confirm verify revisit recheck sort hold carry able".split()
)
_SOFTENING = {CueCategory.WITHIN_LIMITS.value, CueCategory.HARMLESS.value}
_CHECKING = frozenset("check checking see whether".split())
_REPAIRS = frozenset("repair repairs repairing repaired fixing fixed replacing replaced".split())
_NEAR = 6
_NOT_DONE = frozenset("not never nobody no-one without after".split())
_VOIDING = {
    CueCategory.SUPPOSED.value,
    CueCategory.EXPECTED.value,
    CueCategory.PURPOSE.value,
    CueCategory.NEGATION.value,
}


def _is_to_come(doc: Doc, reading: SentenceReading, span: Span) -> bool:
    """Whether something is only going to be put right ("I'll get it pumped up", "wants topping up")."""
    start, _ = reading.clauses[reading.clause_of(span.start)]
    words = spoken(doc[max(start, span.start - 4) : span.start])
    return bool(_TO_COME & set(words))


def _puts_off_work(doc: Doc, reading: SentenceReading, span: Span) -> bool:
    """Whether what waits is work on a thing that was looked at ("I'll clean that off later"), and not the
    look."""
    start, end = reading.clauses[reading.clause_of(span.start)]
    words = spoken(doc[start:end])
    at = next((at for at, word in enumerate(words) if word in ("will", "shall", "gonna")), None)
    verbs = (
        [word for word in words[at + 1 :] if word not in _NO_VERBS][:1] if at is not None else []
    )
    return bool(verbs) and verbs[0] not in _LOOKING


def retract_measures(doc: Doc, readings: list[SentenceReading]) -> None:
    """Voids what was measured just before, where the speaker says "no" and measures it again ("Oil's five
    quarts. No, I hadn't pushed it home. It's six and a half quarts")."""
    reading = readings[-1]
    _retract_in_one(doc, reading)
    again = _measured(doc, reading)
    if not again or _names_component(doc, reading):
        return
    for back in (1, 2):
        said_no = readings[-back] if back <= len(readings) else None
        if said_no is None or _names_component(doc, said_no):
            return
        if _takes_back(doc, said_no) and len(readings) > back:
            before = readings[-back - 1]
            units = {span._.quantity.unit for span in again}
            before.void |= {
                span.start for span in _measured(doc, before) if span._.quantity.unit in units
            }
            # Why the first number was wrong is no fault of the component.
            said_no.targets = [
                one
                for one in said_no.targets
                if one.is_condition or one.span.start > again[0].start
            ]
            return


def _retract_in_one(doc: Doc, reading: SentenceReading) -> None:
    """The same in one sentence ("eighty eight psi, *no*, I'm on the wrong scale, it's ninety eight psi")."""
    for first, second in pairwise(_measured(doc, reading)):
        taken = _taken_back_at(doc, first.end, second.start)
        same = first._.quantity.unit == second._.quantity.unit
        if same and taken and not mentioned(doc, TermKind.COMPONENT, taken, second.start):
            reading.void.add(first.start)
            reading.targets = [
                one
                for one in reading.targets
                if one.is_condition or not taken <= one.span.start < second.start
            ]


def _taken_back_at(doc: Doc, start: int, end: int) -> int | None:
    """The first token between two that takes back what was said: a correction, or a "no" by itself."""
    table = table_of(doc)
    found = [
        cue.start for cue in within(doc, CUES, start, end) if cue.label_ == CueCategory.CORRECTION
    ]
    found += [at for at in range(start, end) if table.key[at] == "no" and not table.is_word[at + 1]]
    return min(found, default=None)


def _takes_back(doc: Doc, reading: SentenceReading) -> bool:
    """Whether a sentence begins with "no" or with a correction ("*forgive me*, I had it upside down")."""
    first = reading.sentence.start
    corrects = any(
        cue.label_ == CueCategory.CORRECTION and cue.start == first
        for cue in within(doc, CUES, first, first + 1)
    )
    return corrects or table_of(doc).key[first] == "no"


def _measured(doc: Doc, reading: SentenceReading) -> list[Span]:
    sentence = reading.sentence
    return [
        span
        for span in within(doc, QUANTITIES, sentence.start, sentence.end)
        if span.start not in reading.void
    ]


def _names_component(doc: Doc, reading: SentenceReading) -> bool:
    sentence = reading.sentence
    return bool(mentioned(doc, TermKind.COMPONENT, sentence.start, sentence.end))


def _is_denied(doc: Doc, reading: SentenceReading, deed: Span) -> bool:
    """Whether a deed was not done ("the jaw is *not* closed up", "*nobody* has tightened it")."""
    start, _ = reading.clauses[reading.clause_of(deed.start)]
    before = spoken_words(doc, max(start, deed.start - 3), deed.start + 1)
    return not _NOT_DONE.isdisjoint(before)


def _softens_nothing(doc: Doc, reading: SentenceReading, span: Span) -> bool:
    """Whether what sounds like within limits, or of no matter, is only what one should see ("somebody needs
    to *check it is within limits*"), holds until a repair ("okay to drive back *for repair*"), is more than
    that ("more slop *than I'm allowed* to pass") or not what the speaker thinks ("*but I don't agree*")."""
    first, after = reading.sentence.start, reading.sentence.end
    before = spoken_words(doc, max(first, span.start - _NEAR), span.start)
    behind = spoken_words(doc, span.end, after)
    inside = {*before[-_NEAR:], *spoken(span)}
    checked = not _CHECKING.isdisjoint(before) and "to" in before
    repaired = not _REPAIRS.isdisjoint(behind)
    exceeds = "than" in inside and bool({"more", "further"} & set(before))
    differs = ("not", "agree") in pairwise(behind) or "disagree" in behind
    return checked or repaired or exceeds or differs


def void(doc: Doc, reading: SentenceReading) -> None:
    """Notes which settling cues and quantities are not meant of what was found."""
    sentence = reading.sentence
    settling = [
        cue
        for cue in within(doc, CUES, sentence.start, sentence.end)
        if cue._.cue.category in SETTLING
    ]
    for span in [*settling, *within(doc, QUANTITIES, sentence.start, sentence.end)]:
        kinds = {cue.label_ for cue in reaching(doc, reading, span)}
        undone = span.label_ == CueCategory.PUT_RIGHT and (
            CueCategory.HISTORY.value in kinds
            or _is_to_come(doc, reading, span)
            or _is_denied(doc, reading, span)
        )
        undone |= span.label_ == CueCategory.NOT_INSPECTED and _puts_off_work(doc, reading, span)
        undone |= span.label_ in _SOFTENING and _softens_nothing(doc, reading, span)
        if kinds & _VOIDING or undone or reading.is_question:
            reading.void.add(span.start)
