"""Numbers that name a thing and measure nothing: "number one", "blades one and two", "R zero seven"."""

from __future__ import annotations

from collections.abc import Sequence

from spokenfor.reading.cardinals import figure
from spokenfor.reading.manners import LABELS, NOT_ONE
from spokenfor.reading.numbers import fraction_at, number_at

BREAK = ","
_LINKS = ("and", "or", "to", BREAK)
_BEGIN_A_NUMBER = ("a", "an", "half", "quarter", "minus", "point")


def name_length(words: Sequence[str], index: int) -> int:
    """How many words at `index` are a number that is a name, or a "one" that means a thing ("this one"); 0
    where they are neither. `words` are lower case, a mark that parts is ","."""
    word, before = words[index], words[index - 1] if index else ""
    if word in _BEGIN_A_NUMBER or not _is_number(word):
        return 0
    if word == "one" and before in NOT_ONE:
        return int(not _goes_on(words, index + 1))
    if len(before) == 1 and before.isalpha() and before not in ("a", "i"):
        end = index
        while end < len(words) and (figure(words[end]) is not None or words[end].isdecimal()):
            end += 1
        return end - index
    listed = before in _LINKS and _is_name(words, index - 2)
    # "14, no, 40 psi" takes a number back.
    taken_back = before == "no" and index > 1 and _is_number(words[index - 2])
    return int((before in LABELS and not taken_back) or listed)


def _goes_on(words: Sequence[str], index: int) -> bool:
    """Whether a "one" is the beginning of a longer number ("that one *point six*", "only one *and a half*")."""
    following = list(words[index : index + 3])
    broken = following[:1] == ["and"] and fraction_at(words, index + 1) is not None
    pointed = following[:1] == ["point"] and number_at(words, index) is not None
    return broken or pointed or following[:1] in (["hundred"], ["thousand"])


def _is_name(words: Sequence[str], index: int) -> bool:
    """Whether the number at `index` is a name, itself or by the list that it stands in."""
    while index > 0 and words[index] not in _BEGIN_A_NUMBER and _is_number(words[index]):
        if words[index - 1] in LABELS:
            return True
        if words[index - 1] not in _LINKS:
            return False
        index -= 2
    return False


def _is_number(word: str) -> bool:
    return word.isdecimal() or number_at([word], 0) is not None
