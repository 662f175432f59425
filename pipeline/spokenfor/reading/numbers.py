"""What number a run of spoken words means."""

from __future__ import annotations

from collections.abc import Sequence

_ONES = {
    word: value
    for value, word in enumerate(
        [
            "zero",
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
            "seventeen",
            "eighteen",
            "nineteen",
        ]
    )
} | {"oh": 0, "nought": 0}
_TENS = {
    word: 10 * value
    for value, word in enumerate(
        ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"], start=2
    )
}
_SCALES = {"hundred": 100, "thousand": 1000}
_FRACTIONS = {"half": 0.5, "quarter": 0.25, "quarters": 0.25, "third": 1 / 3, "thirds": 1 / 3}


def number_at(words: Sequence[str], start: int) -> tuple[float, int] | None:
    """The number that begins at words[start] and the index after it, or None.

    Words are lower case; digits ("120", "0.5", "1,200"), cardinals ("one hundred and twenty"), pairs as
    spoken ("one twenty" = 120), decimals ("point five", "two point five") and fractions ("half a", "two
    and a half", "three quarters of a") are known. Forms of spoken numbers: common practice.
    """
    if start < len(words) and words[start] in ("half", "quarter"):
        return _FRACTIONS[words[start]], _skip(words, start + 1, ("of", "an", "a"))
    if list(words[start : start + 2]) in (["a", "quarter"], ["a", "half"]):
        return _FRACTIONS[words[start + 1]], _skip(words, start + 2, ("of", "an", "a"))
    whole = _cardinal(words, start)
    if whole is None:
        if start < len(words) and words[start] == "point":
            return _decimals(words, start + 1, 0.0)
        return None
    value, index = whole
    if index < len(words) and words[index] == "point":
        return _decimals(words, index + 1, value) or whole
    if list(words[index : index + 2]) == ["and", "a"] and index + 2 < len(words):
        fraction = _FRACTIONS.get(words[index + 2])
        if fraction is not None:
            return value + fraction, index + 3
    if index < len(words) and words[index] in _FRACTIONS and value < 10:
        return value * _FRACTIONS[words[index]], _skip(words, index + 1, ("of", "an", "a"))
    return whole


def _skip(words: Sequence[str], index: int, fillers: tuple[str, ...]) -> int:
    while index < len(words) and words[index] in fillers:
        index += 1
    return index


def _digits(word: str) -> float | None:
    bare = word.replace(",", "")
    return float(bare) if bare.replace(".", "", 1).isdecimal() else None


def _decimals(words: Sequence[str], start: int, whole: float) -> tuple[float, int] | None:
    figures = ""
    index = start
    while index < len(words):
        digits = words[index] if words[index].isdecimal() else None
        value = _ONES.get(words[index])
        if digits is None and (value is None or value > 9):
            break
        figures += digits if digits is not None else str(value)
        index += 1
    return (whole + float(f"0.{figures}"), index) if figures else None


def _cardinal(words: Sequence[str], start: int) -> tuple[float, int] | None:
    if start >= len(words):
        return None
    total = group = 0.0
    index = start
    last = ""
    while index < len(words):
        word = words[index]
        digits = _digits(word)
        if digits is not None and not last:
            group, last = digits, "digits"
        elif word in _ONES and last in ("", "tens", "scale"):
            if last == "tens" and not 0 < _ONES[word] < 10:
                break
            group, last = group + _ONES[word], "ones"
        elif word in _TENS and last in ("", "scale"):
            group, last = group + _TENS[word], "tens"
        elif word in _TENS and last == "ones" and 0 < group < 10:
            group, last = group * 100 + _TENS[word], "tens"
        elif word in _SCALES and last:
            if word == "thousand":
                total, group = total + group * 1000, 0.0
            else:
                group *= 100
            last = "scale"
        elif word == "and" and last == "scale" and _continues(words, index + 1):
            pass
        else:
            break
        index += 1
    return (total + group, index) if last else None


def _continues(words: Sequence[str], index: int) -> bool:
    return index < len(words) and (words[index] in _ONES or words[index] in _TENS)
