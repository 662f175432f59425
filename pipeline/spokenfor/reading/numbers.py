"""What number a run of spoken words means: whole, decimal, broken or mixed."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

from spokenfor.reading.cardinals import cardinal_at, digits_of, figure, ordinal_at

_PARTS = {"half": 0.5, "halves": 0.5, "quarter": 0.25, "quarters": 0.25}
_ARTICLES = ("a", "an")
_MANY = {"hundred": 100, "thousand": 1_000, "million": 1_000_000, "dozen": 12}
# Denominators that are written with a stroke; others are two numbers ("28/30").
_STROKE = (2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 32, 64, 100, 1000)
_LARGEST_NUMERATOR = 63


def number_at(words: Sequence[str], start: int) -> tuple[float, int] | None:
    """The number that begins at words[start] and the index after it, or None.

    Words are lower case without hyphens. Known are figures ("120", "0.5", "1,200", "3 / 8", "½"), cardinals
    ("one hundred and twenty", "one twenty"), decimals ("point five", "two point oh five"), fractions
    ("half a", "three eighths of an") and mixed numbers ("two and a half"), "minus", "a dozen", "a couple
    of". An ordinal ("twenty first") is no number. Forms of spoken numbers: *common practice*.
    """
    word = _word(words, start)
    if word == "minus":
        positive = number_at(words, start + 1)
        return (-positive[0], positive[1]) if positive is not None else None
    fraction = _fraction(words, start)
    if fraction is not None:
        return _many(words, fraction[0], _of_a(words, fraction[1]))
    if word == "point":
        return _decimals(words, start + 1, 0)
    if word in ("a", "couple"):
        return _loose(words, start)
    ordinal = ordinal_at(words, start)
    if ordinal is not None and not words[ordinal[1] - 1].endswith("ths"):
        return None
    whole = cardinal_at(words, start)
    if whole is None:
        return None
    value, index = whole
    if _word(words, index) in ("point", "decimal") and value == int(value):
        return _decimals(words, index + 1, int(value)) or whole
    if _word(words, index) == "and":
        part = _fraction(words, index + 1)
        if part is not None:
            return _many(words, value + part[0], part[1])
    part = _figures_fraction(words, index) if digits_of(word) is not None else None
    return _many(words, value + part[0], part[1]) if part is not None else _dozen(words, *whole)


def fraction_at(words: Sequence[str], start: int) -> tuple[float, int] | None:
    """A fraction below one at words[start] ("a half", "three eighths", "1 / 2") and the index after it."""
    return _fraction(words, start)


def _word(words: Sequence[str], index: int) -> str:
    return words[index] if index < len(words) else ""


def _of_a(words: Sequence[str], index: int) -> int:
    """The index after "of an", "of a", "an" or "a"."""
    if _word(words, index) == "of" and _word(words, index + 1) in (*_ARTICLES, "one"):
        return index + 2
    return index + (_word(words, index) in _ARTICLES)


def _loose(words: Sequence[str], start: int) -> tuple[float, int] | None:
    """ "A hundred", "a dozen", "a couple of"."""
    index = start + (words[start] == "a")
    if _word(words, index) == "couple":
        return 2.0, index + 1 + (_word(words, index + 1) == "of")
    if _word(words, index) == "dozen":
        return 12.0, index + 1
    return cardinal_at(words, start)


def _dozen(words: Sequence[str], value: float, index: int) -> tuple[float, int]:
    return (value * 12, index + 1) if _word(words, index) == "dozen" else (value, index)


def _many(words: Sequence[str], value: float, index: int) -> tuple[float, int]:
    """ "Two and a half thousand", "half a dozen"."""
    times = _MANY.get(_word(words, index))
    return (value * times, index + 1) if times is not None else (value, index)


def _fraction(words: Sequence[str], start: int) -> tuple[float, int] | None:
    return _figures_fraction(words, start) or _spoken_fraction(words, start)


def _figures_fraction(words: Sequence[str], start: int) -> tuple[float, int] | None:
    """ "3 / 8" or "½"."""
    word = _word(words, start)
    if len(word) == 1 and not word.isascii() and word.isnumeric():
        return unicodedata.numeric(word), start + 1
    if not word.isdecimal() or _word(words, start + 1) != "/":
        return None
    below = _word(words, start + 2)
    if not below.isdecimal() or _word(words, start + 3) == "/":
        return None
    top, bottom = int(word), int(below)
    return (top / bottom, start + 3) if 0 < top < bottom and bottom in _STROKE else None


def _spoken_fraction(words: Sequence[str], start: int) -> tuple[float, int] | None:
    word = _word(words, start)
    if word in ("half", "quarter"):
        return _PARTS[word], start + 1
    if word in _ARTICLES:
        top, index = 1.0, start + 1
    else:
        read = _numerator(words, start)
        if read is None:
            # "third of a litre"
            whole = ordinal_at(words, start)
            bare = whole is not None and list(words[whole[1] : whole[1] + 2]) in (
                ["of", "a"],
                ["of", "an"],
            )
            top, index = (1.0, start) if bare else (0.0, start)
        else:
            top, index = read
    if not 0 < top <= _LARGEST_NUMERATOR:
        return None
    if _word(words, index) in _PARTS:
        return top * _PARTS[words[index]], index + 1
    bottom = ordinal_at(words, index)
    if bottom is None or not _divides(words, bottom, many=top != 1):
        return None
    return top / bottom[0], bottom[1]


def _numerator(words: Sequence[str], start: int) -> tuple[float, int] | None:
    """One short number, so that "three thirty seconds" is three of them."""
    word = _word(words, start)
    if word.isdecimal():
        return float(word), start + 1
    value = figure(word)
    if value is not None:
        return float(value), start + 1
    return cardinal_at(words[: start + 1], start)


def _divides(words: Sequence[str], ordinal: tuple[int, int], *, many: bool) -> bool:
    """Whether an ordinal is a denominator: in the plural where there are many; "one hundredth" may be a
    place in a row, and "thousandths of an inch" are thou, a unit."""
    value, after = ordinal
    last = words[after - 1]
    if value < 3 or last in ("st", "nd", "rd", "th") or (many and not last.endswith("s")):
        return False
    of, _, unit = [*words[after : after + 3], "", "", ""][:3]
    if value < 100:
        return True
    return (of == "of" or (many and value == 100)) and (value == 100 or not unit.startswith("inch"))


def _decimals(words: Sequence[str], start: int, whole: int) -> tuple[float, int] | None:
    """Figures after the point, one by one, or as one number ("point seventy five")."""
    figures, index = "", start
    while (said := _word(words, index)).isdecimal() or figure(said) is not None:
        figures += said if said.isdecimal() else str(figure(said))
        index += 1
    if not figures:
        read = cardinal_at(words, start)
        if read is None or not 10 <= read[0] <= 99:
            return None
        figures, index = str(int(read[0])), read[1]
    return float(f"{whole}.{figures}"), index
