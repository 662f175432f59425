"""Whole numbers and ordinals in a run of spoken words.

Words are lower case, hyphens left out; a comma is a word of its own (","). Forms of spoken numbers: *common
practice*; the round trip with num2words is tested.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_ONES = {
    word: value
    for value, word in enumerate(
        "zero one two three four five six seven eight nine".split(),
    )
} | {"oh": 0, "nought": 0, "naught": 0, "niner": 9}
_TEENS = {
    word: value
    for value, word in enumerate(
        "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(),
        start=10,
    )
}
_TENS = {
    word: 10 * value
    for value, word in enumerate(
        "twenty thirty forty fifty sixty seventy eighty ninety".split(), start=2
    )
}
_SCALES = {"thousand": 1_000, "million": 1_000_000}
_BARE = ("hundred", *_SCALES)
_ORDINALS = {
    "first": "one",
    "second": "two",
    "third": "three",
    "fourth": "four",
    "fifth": "five",
    "sixth": "six",
    "seventh": "seven",
    "eighth": "eight",
    "ninth": "nine",
    "tenth": "ten",
    "eleventh": "eleven",
    "twelfth": "twelve",
    "hundredth": "hundred",
    "thousandth": "thousand",
    "millionth": "million",
    **{f"{word}th": word for word in _TEENS if word not in ("ten", "eleven", "twelve")},
    **{f"{word[:-1]}ieth": word for word in _TENS},
}
_PLAIN = re.compile(r"\d+(\.\d+)?|\.\d+|\d{1,3}(,\d{3})+(\.\d+)?|\d+,\d{1,2}")
_GROUPED = re.compile(r"\d{1,3}(,\d{3})+(\.\d+)?")


def digits_of(word: str) -> float | None:
    """The number that figures stand for ("120", "0.5", ".5", "1,200", "2,5"), or None."""
    if not _PLAIN.fullmatch(word):
        return None
    return float(word.replace(",", "" if _GROUPED.fullmatch(word) else "."))


def figure(word: str) -> int | None:
    """The value of one spoken figure, 0 to 9, or None."""
    return _ONES.get(word)


def cardinal_at(words: Sequence[str], start: int) -> tuple[float, int] | None:
    """The whole number (or figures) at words[start] and the index after it, or None: "one hundred and
    twenty", "one twenty" (120), "one oh five", "twenty eight hundred", "one five zero", "a thousand"."""
    total = 0.0
    index, scale_before = start, float("inf")
    while True:
        group = _group(words, index)
        if group is None:
            break
        value, after = group
        scale = _SCALES.get(_word(words, after), 1)
        if scale >= scale_before or (scale == 1 and value >= scale_before):
            break
        total, index, scale_before = total + value * scale, after + (scale > 1), scale
        following = _joined(words, index) if scale > 1 else None
        if following is None:
            return total, index
        index = following
    return (total, _before_joint(words, index)) if index > start else None


def ordinal_at(words: Sequence[str], start: int) -> tuple[int, int] | None:
    """The ordinal at words[start] ("twenty first", "eighth", "thirty seconds") and the index after it, or
    None. Figures with an ending are one word or two ("21st", "21 st")."""
    figures = re.fullmatch(r"(\d+)(st|nd|rd|th)?", _word(words, start))
    if figures is not None:
        if figures.group(2):
            return int(figures.group(1)), start + 1
        ended = _word(words, start + 1) in ("st", "nd", "rd", "th")
        return (int(figures.group(1)), start + 2) if ended else None
    end = start
    while _is_part(_word(words, end)):
        end += 1
    last = _word(words, end)
    cardinal = _ORDINALS.get(last) or _ORDINALS.get(last.removesuffix("s"))
    if cardinal is None:
        return None
    alone = {"hundred": 100, "thousand": 1_000, "million": 1_000_000}
    if end == start:
        value = (
            alone.get(cardinal) or _ONES.get(cardinal) or _TEENS.get(cardinal) or _TENS[cardinal]
        )
        return value, end + 1
    whole = [*words[start:end], cardinal]
    read = cardinal_at(whole, 0)
    return (int(read[0]), end + 1) if read is not None and read[1] == len(whole) else None


def _word(words: Sequence[str], index: int) -> str:
    return words[index] if index < len(words) else ""


def _is_part(word: str) -> bool:
    return (
        word in _ONES
        or word in _TEENS
        or word in _TENS
        or word in ("hundred", "thousand", "and", ",")
    )


def _joined(words: Sequence[str], index: int) -> int | None:
    """Where the number goes on after a scale: at once, after "and", or after a comma."""
    if _word(words, index) in ("and", ","):
        index += 1
    return index if _group(words, index) is not None else None


def _before_joint(words: Sequence[str], index: int) -> int:
    return index - 1 if words[index - 1] in ("and", ",") else index


def _below_hundred(words: Sequence[str], index: int) -> tuple[float, int] | None:
    word = _word(words, index)
    if word in _TENS:
        unit = _ONES.get(_word(words, index + 1), 0)
        return _TENS[word] + unit, index + 1 + (unit > 0)
    value = _ONES.get(word, _TEENS.get(word))
    if value is not None:
        return value, index + 1
    return None


def _group(words: Sequence[str], index: int) -> tuple[float, int] | None:
    """A number below a thousand, or one said in pairs ("twenty eight fifty") or figure by figure."""
    if _word(words, index) in ("a", "an") and _word(words, index + 1) in _BARE:
        first: tuple[float, int] | None = (1, index + 1)
    elif _word(words, index) in _BARE and _goes_on(words, index):
        first = (1, index)  # "Hundred and ten psi": 110.
    else:
        digits = digits_of(_word(words, index))
        first = (digits, index + 1) if digits is not None else _below_hundred(words, index)
    if first is None:
        return None
    value, after = first
    if _word(words, after) == "hundred":
        after += 1
        rest = after + (_word(words, after) == "and")
        small = _digits_below_hundred(words, rest) or _below_hundred(words, rest)
        return (value * 100 + small[0], small[1]) if small else (value * 100, after)
    if digits_of(words[index]) is not None or words[index] in ("a", "an"):
        return value, after
    return _pair(words, value, after) or _figure_by_figure(words, index) or (value, after)


def _goes_on(words: Sequence[str], index: int) -> bool:
    """Whether a number hangs on a bare scale ("hundred and ten", and "hundred" by itself where it opens what is
    said, not "the hundred hour"), of which no word before says how many ("a couple of hundred and ten")."""
    opens = index == 0 or not words[index - 1][0].isalnum()
    if words[index] == "hundred" and opens and _word(words, index + 1)[:1].isalpha():
        return True
    counted = index > 0 and words[index - 1] in ("of", "couple", "few", "several", "many", "odd")
    joined = _word(words, index + 1) == "and"
    return not counted and joined and _below_hundred(words, index + 2) is not None


def _digits_below_hundred(words: Sequence[str], index: int) -> tuple[float, int] | None:
    word = _word(words, index)
    return (float(word), index + 1) if word.isdecimal() and len(word) <= 2 else None


def _pair(words: Sequence[str], first: float, after: int) -> tuple[float, int] | None:
    """ "One twenty", "nine eighty", "one oh five"."""
    if not 1 <= first <= 99:
        return None
    unit = _ONES.get(_word(words, after + 1))
    lone = _word(words, after + 2) not in _ONES
    if unit and lone and _word(words, after) in ("oh", "zero", "nought"):
        return first * 100 + unit, after + 2
    second = _below_hundred(words, after)
    if second is not None and second[0] >= 10:
        return first * 100 + second[0], second[1]
    if second is not None and first < 10 and second[0] > 0:  # "two nine fifty"
        third = _below_hundred(words, second[1])
        if third is not None and third[0] >= 10:
            return first * 1000 + second[0] * 100 + third[0], third[1]
    return None


def _figure_by_figure(words: Sequence[str], index: int) -> tuple[float, int] | None:
    """ "One five zero", "nine zero", "zero five". Two figures that may be a guess ("two three") are not one
    number."""
    end = index
    while _word(words, end) in _ONES:
        end += 1
    figures = [_ONES[word] for word in words[index:end]]
    if len(figures) >= 3 or (len(figures) == 2 and 0 in figures):
        return float("".join(map(str, figures))), end
    return None
