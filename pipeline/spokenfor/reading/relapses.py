"""Trouble that is there again behind a deed: "a drip on its nose, *wiped it off*, and here comes another one".
All words: *common practice* of spoken English."""

from __future__ import annotations

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.reading.contractions import spoken_words
from spokenfor.reading.unit import Unit

# "Nipped it up, *it was loose*" tells why, "somebody *had* left it loose" how it came about.
_PAST = frozenset("was were had been before because".split())
# "I've tightened *the loose union*" is one deed; what is told next begins with one of these.
_OBJECTS = frozenset("it them that".split())
_GOES_ON = frozenset("it they that there here and but still another".split())


def is_there_again(unit: Unit) -> bool:
    """Whether the last fault that a unit tells stands behind all that it says was done about one, and is told
    of now."""
    deeds = [cue for cue in unit.settling if cue.label_ == CueCategory.PUT_RIGHT]
    faults = [
        one.span
        for one in unit.targets
        if one.reading is FlaggedReading.PRESENT and (one.is_condition or one.is_bad_word)
    ]
    if not deeds or not faults:
        return False
    done, fault = max(cue.end for cue in deeds), max(span.start for span in faults)
    if fault < done:
        return False
    between = spoken_words(faults[0].doc, done, fault + 1)
    goes_on = between[1:] if between[:1] and between[0] in _OBJECTS else between
    return _PAST.isdisjoint(between) and not _GOES_ON.isdisjoint(goes_on)
