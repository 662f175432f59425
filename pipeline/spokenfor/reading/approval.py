"""Whether what is said of a thing is no more than that it may be as it is, or be left so."""

from __future__ import annotations

from spokenfor.packs.schema import CueCategory
from spokenfor.reading.document import key_of, table_of, tokens_of
from spokenfor.reading.joining import only_names
from spokenfor.reading.unit import Unit

_LEAVING = {"leave", "leaving", "left"}
_UNTIL = {"until", "till"}
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


def _is_all(unit: Unit) -> bool:
    """Whether a unit is its cues and no more ("nozzles. Been round the lot. *No drama*")."""
    held = tokens_of(unit.settling)
    doc = unit.settling[0].doc
    return all(at in held or not table_of(doc).is_word[at] for at in range(unit.start, unit.end))
