"""Components that are denied themselves: not fitted here, or a good result that cannot hold of what is not
there. All words: *common practice*.
"""

from __future__ import annotations

from spacy.tokens import Doc

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.reading.contractions import spoken, spoken_words, spread
from spokenfor.reading.document import CUES, is_word, key_of, table_of, within
from spokenfor.reading.joining import JOINS
from spokenfor.reading.reach import agrees, reaching
from spokenfor.reading.targets import SentenceReading
from spokenfor.reading.unit import Unit

_BEING_THERE = {"is", "are", "on", "in", "there", "place", "fitted", "present", "installed"}
_OF_THIS_ONE = frozenset(
    "side ones either machine aircraft version model trailer tractor lorry truck cab ship type build "
    "engine variant".split()
)
_OURS = {"we", "she", "you"}
_HAVING = {"has", "have", "had"}
_HERE = _OF_THIS_ONE | set("on this that these at the all one here".split())
_THIS_ONE = _HERE | {"her", "it", "him", "today"}
_ARTICLES = {"the", "a", "an", "1"}
_LOST = {"been", "lost", "had", "gone", "missing"}
_MADE_SO = (["she", "is"], ["he", "is"], ["we", "are"])


def settle_absence(doc: Doc, reading: SentenceReading, unit: Unit) -> None:
    """Reads "there's no net", "we don't have a net", "no net this side" and "so no net" as not fitted, where
    nothing else is said of it."""
    if not unit.components or unit.targets or unit.settling or unit.quantities or reading.ironic:
        return
    first = unit.components[0]
    for cue in within(doc, CUES, unit.start, first.start):
        if cue.label_ != CueCategory.ABSENT or reading.is_question:
            continue
        near = {key_of(token) for token in doc[cue.end : first.start]} <= JOINS
        whole = len(spread(table_of(doc).key[cue.start])) + len(cue) > 2
        whole = whole or _is_of_this_one(doc, unit, cue.start) or _is_explained(doc, reading, unit)
        whole = whole and "of" not in {key_of(token) for token in cue}
        if near and whole:
            # "Ain't no step this side": what only agrees with a denial turns nothing round.
            others = [one for one in reaching(doc, reading, cue) if not agrees(doc, one, cue)]
            if all(one.label_ == CueCategory.GROUP for one in others):
                unit.absent = True


def doubt_denied_name(doc: Doc, unit: Unit) -> None:
    """Reads a good result as unclear where the component itself is denied ("no cap is on the filler")."""
    first = unit.components[0] if unit.components else None
    if first is None or first.start == unit.start or table_of(doc).key[first.start - 1] != "no":
        return
    for target in unit.targets:
        words = set(spoken(target.span))
        if target.reading is FlaggedReading.PRESENT and words <= _BEING_THERE:
            target.reading = FlaggedReading.UNCLEAR


def _is_of_this_one(doc: Doc, unit: Unit, denial: int) -> bool:
    """Whether a bare "no" tells how this machine or side is made: "no step *this side*", "fixed pitch, *so* no
    governor", "no boots *either*", "*this engine has* no separator". A bare "no cap" may be missing."""
    after, keys = unit.components[-1].end, table_of(doc).key
    who = keys[denial - 2] if denial - 2 >= unit.start and keys[denial - 1] in _HAVING else ""
    if who in _OF_THIS_ONE:
        return after == unit.end or not is_word(doc[after])
    rest = {key_of(token) for token in doc[after : unit.end] if is_word(token)}
    if rest == {"here"} and who:
        return who in _OURS
    if rest:
        return rest <= _HERE and not rest.isdisjoint(_OF_THIS_ONE)
    return denial > unit.start and table_of(doc).key[denial - 1] == "so"


def _is_explained(doc: Doc, reading: SentenceReading, unit: Unit) -> bool:
    """Whether another clause says how the machine is made ("no governor, *she's fixed pitch*", "no oleo here,
    *just spring steel*"), and no more is said of what there is not."""
    after = unit.components[-1].end
    if {key_of(token) for token in doc[after : unit.end] if is_word(token)} - _THIS_ONE:
        return False
    opens = [spoken_words(doc, *clause)[:3] for clause in reading.clauses]
    return any(
        (words[:1] == ["just"] and len(words) > 1 and words[1] not in _ARTICLES)
        or (words[:2] in _MADE_SO and len(words) > 2 and words[2] not in _LOST)
        for words in opens
    )
