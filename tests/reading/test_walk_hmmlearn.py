"""The decoding of hidden states held against the reference library hmmlearn, and against its definition."""

from __future__ import annotations

from itertools import pairwise, product
from pathlib import Path

import numpy as np
import pytest
from audio_samples.script import load_script
from hmmlearn.hmm import CategoricalHMM
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.reading.walk_narrations import SCRIPTS, walk_of, walked

from spokenfor.reading.hidden_states import Matrix, forward, viterbi


def reference(start: Matrix, transition: Matrix, seen: Matrix) -> CategoricalHMM:
    """hmmlearn's model of the same: each step is a symbol of its own, scaled alike for all states so that a
    symbol never seen takes what is left of each row."""
    likelihood = np.exp(seen - seen.max())
    emission = (likelihood / (likelihood.sum(axis=0).max() * 1.01)).T
    model = CategoricalHMM(n_components=len(start), algorithm="viterbi")
    model.startprob_, model.transmat_ = np.exp(start), np.exp(transition)
    model.emissionprob_ = np.hstack([emission, 1 - emission.sum(axis=1, keepdims=True)])
    model.n_features = emission.shape[1] + 1
    return model


def likelihood_of(path: list[int], start: Matrix, transition: Matrix, seen: Matrix) -> float:
    steps = sum(transition[a, b] for a, b in pairwise(path))
    return float(start[path[0]] + steps + seen[np.arange(len(path)), path].sum())


@pytest.mark.parametrize("path", SCRIPTS, ids=[path.stem for path in SCRIPTS])
def test_hmmlearn_walks_the_same_way(path: Path) -> None:
    """Reference library: hmmlearn's CategoricalHMM on our own model, at one silence between sentences."""
    script = load_script(path)
    lines = [line for one in script.utterances for line in one.sentences]
    walk, doc = walk_of(script.pack), walked("\n".join(lines), script.pack)
    seen, _ = walk.evidence(doc, list(doc.sents))
    start, transition = walk.model.start(), walk.model.transition(0.6)
    model = reference(start, transition, seen)
    steps = np.arange(len(seen)).reshape(-1, 1)
    theirs = model.predict(steps)
    ours = viterbi(start, transition, seen)
    zone = walk.model.zone_of_state
    assert zone[ours].tolist() == zone[theirs].tolist()
    assert likelihood_of(ours, start, transition, seen) == pytest.approx(
        likelihood_of(theirs.tolist(), start, transition, seen)
    )
    # What is likely after the last step, given all up to it, is the forward pass's last row.
    assert np.allclose(forward(start, transition, seen)[-1], model.predict_proba(steps)[-1])


@settings(deadline=None, max_examples=60, derandomize=True)
@given(st.integers(0, 10_000), st.integers(1, 6), st.integers(1, 25))
def test_hmmlearn_decodes_the_same_model(seed: int, states: int, steps: int) -> None:
    """Reference library: hmmlearn, on models made at random."""
    chance = np.random.default_rng(seed)
    start = np.log(chance.dirichlet(np.ones(states)))
    transition = np.log(chance.dirichlet(np.ones(states), size=states))
    seen = np.log(chance.uniform(0.01, 1, size=(steps, states)))
    model = reference(start, transition, seen)
    symbols = np.arange(steps).reshape(-1, 1)
    assert viterbi(start, transition, seen) == model.predict(symbols).tolist()
    assert np.allclose(forward(start, transition, seen)[-1], model.predict_proba(symbols)[-1])


def test_a_transition_for_each_step_is_followed() -> None:
    """By definition: the path of highest probability, each step with its own transition."""
    chance = np.random.default_rng(2)
    for _ in range(10):
        start = np.log(chance.dirichlet(np.ones(3)))
        moves = [np.log(chance.dirichlet(np.ones(3), size=3)) for _ in range(4)]
        seen = np.log(chance.uniform(0.01, 1, size=(5, 3)))

        def weight(path: tuple[int, ...], start=start, moves=moves, seen=seen) -> float:  # type: ignore[no-untyped-def]
            steps = sum(move[a, b] for move, a, b in zip(moves, path, path[1:], strict=False))
            return float(start[path[0]] + steps + seen[np.arange(5), list(path)].sum())

        assert viterbi(start, moves, seen) == list(max(product(range(3), repeat=5), key=weight))
