"""The common stock of inspectors' words (stock/*.txt, *common practice*): what anybody says of anything is read.
Every third of the words, each in one frame; `python -m tests.bench.stock` says all of them in every frame."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice

import pytest
from tests.reading.stock_phrases import THINGS, Stock, general, namings, of_kinds, sentences
from tests.reading.test_structure import said

# Conditions of parts as the FAA's Service Difficulty Reports word them (the list of codes is from memory).
PART_CONDITIONS = """abraded bent binding blistered broken brinelled bulged burned burst chafed chipped clogged
collapsed contaminated corroded cracked cross-threaded crushed cut damaged debonded deformed delaminated dented
deteriorated disconnected distorted elongated eroded failed fatigued frayed fretted galled gouged grooved hardened
inoperative intermittent jammed kinked leaking loose melted misaligned missing nicked noisy overheated peeled pitted
punctured restricted rough ruptured rusted scored scratched seized severed sheared shorted slipping spalled split
sticking stiff stretched stripped stuck swollen torn twisted unserviceable vibrating warped worn wrinkled""".split()


@pytest.mark.parametrize("stock", [general, of_kinds])
def test_the_common_stock_is_read(stock: Callable[[bool], Iterator[Stock]]) -> None:
    wrong = [
        f"{one.sentence} {one.verdict}: {verdicts}"
        for one in islice(stock(False), 0, None, 3)
        if not one.known_wrong and not one.is_right(verdicts := one.read())
    ]
    assert not wrong


@pytest.mark.parametrize("stock", [general, of_kinds])
def test_few_words_of_the_stock_are_known_to_be_wrong_and_no_fault_is_ticked(
    stock: Callable[[bool], Iterator[Stock]],
) -> None:
    every = list(stock(False))
    known = [one for one in every if one.known_wrong]
    assert len(known) < 0.05 * len(every)
    ticked = [
        one.sentence for one in known if one.verdict == "defect" and "satisfactory" in one.read()
    ]
    assert not ticked


def test_sentences_that_anybody_makes_are_read() -> None:
    every = list(sentences(False))
    wrong = {one.sentence: got for one in every if not one.known_wrong and (got := one.wrong())}
    assert not wrong
    assert sum(one.known_wrong for one in every) < 0.05 * len(every)


def test_naming_a_thing_ticks_nothing_and_finds_nothing() -> None:
    every = list(namings(1))
    assert not {
        one.sentence: got for one in every if not one.known_wrong and (got := one.results())
    }
    assert sum(one.known_wrong for one in every) < 0.05 * len(every)


@pytest.mark.parametrize("condition", PART_CONDITIONS)
def test_a_published_condition_of_a_part_is_a_defect(condition: str) -> None:
    pack, zone, component, name = THINGS[0]
    assert said(pack, zone, f"The {name} is {condition}.") == {component: "defect"}
