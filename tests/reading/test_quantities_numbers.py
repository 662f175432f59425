"""Spoken numbers held against num2words, and forms it does not make."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from spokenfor.packs.wording import split_tokens
from spokenfor.reading.cardinals import ordinal_at
from spokenfor.reading.numbers import number_at


def words(said: str) -> list[str]:
    """Words and commas of a text, without hyphens."""
    return [token for token in split_tokens(said.lower()) if token != "-"]


def test_every_whole_number_to_9999() -> None:
    """Reference library: num2words."""
    said = [words(num2words(number)) for number in range(10_000)]
    wrong = [n for n, one in enumerate(said) if number_at(one, 0) != (n, len(one))]
    assert wrong == []


def test_every_ordinal_to_9999_is_read_and_is_no_number() -> None:
    """Reference library: num2words."""
    said = {n: words(num2words(n, to="ordinal")) for n in range(1, 10_000)}
    assert [n for n, one in said.items() if ordinal_at(one, 0) != (n, len(one))] == []
    assert [n for n, one in said.items() if number_at(one, 0) is not None] == []


@pytest.mark.parametrize("places", [1, 2, 3])
def test_decimals(places: int) -> None:
    """Reference library: num2words ("two point zero five")."""
    values = [round(number / 10**places, places) for number in range(0, 30_000, 7)]
    said = [words(num2words(value)) for value in values]
    wrong = [v for v, one in zip(values, said, strict=True) if number_at(one, 0) != (v, len(one))]
    assert wrong == []


@settings(deadline=None, max_examples=200, derandomize=True)
@given(st.integers(10_000, 999_999_999))
def test_larger_numbers(number: int) -> None:
    said = words(num2words(number))
    assert number_at(said, 0) == (number, len(said))


@settings(deadline=None, max_examples=200, derandomize=True)
@given(st.integers(1, 63), st.sampled_from([3, 4, 5, 8, 10, 16, 32, 64]))
def test_fractions(top: int, bottom: int) -> None:
    """A numerator of one word and an ordinal, in the plural where there are many."""
    said = words(f"{num2words(top)} {num2words(bottom, to='ordinal')}" + "s" * (top > 1))
    if len(words(num2words(top))) == 1:
        read = number_at(said, 0)
        assert read is not None
        assert (read[0], read[1]) == (pytest.approx(top / bottom), len(said))


@settings(deadline=None, max_examples=200, derandomize=True)
@given(st.integers(1, 99), st.integers(10, 99))
def test_pairs(first: int, second: int) -> None:
    """ "Nine eighty", "twenty eight fifty": hundreds and what is below them. *Common practice*."""
    said = words(f"{num2words(first)} {num2words(second)}")
    assert number_at(said, 0) == (first * 100 + second, len(said))


@settings(deadline=None, max_examples=200, derandomize=True)
@given(st.lists(st.sampled_from("one two a half and point third hundred of an to , 3 / ½".split())))
def test_no_run_of_words_is_read_beyond_its_end(run: list[str]) -> None:
    for start in range(len(run)):
        read = number_at(run, start)
        assert read is None or start < read[1] <= len(run)


@pytest.mark.parametrize(
    ("said", "value", "after"),
    [
        ("oh point oh five", 0.05, 4),
        ("one oh five", 105, 3),
        ("nine zero", 90, 2),
        ("one five zero", 150, 3),
        ("two three", 2, 1),
        ("half a dozen", 6, 3),
        ("a couple of", 2, 3),
        ("third of a", 1 / 3, 3),
        ("five thousandths of a", 0.005, 4),
        ("five thousandths of an inch", 5, 1),
        ("28 / 30", 28, 1),
        ("3 / 8", 0.375, 3),
        ("2 hundred and 50", 250, 4),
        ("hundred and ten", 110, 3),
        ("thousand and fifty", 1050, 3),
    ],
)
def test_forms_of_the_trade(said: str, value: float, after: int) -> None:
    """*Common practice*."""
    read = number_at(said.split(), 0)
    assert read is not None
    assert (read[0], read[1]) == (pytest.approx(value), after)


@pytest.mark.parametrize("said", ["third", "twenty first", "21 st", "the", "hundred", "an inch"])
def test_what_is_no_number(said: str) -> None:
    assert number_at(said.split(), 0) is None
