"""Whether what is said of a thing is no more than that it may be as it is, or be left so."""

from __future__ import annotations

from spacy.tokens import Doc

from spokenfor.packs.schema import CueCategory
from spokenfor.reading.contractions import spoken_words
from spokenfor.reading.document import key_of, table_of, tokens_of
from spokenfor.reading.joining import only_names
from spokenfor.reading.targets import SentenceReading
from spokenfor.reading.unit import Unit

_LEAVING = {"leave", "leaving", "left"}
_UNTIL = {"until", "till"}
_ABOUT_NOTING = {"so", "and", "just", "that", "it", "is", "i", "have", "but"}
_NOTING = {"remark", "note", "noted", "noting"}
_ABOUT_WATCHING = set(
    "1 to an a bit will we need needs worth them this these those now then though".split()
)
_WRITTEN = set("note noting noted log logging record recording mentioning".split())
GRAVE = {
    "binding",
    "broken",
    "crack",
    "excessive-leak",
    "inoperative",
    "leak",
    "looseness",
    "missing",
    "under-inflated",
    "unlatched",
}
"""Conditions that noting them makes no remark of (*common practice*): a person decides."""
_FINE = {"fine", "okay", "ok", "normal", "good"}


def only_left(unit: Unit) -> bool:
    """Whether what a unit says is left is what was found ("old dent, *leave it*"; "a bit low, *I'll leave it*
    until tonight"), not the look at it."""
    left = [cue for cue in unit.settling if cue._.cue.category is CueCategory.NOT_INSPECTED]
    said = [{key_of(token) for token in cue} for cue in left]
    return any(words & _LEAVING for words in said) and all(
        words & (_LEAVING | _UNTIL) for words in said
    )


def approves(unit: Unit) -> bool:
    """Whether a unit only says of what it names that it is fine as it is ("dipstick's just under max, that's
    *fine*"; "left door, *no drama*")."""
    words = {key_of(token) for cue in unit.settling for token in cue}
    only = {cue._.cue.category for cue in unit.settling} == {CueCategory.HARMLESS}
    if not only or not unit.components:
        return only and _is_all(unit) and "no" in words
    doc, first = unit.components[0].doc, unit.settling[0].start
    bare = "no" in words and only_names(doc, unit.start, first, unit.components)
    return bare or not words.isdisjoint(_FINE)


def only_noted(unit: Unit) -> bool:
    """Whether all that speaks for a fault's being within limits is that it is noted ("*I'll note that*")."""
    said = [cue for cue in unit.settling if cue._.cue.category is CueCategory.WITHIN_LIMITS]
    return bool(said) and all(not _WRITTEN.isdisjoint(map(key_of, cue)) for cue in said)


def is_noted(unit: Unit) -> bool:
    """Whether a unit says that a note or a remark is made of what is well otherwise ("tight, but it squeaks, so
    I'd *make a remark* of it")."""
    words = {key_of(token) for cue in unit.settling for token in cue}
    harmless = any(cue._.cue.category is CueCategory.HARMLESS for cue in unit.settling)
    return harmless and not words.isdisjoint(_NOTING)


def ends_noted(doc: Doc, reading: SentenceReading) -> bool | None:
    """Whether a sentence ends by saying that what was found is noted or to be watched, and no more (`True`
    where more was said before that in it); None where it does not."""
    start, end = reading.clauses[-1]
    words = [word for word in spoken_words(doc, start, end) if word not in _ABOUT_NOTING]
    noted = words[:1] == ["noted"] and (len(words) == 1 or words[1] == "for")
    return start > reading.sentence.start if noted or _is_watched(words) else None


def _is_watched(words: list[str]) -> bool:
    """Whether words are no more than "one to watch", "I'll keep an eye on it", "getting on a bit"."""
    said = [word for word in words if word not in _ABOUT_WATCHING]
    return said in (["watch"], ["keep", "eye", "on"], ["keeping", "eye", "on"], ["getting", "on"])


def _is_all(unit: Unit) -> bool:
    """Whether a unit is its cues and no more ("nozzles. Been round the lot. *No drama*")."""
    held = tokens_of(unit.settling)
    doc = unit.settling[0].doc
    return all(at in held or not table_of(doc).is_word[at] for at in range(unit.start, unit.end))
