"""What the primed hearing bears out: a term under any name, in words that overlap; what gainsays it; loops."""

from __future__ import annotations

import pytest

from spokenfor.packs.load import load_pack
from spokenfor.packs.terms import Term, TermKind, compile_terms
from spokenfor.packs.wording import match_key
from spokenfor.reading.sound_rule import Possible, Surroundings, sound_rule
from spokenfor.reading.told import borne_out

TERMS = compile_terms(load_pack("helicopter-light-twin"))


def _term(label: str) -> Term:
    return TERMS[TermKind.COMPONENT][match_key(label)]


def _possible(label: str, tokens: tuple[int, int], primed: float | None) -> Possible:
    return Possible(
        tokens=tokens,
        term=_term(label),
        heard=("few", "tray")[: tokens[1] - tokens[0]],
        sounds=0.7,
        spelling=0.5,
        sound_score=-1.0,
        surest=0.4,
        rarest=1000,
        turns=False,
        primed=primed,
    )


def test_another_name_of_the_same_thing_bears_a_repair_out():
    names = ("chip detector", "chip plug")
    assert set(_term(names[0]).concepts) & set(_term(names[1]).concepts)
    found = borne_out([_possible(names[0], (3, 5), 0.9), _possible(names[1], (4, 5), 0.0)])
    assert [one.primed for one in found] == [0.9, 0.9]
    assert [one.gainsaid for one in found] == [0.0, 0.0]


def test_another_thing_in_the_same_words_gainsays_it():
    found = borne_out([_possible("fuel drain", (3, 5), 0.9), _possible("pitot tube", (4, 5), 0.0)])
    assert [(one.primed, one.gainsaid) for one in found] == [(0.9, 0.0), (0.0, 0.9)]


def test_words_that_do_not_overlap_have_nothing_to_do_with_each_other():
    found = borne_out([_possible("fuel drain", (3, 5), 0.9), _possible("pitot tube", (5, 6), 0.0)])
    assert found[1].gainsaid == 0.0


def test_where_nobody_was_told_nothing_is_borne_out():
    [one] = borne_out([_possible("fuel drain", (3, 5), None)])
    assert one.primed is None


def test_what_comes_twice_for_the_same_words_counts_once():
    assert len(borne_out([_possible("fuel drain", (3, 5), 0.9)] * 3)) == 1


@pytest.mark.parametrize("score", [-8.0, -2.0, 2.0])
def test_the_more_it_is_borne_out_the_likelier_and_never_less(score):
    """The rule is grown so that the told hearer's word never speaks against a repair, nor another's for it."""
    around = Surroundings(0, True, True, True, False, False, -0.7)
    rule = sound_rule()
    odds = []
    for primed, gainsaid in ((0.0, 0.9), (0.0, 0.0), (0.4, 0.0), (0.95, 0.0)):
        one = _possible("fuel drain", (3, 5), primed)
        one = type(one)(**{**one.__dict__, "sound_score": score, "gainsaid": gainsaid})
        odds.append(rule.log_odds(one, around))
    assert odds == sorted(odds) and odds[0] < odds[-1]
