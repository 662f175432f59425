"""Reading held against things outside the project: reference libraries, published forms."""

from __future__ import annotations

import os
from collections.abc import Callable
from itertools import product
from pathlib import Path

import numpy as np
import pint
import pytest
import spacy
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words
from tests.bench.plain_readers import ask_context
from tests.spoken import PACK, spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.models import Result, Verdict
from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import Limit
from spokenfor.packs.wording import split_tokens
from spokenfor.reading.numbers import number_at
from spokenfor.reading.pipeline import build, read
from spokenfor.reading.quantities import against_limits
from spokenfor.reading.walk import viterbi

# Plain negations, on which a NegEx implementation and ours must agree (NegEx: Chapman et al. 2001).
PLAIN_NEGATIONS = [
    "There is no crack in the nose wheel.",
    "No corrosion on the nose wheel.",
    "No evidence of corrosion on the nose wheel.",
    "No sign of a leak at the shimmy damper.",
    "No signs of corrosion on the nose wheel.",
    "The nose wheel is without corrosion.",
    "The nose wheel is not cracked.",
    "The shimmy damper is not leaking.",
    "The nose wheel is free of corrosion.",
    "No cracks seen on the nose wheel.",
    "The nose wheel isn't cracked.",
    "No dents on the nose cone.",
    "There are no dents on the nose cone.",
    "There is no chafing on the harness.",
    "No cracks or dents on the nose cone.",
    "No corrosion or cracks on the nose cone.",
    "I see no crack on the nose wheel.",
    "The nose wheel has no corrosion.",
    "The nose wheel does not have corrosion.",
    "Never any corrosion on the nose wheel.",
]
PLAIN_AFFIRMATIONS = [
    "There is a crack in the nose wheel.",
    "The nose wheel has corrosion.",
    "Corrosion on the nose wheel.",
    "The shimmy damper is leaking.",
    "The nose cone has a dent.",
]
CONDITION_WORDS = [
    "crack",
    "cracks",
    "cracked",
    "corrosion",
    "leak",
    "leaking",
    "dent",
    "dents",
    "chafing",
]


@pytest.fixture(scope="module")
def negspacy() -> spacy.Language:
    """The reference library negspacy over spaCy, told our condition words as its entities."""
    from negspacy.negation import Negex  # noqa: F401 (registers the component)

    nlp = spacy.blank("en")
    nlp.add_pipe("sentencizer")
    ruler = nlp.add_pipe("entity_ruler")
    ruler.add_patterns(  # type: ignore[attr-defined]
        [{"label": "CONDITION", "pattern": [{"LOWER": word}]} for word in CONDITION_WORDS]
    )
    nlp.add_pipe("negex", config={"ent_types": ["CONDITION"]})
    return nlp


@pytest.mark.parametrize("sentence", PLAIN_NEGATIONS + PLAIN_AFFIRMATIONS)
def test_negspacy_agrees_on_plain_negation(
    negspacy: spacy.Language, heard: Callable[[str], Result], sentence: str
) -> None:
    theirs = [ent._.negex for ent in negspacy(sentence).ents]
    ours = [word.reading.value == "absent" for word in heard(sentence).flagged_words]
    assert theirs
    assert ours == theirs == [sentence in PLAIN_NEGATIONS] * len(theirs)


def test_context_agrees_on_plain_negation(heard: Callable[[str], Result]) -> None:
    """medspaCy's ConText, run by the interpreter that SPOKENFOR_CONTEXT_PYTHON names: it cannot be installed
    beside our spaCy (tests/bench/context_elsewhere.py says why). "Never any" is none of its phrases."""
    python = os.environ.get("SPOKENFOR_CONTEXT_PYTHON")
    if not python:
        pytest.skip("no interpreter with medspaCy: set SPOKENFOR_CONTEXT_PYTHON to one")
    sentences = [one for one in PLAIN_NEGATIONS + PLAIN_AFFIRMATIONS if "Never any" not in one]
    told = ask_context(CONDITION_WORDS, sentences, Path(python))
    for sentence, theirs in zip(sentences, told, strict=True):
        ours = [word.reading.value != "absent" for word in heard(sentence).flagged_words]
        assert ours == [present for _, present in theirs], sentence


def test_every_whole_number_to_9999_survives_the_round_trip_with_num2words() -> None:
    """Reference library: num2words."""
    wrong = []
    for number in range(10_000):
        words = [token for token in split_tokens(num2words(number).lower()) if token.isalpha()]
        if number_at(words, 0) != (number, len(words)):
            wrong.append(number)
    assert wrong == []


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("two point five", 2.5),
        ("point oh five", 0.05),
        ("half a", 0.5),
        ("two and a half", 2.5),
        ("three quarters of an", 0.75),
        ("one twenty", 120),
        ("1,200", 1200),
        ("0.5", 0.5),
    ],
)
def test_numbers_as_engineers_say_them(said: str, value: float) -> None:
    """Forms of spoken numbers: *common practice*."""
    number = number_at(said.split(), 0)
    assert number is not None
    assert number[0] == pytest.approx(value)


@pytest.mark.parametrize(
    ("said", "unit", "reference"),
    [
        ("4.8 bar", "psi", 69.62),  # 1 bar = 14.5038 psi (NIST SP 811, from memory)
        ("2 inches", "millimeter", 50.8),  # 1 in = 25.4 mm exactly (NIST SP 811, from memory)
        ("5 thou", "millimeter", 0.127),
    ],
)
def test_units_convert_as_published(said: str, unit: str, reference: float) -> None:
    doc_words = spoken(f"Nose tyre {said}.")
    reading = read(doc_words, PACK)
    quantity = next(one for statement in reading.statements for one in statement.quantities)
    converted = pint.UnitRegistry().Quantity(quantity.value, quantity.unit).to(unit)
    assert converted.magnitude == pytest.approx(reference, rel=1e-3)


@pytest.mark.parametrize(
    ("value", "within"), [(64.9, False), (65, True), (75, True), (75.1, False)]
)
def test_a_bound_itself_is_within(value: float, within: bool) -> None:
    reading = read(spoken(f"Nose tyre pressure {value:g} psi."), PACK)
    quantities = [one for statement in reading.statements for one in statement.quantities]
    assert [one.within for one in quantities] == [within]


def test_a_limit_of_another_dimension_does_not_apply() -> None:
    component = load_pack(PACK).components["nose-tyre"]
    component = component.model_copy(
        update={"limits": [Limit(of="pressure", unit="psi", maximum=1)]}
    )
    reading = read(spoken("Nose tyre 3 millimetres."), PACK)
    quantity = next(one for statement in reading.statements for one in statement.quantities)
    bare = quantity.model_copy(update={"within": None, "limit": None})
    assert against_limits(bare, component).within is None


def test_viterbi_finds_the_path_that_trying_every_path_finds() -> None:
    """By definition (Rabiner 1989): the path of highest probability."""
    chance = np.random.default_rng(1)
    for _ in range(20):
        states, steps = 4, 5
        start = np.log(chance.dirichlet(np.ones(states)))
        moves = np.log(chance.dirichlet(np.ones(states), size=states))
        seen = np.log(chance.dirichlet(np.ones(states), size=steps))

        def weight(path: tuple[int, ...], start=start, moves=moves, seen=seen) -> float:  # type: ignore[no-untyped-def]
            total = start[path[0]] + seen[0, path[0]]
            for step in range(1, len(path)):
                total += moves[path[step - 1], path[step]] + seen[step, path[step]]
            return float(total)

        best = max(product(range(states), repeat=steps), key=weight)
        assert viterbi(start, moves, seen) == list(best)


NLP = build(PACK)
FLAGGED = sorted(
    label
    for condition in load_pack(PACK).conditions.values()
    for label in [condition.prefLabel, *condition.altLabel]
    if " " not in label and "-" not in label
)


@settings(deadline=None, max_examples=60, derandomize=True)
@given(st.sampled_from(FLAGGED))
def test_no_before_a_lone_condition_never_yields_a_defect(word: str) -> None:
    reading = read(spoken(f"Nose wheel. No {word}."), PACK, NLP)
    assert [one for one in reading.statements if one.verdict is Verdict.DEFECT] == []
    assert [flag.reading.value for flag in reading.flagged_words] == ["absent"]


@settings(deadline=None, max_examples=60, derandomize=True)
@given(
    st.sampled_from(FLAGGED),
    st.sampled_from(["Checking for", "Looking for any", "Any", "If it is"]),
)
def test_purpose_and_supposition_never_yield_a_verdict(word: str, opening: str) -> None:
    transcript = spoken(f"Nose wheel. {opening} {word}.")
    result = assemble(transcript, read(transcript, PACK, NLP), load_pack(PACK))
    assert result.findings == []
    assert {item.status.value for item in result.items if item.statements} <= {
        "named",
        "looked_for",
    }


@settings(deadline=None, max_examples=40, derandomize=True)
@given(st.text(max_size=80))
def test_any_text_can_be_read(text: str) -> None:
    read(spoken(text), PACK, NLP)


@settings(deadline=None, max_examples=20, derandomize=True)
@given(
    st.permutations(["Nose cone is good.", "Landing light is cracked.", "Battery, no corrosion."])
)
def test_the_order_of_unrelated_sentences_does_not_change_statuses(sentences: list[str]) -> None:
    transcript = spoken("\n".join(sentences))
    result = assemble(transcript, read(transcript, PACK, NLP), load_pack(PACK))
    assert {item.id: item.status.value for item in result.items if item.statements} == {
        "nose.nose-cone": "satisfactory",
        "nose.landing-light": "defect",
        "nose.battery": "satisfactory",
    }
