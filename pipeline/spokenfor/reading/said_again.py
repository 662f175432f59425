"""Units that only say that what was said before holds of another thing, or does not: "so is the aerial", "right
one doesn't", "left, lit, right, *nothing*". All words: *common practice* of spoken English.
"""

from __future__ import annotations

from collections.abc import Sequence

from spacy.tokens import Doc

from spokenfor.reading.contractions import spoken, spoken_words
from spokenfor.reading.document import is_word, key_of, table_of
from spokenfor.reading.unit import Unit

_ANOTHER = set("1 ones other others second third fourth fifth sixth last rest".split())
_AUXILIARY = set("is are was were has have does do did will can".split())
_SHOWING = frozenset("here there that's here's there's".split())
_SHORT = 6
_QUIET = frozenset(", and but the it's a".split())
_GOES_FOR = frozenset("goes with for on".split())


def agrees(doc: Doc, unit: Unit) -> bool:
    """Whether a unit only says that a component is as what was spoken of before it is ("so is the aerial", "nor
    has the rim", "the right one too")."""
    if not unit.components or unit.states_something or unit.purpose:
        return False
    words = spoken(doc[unit.start : unit.end])
    opens = words[1:] if words[:1] == ["and"] else words
    first, last = unit.components[0], unit.components[-1]
    inverted = (
        opens[:1] in (["so"], ["as"], ["nor"], ["neither"])
        and opens[1:2]
        and opens[1] in _AUXILIARY
    )
    after = [key_of(token) for token in doc[last.end : unit.end] if is_word(token)]
    trailing = after in (["too"], ["as", "well"], ["also"], ["likewise"])
    # "This is the pump as well" shows the next one, and says nothing of it.
    before = set(spoken(doc[unit.start : first.start]))
    shown = not _AUXILIARY.isdisjoint(before) or not _SHOWING.isdisjoint(before)
    return bool(inverted) or (trailing and not shown and first.start - unit.start <= 3)


def same_is_said(words: Sequence[str]) -> bool:
    """Whether the words of a clause before a place only say that the same holds there, or does not ("*same for
    the* right", "*so does the* right one", "*not so the* left")."""
    rest = [word for word in words if word not in _QUIET]
    if rest[:1] == ["same"]:
        # "Same as the left" is said of something else.
        return bool(rest[1:]) and set(rest[1:]) <= _GOES_FOR
    return rest == ["not", "so"] or (
        len(rest) == 2 and rest[0] in ("so", "nor", "neither") and rest[1] in _AUXILIARY
    )


def contradicts(doc: Doc, unit: Unit) -> bool:
    """Whether a unit only says that what was said before it does not hold of its own component, or of another
    of those named ("left one works, right one *doesn't*", "the near one is in, the far one *isn't*")."""
    told = unit.settling or unit.quantities or unit.absent or unit.purpose
    if told or len(unit.components) > 1 or any(one.unlisted is None for one in unit.targets):
        return False
    words = spoken_words(doc, unit.start, unit.end)
    if unit.components and [word for word in words if word not in _QUIET][:2] == ["not", "so"]:
        return True
    nothing = ["nothing"] * told_nothing(doc, unit)
    words = [*spoken_words(doc, unit.start, unit.end), *nothing]
    denied = denies_only(words)
    if unit.components and denied:
        behind = [*spoken_words(doc, unit.components[0].end - 1, unit.end)[1:], *nothing]
        return len(behind) == denied
    return bool(denied) and not _ANOTHER.isdisjoint(words[:-2]) and len(words) <= _SHORT


def told_nothing(doc: Doc, unit: Unit) -> bool:
    """Whether the piece behind a unit is "nothing" and no more ("left, lit, right, *nothing*")."""
    keys, after = table_of(doc).key, table_of(doc).after[unit.start]
    at = unit.end + (unit.end < after and keys[unit.end] == ",")
    marked = keys[at - 1] == "," and at < after and keys[at] == "nothing"
    return marked and (at + 1 >= after or not table_of(doc).is_word[at + 1])


def denies_only(words: list[str]) -> int:
    """How many words at the end of a clause, contractions spread, say no more than that something said before
    does not hold ("the offside *is not*", "right *nothing*"); 0 where they say more."""
    if len(words) > 2 and words[-2] in _AUXILIARY and words[-1] == "not":
        return 2
    return int(len(words) == 2 and words[-1] == "nothing")
