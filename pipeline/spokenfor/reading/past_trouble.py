"""How a thing was found, where no flagged word says so ("somebody *had* left a rag in it").
All words: *common practice* of spoken English."""

from __future__ import annotations

from collections.abc import Sequence

from spokenfor.models import Statement, Verdict
from spokenfor.reading.contractions import written_words

_FOUND = frozenset("was were had would did got found left".split())
_LONG_AGO = frozenset(
    "yesterday last week month ago before previously once used monday tuesday wednesday thursday friday "
    "saturday sunday morning service changed new renewed spring summer autumn winter year years operated "
    "inspected checked tested examined withdrawn drawn opened lifted dipped".split()
)


_CLEANING = frozenset("peeled picked scraped fished dug scooped plucked prised".split())
_TAKING_AWAY = _CLEANING | set(
    "wipe wiped clean cleaned rub rubbed scrub scrubbed wash washed hose hosed dust dusted polish polished "
    "flicked hooked".split()
)
_DAMAGE = frozenset(
    "crack chafe fraying wear dent nick gouge chip cut tear delamination broken distortion bulge hole erosion "
    "missing damage impact-damage inoperative".split()
)
_STUCK_IN_IT = frozenset("nail screw stone stones thorn glass bolt".split())
_LIE = frozenset("in on".split())
_IT = frozenset("it there them".split())
_NOT_FOUND = frozenset("no nothing not any i my torch finger fingers hand light lamp".split())


def is_cleaning(words: Sequence[str]) -> bool:
    """Whether a deed is of taking something away that did not belong there ("*peeled* it off")."""
    return not _CLEANING.isdisjoint(words)


def mends_nothing(deeds: Sequence[Sequence[str]], conditions: Sequence[str]) -> bool:
    """Whether all deeds only take away, and all that was found is damage, which stays ("cracked, *gave it
    a wipe*"; "cut by a flint, *dug it out*")."""
    away = bool(deeds) and all(not _TAKING_AWAY.isdisjoint(words) for words in deeds)
    return away and bool(conditions) and _DAMAGE.issuperset(conditions)


def takes_out(words: Sequence[str]) -> bool:
    """Whether a deed names what it took out ("picked a *nail* out"), so that it must have been there."""
    return is_cleaning(words) and not _STUCK_IN_IT.isdisjoint(words)


def lies_in_it(words: Sequence[str]) -> bool:
    """Whether a few words only say that a thing is where it does not belong ("*beetle in it*")."""
    things, where, it = words[:-2], words[-2:-1], words[-1:]
    there = not _LIE.isdisjoint(where) and not _IT.isdisjoint(it)
    return there and 0 < len(things) < 4 and _NOT_FOUND.isdisjoint(things)


def tells_trouble(statement: Statement) -> bool:
    """Whether a statement of no result tells how the component was found just now, in words of the past."""
    if statement.verdict is not Verdict.NAMED:
        return False
    return was_found(written_words(statement.evidence.text))


def was_found(words: Sequence[str]) -> bool:
    """Whether words, contractions spread, tell in the past how a thing was found just now."""
    return not _FOUND.isdisjoint(words) and _LONG_AGO.isdisjoint(words)
