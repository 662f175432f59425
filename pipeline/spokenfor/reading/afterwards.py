"""What happens after a good result: "comes on, *and then it goes out again*". Such words turn it round, or tell
of a trial that ended as it should; the words do not say which, so they only cast doubt. *Common practice*.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import dropwhile

_LEADS = frozenset("and but then now so".split())
_SAME = frozenset("it they that this these those".split())
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
