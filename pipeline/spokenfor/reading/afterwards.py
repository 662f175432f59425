"""What became of a thing after something was said of it. All words: *common practice*.

"Comes on, *and then it goes out again*" turns a good result round, or tells of a trial that ended as it should;
the words do not say which, so they only cast doubt. "The straps weren't done up. *They are now*" says the
contrary of what was said before.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import dropwhile

_LEADS = frozenset("and but then now so".split())
_SAME = frozenset("it they that this these those".split())
_PRONOUNS = frozenset("it they that this these those there he she".split())
_AUXILIARY = frozenset("is are was were does do has have".split())
_BAD_AFTER_BUT = 0.3


def turns_round(words: Sequence[str], bad: float) -> bool:
    """Whether the words of a clause, contractions spread, go on with what became of a thing after it was found
    good; `bad` (0..1) is how probably they tell of a fault."""
    rest = list(dropwhile(lambda word: word in _LEADS, words))
    leads = words[: len(words) - len(rest)]
    if len(rest) < 2:
        return False
    of_the_same = rest[0] in _SAME or (len(rest[0]) > 3 and rest[0].endswith("s"))
    later = "then" in leads or rest[-1] == "again" or ("but" in leads and bad >= _BAD_AFTER_BUT)
    return of_the_same and later


def gainsaid(words: Sequence[str]) -> bool:
    """Whether the words of a clause, contractions spread, say no more than that what was said before is not so
    ("looks tight *but it isn't*")."""
    rest = list(dropwhile(lambda word: word in _LEADS or word in _SAME, words))
    if rest[-1:] != ["not"] or len(rest) < 2 or rest[-2] not in _AUXILIARY:
        return False
    # "All bolts are in, *split pins aren't*."
    of_others = len(rest) == len(words) and 3 <= len(rest) <= 5 and rest[0] not in _PRONOUNS
    return ("but" in words[:2] and len(rest) == 2) or of_others


_DENIED = frozenset("not never no".split())


def says_by_now(words: Sequence[str]) -> bool | None:
    """Whether the words of a unit, contractions spread, say only that something holds now ("it is now": True),
    or does not ("not now it isn't": False); None where they say more."""
    rest = list(dropwhile(lambda word: word in _LEADS or word in _DENIED, words))
    while rest and rest[-1] == "now":
        rest.pop()
    denies = rest[-1:] == ["not"]
    if denies:
        rest.pop()
    bare = len(rest) in (1, 2) and rest[-1] in _AUXILIARY
    bare = bare and (len(rest) == 1 or rest[0] in _PRONOUNS)
    return not denies if "now" in words and bare else None


def contrary_now(words: Sequence[str], said: Sequence[str]) -> bool:
    """Whether a unit says only that by now the contrary holds of what was `said` before ("it wasn't shut" -
    "*it is now*")."""
    holds = says_by_now(words)
    return holds is not None and holds is not _DENIED.isdisjoint(said)
