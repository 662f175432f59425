"""Good results that are none of some things: a reservoir that is dry, a tyre that is smooth, controls that are
locked solid. Told by the aspects that the pack gives a component; all words: *common practice*."""

from __future__ import annotations

from spokenfor.packs.schema import Component
from spokenfor.reading.contractions import spoken, spoken_words
from spokenfor.reading.document import table_of
from spokenfor.reading.targets import Target

_FILLED = frozenset("pressure charge extension".split())
_HELD = frozenset("locking security play".split())
_FLAT = frozenset("flat".split())
_SUNK = frozenset("sat sits sitting".split())
_MOVES = frozenset(
    "move moved moves moving budge budged shift shifted give turn turns spin spins".split()
)
_DENIALS = frozenset("not no never nothing none".split())
# Who tries it with force means that it is fast.
_FORCE = frozenset(
    "push pushing pushed pull pulling pulled tug tugging tugged rock rocking rocked shake shaking shook shove "
    "shoving shoved lever levering lean leaning hang hanging squeeze squeezing twist twisting kick kicked "
    "knock prise wobble waggle heave".split()
)


def misfits(target: Target, component: Component) -> bool:
    """Whether a good result in general words says nothing good of a component, or nothing for certain."""
    words, aspects = set(spoken(target.span)), set(component.aspects)
    if "level" in aspects and "leaks" not in aspects and "dry" in words:
        return True
    if "pressure" in aspects and "smooth" in words:
        return True
    if aspects & _FILLED and (words & _FLAT or (words & _SUNK and "down" in words)):
        return True
    if aspects & _HELD or "operation" not in aspects:
        return aspects == {"security"} and bool(words & _MOVES) and not words & _DENIALS
    if "locked" in words and words & {"solid", "hard", "on"}:
        return True
    return bool(words & _MOVES and words & _DENIALS) and not _tried(target)


def _tried(target: Target) -> bool:
    """Whether the sentence tells that force was used."""
    doc, at = target.span.doc, target.span.start
    table = table_of(doc)
    return not _FORCE.isdisjoint(spoken_words(doc, table.first[at], table.after[at]))
