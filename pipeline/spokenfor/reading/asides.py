"""Talk that is not of this machine, and talk that does not mean what it says."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory, Direction, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spoken_words, spread
from spokenfor.reading.document import (
    CUES,
    is_word,
    key_of,
    mentioned,
    mentions_by_token,
    table_of,
    within,
)
from spokenfor.reading.targets import SentenceReading

# What brings the talk back to this machine.
_ABOUT_IT = {"that", "it", "he", "she", "they", "his", "her", "their"}
_GIVING = {"pass", "hand", "lend", "fetch", "grab", "bring", "throw", "chuck"}
_ADVERBS = {"a", "got", "all", "just", "so", "very", "always", "still"}
_OWNERS = {"my", "his", "her"}
FELT_WITH = frozenset("hand hands glove gloves finger fingers palm sample".split())
"""What one feels a thing with: how that is says how the thing is."""
_BEING = (["is"], ["was"])
# Talk of another machine, or of how such things are, reaches over all of its sentence.
_MACHINES = frozenset(
    "machine machines aircraft truck lorry van unit trailer aeroplane airplane helicopter ship plane other "
    "another different school training course exam some most people".split()
)
_NOW = frozenset("is are has have".split())
_BACK_HERE = {"this", "these", "ours", "here"}


def find_asides(doc: Doc, reading: SentenceReading, before: SentenceReading | None) -> None:
    """Marks the stretch around each cue that speaks of something else: from the last "but" before it to the
    next one, or to where a clause speaks of "this one". A sentence that goes on about it with "that" or "she"
    and finds no fault is one as well."""
    start, end = reading.sentence.start, reading.sentence.end
    cues = within(doc, CUES, start, end)
    if not any(cue.label_ == CueCategory.ELSEWHERE for cue in cues):
        if before is not None and before.asides and _goes_on(doc, before, start, end):
            reading.asides.append((start, end))
        return
    turns = {
        cue.start
        for cue in cues
        if cue.label_ == CueCategory.TERMINATION and cue._.cue.scope is Scope.SENTENCE
    }
    turns |= {first for first, last in reading.clauses if _comes_back(doc, first, last)}
    for cue in cues:
        if cue.label_ == CueCategory.ELSEWHERE:
            first = max((turn for turn in turns if turn <= cue.start), default=start)
            if _is_of_what_was_said(doc, first):
                # "A blower rumbling, *but that was* on the other machine."
                first = max((turn for turn in turns if turn < first), default=start)
            after = min((turn for turn in turns if turn > cue.start), default=end)
            first = max(first, _told_before(doc, reading, first, cue))
            reading.asides.append((first, after))


def _told_before(doc: Doc, reading: SentenceReading, first: int, cue: Span) -> int:
    """Where the last clause before a piece of talk ends that tells a fault of a thing that it names, now ("the
    seat *is torn*, there's coffee on it"); `first` where none does. Of another machine all of it is told."""
    if not _MACHINES.isdisjoint(spoken(cue)):
        return first
    told = [
        after
        for start, after in reading.clauses
        if first <= start
        and after <= cue.start
        and mentioned(doc, TermKind.COMPONENT, start, after)
        and mentioned(doc, TermKind.CONDITION, start, after)
        and not _NOW.isdisjoint(spoken_words(doc, start, after))
    ]
    return max(told, default=first)


def _is_of_what_was_said(doc: Doc, at: int) -> bool:
    """Whether a turn only says of what was said before it which machine that was on."""
    words = [part for key in table_of(doc).key[at : at + 3] for part in spread(key)]
    return words[:1] == ["but"] and words[1:2] in (["that"], ["it"]) and words[2:3] in _BEING


def _goes_on(doc: Doc, before: SentenceReading, start: int, end: int) -> bool:
    """Whether a sentence only goes on with an aside that filled the one before."""
    if before.asides[-1][1] != before.sentence.end:
        return False
    faults = bool(mentioned(doc, TermKind.CONDITION, start, end))
    words = spoken_words(doc, start, end)
    asked = within(doc, CUES, before.sentence.start, before.sentence.end)
    if any(cue.label_ == CueCategory.ELSEWHERE and _asks_for(doc, cue) for cue in asked):
        # "Pass me the other torch. This one's battery's gone flat."
        return words[:2] == ["this", "1"] or words[:1] == ["mine"]
    return not faults and bool(words) and words[0] in _ABOUT_IT


def _asks_for(doc: Doc, cue: Span) -> bool:
    return table_of(doc).key[cue.start] in _GIVING


def _comes_back(doc: Doc, start: int, end: int) -> bool:
    words = [key_of(token) for token in doc[start:end] if is_word(token)]
    said = words[1:] if words and words[0] in ("and", "but", "so") else words
    return start > table_of(doc).first[start] and bool(said) and said[0] in _BACK_HERE


def is_somebodys(doc: Doc, span: Span) -> bool:
    """Whether a flagged word is what a thing of somebody's is ("my phone's cracked again"): a noun that the
    pack does not know, of one or two words, behind "my" or "his", with nothing but a verb between it and the
    word."""
    keys, first = table_of(doc).key, table_of(doc).first[span.start]
    at = span.start - 1
    while at > first and keys[at] in _ADVERBS:
        at -= 1
    verbal = spread(keys[at])
    if verbal[-1] not in ("is", "has", "are", "was", "were"):
        return False
    noun = at if len(verbal) > 1 else at - 1
    owner = noun - 1
    if owner > first and keys[owner] not in _OWNERS and keys[owner].isalpha():
        owner -= 1
    if noun <= first or owner < first or keys[owner] not in _OWNERS:
        return False
    if keys[noun].removesuffix("'s") in FELT_WITH:
        return False
    known = noun in mentions_by_token(doc) or any(
        cue.label_ == CueCategory.PART for cue in within(doc, CUES, noun, noun + 1)
    )
    return not known


def find_irony(doc: Doc, readings: list[SentenceReading]) -> None:
    """Reads what the last sentence says well of a thing as unclear where it is not meant; a sentence that
    names nothing throws its irony on the one before. A flagged word said to be there stays: irony makes
    good news of bad, not bad of good (*common practice*)."""
    reading = readings[-1]
    cues = [
        cue
        for cue in within(doc, CUES, reading.sentence.start, reading.sentence.end)
        if cue.label_ == CueCategory.IRONY
        and (cue._.cue.direction is not Direction.ALONE or _is_alone(doc, cue))
    ]
    if not cues:
        return
    named = bool(mentioned(doc, TermKind.COMPONENT, reading.sentence.start, reading.sentence.end))
    both = not named and not reading.targets and len(readings) > 1
    for ironic in readings[-2:] if both else [reading]:
        ironic.ironic = True
        for target in ironic.targets:
            good = target.reading is FlaggedReading.ABSENT or not target.is_condition
            supposed = target.reading is FlaggedReading.SUPPOSED
            if good or (supposed and target.is_condition):
                target.reading = FlaggedReading.UNCLEAR
            target.asked = target.expected = False


def _is_alone(doc: Doc, cue: Span) -> bool:
    """Whether a cue fills the piece between two marks."""
    first, after = table_of(doc).first[cue.start], table_of(doc).after[cue.start]
    if any(token.text == "," for token in cue) and cue.end + 1 < after:
        return False
    closes = len(cue) > 1 and not any(is_word(token) for token in doc[cue.end : after])
    opens = closes or cue.start == first or not table_of(doc).is_word[cue.start - 1]
    return opens and (cue.end >= after or not table_of(doc).is_word[cue.end])
