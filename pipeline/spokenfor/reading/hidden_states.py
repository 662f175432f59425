"""Hidden states decoded: the likeliest path (Viterbi), and what is likely so far (forward pass).

Shapes: `start` (states,), `seen` (steps, states), a transition (states, states; from, to). `start`, `seen` and
transitions are log probabilities; `seen` counts up to a constant of each step. Source: Rabiner, A tutorial on
hidden Markov models (1989), sections III.A and III.B.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Matrix = npt.NDArray[np.float64]


def viterbi(start: Matrix, transitions: Matrix | Sequence[Matrix], seen: Matrix) -> list[int]:
    """The likeliest state at each step. `transitions`: one for all steps, or one for each step after the
    first. Ties go to the earlier state. No steps give no states."""
    if len(seen) == 0:
        return []
    best = start + seen[0]
    came_from = []
    for transition, observation in zip(_steps(transitions, seen), seen[1:], strict=True):
        through = best[:, None] + transition
        came_from.append(through.argmax(axis=0))
        best = through.max(axis=0) + observation
    state = int(best.argmax())
    path = [state]
    for step in reversed(came_from):
        state = int(step[state])
        path.append(state)
    return path[::-1]


def forward(start: Matrix, transitions: Matrix | Sequence[Matrix], seen: Matrix) -> Matrix:
    """Probability (0..1) of each state after each step, given the steps up to it; shape of `seen`."""
    chances = np.empty_like(seen)
    steps, now = _steps(transitions, seen), start
    for step, observation in enumerate(seen):
        if step:
            now = advance(chances[step - 1], steps[step - 1])
        chances[step] = weighed(now, observation)
    return chances


def advance(chances: Matrix, transition: Matrix) -> Matrix:
    """Log probability of each state one step on from `chances` (0..1), before anything is seen."""
    with np.errstate(divide="ignore"):
        return np.asarray(np.log(chances @ np.exp(transition)))


def weighed(prior: Matrix, observation: Matrix) -> Matrix:
    """Probability (0..1) of each state given a prior and what was seen, both in logs."""
    weight = prior + observation
    chances = np.exp(weight - weight.max())
    return np.asarray(chances / chances.sum())


def _steps(transitions: Matrix | Sequence[Matrix], seen: Matrix) -> Sequence[Matrix]:
    if isinstance(transitions, np.ndarray) and transitions.ndim == 2:
        return [transitions] * (len(seen) - 1)
    return list(transitions)
