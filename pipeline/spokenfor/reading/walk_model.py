"""The model of a walk: zones and sides as states, how one leads to another, and what is said in each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

import numpy as np

from spokenfor.packs.load import Pack
from spokenfor.packs.schema import Axis
from spokenfor.reading.hidden_states import Matrix
from spokenfor.reading.places import Places

# Terms of the series for many moves in one silence; beyond that it hardly matters where it began.
_MOST_MOVES = 12
# Seconds of silence are rounded to this, so that few transitions are worked out.
_SILENCE_STEP = 0.5


@dataclass(frozen=True)
class WalkSettings:
    """What the model assumes; *common practice*, set on the narrations of tests/reading/test_walk*.py.

    Moving. `moves` are expected from one sentence to the next, and `moves_per_second` of silence beyond
    `breath` seconds, up to `longest` seconds; times `unsaid` before a sentence that names nothing, times
    `placed` before one with a place phrase (who has moved says so, or names something there). A move leads
    to the next zone, past one, back one, or anywhere (shares, scaled to 1). `first_zone`: chance (0..1) that
    a recording begins in the first zone; `return_zone`: that the next recording goes on where it ended;
    `new_side`: that the side changes within a zone; `no_side`: that none is spoken of on entering it.

    Said, as log likelihood against a state that it fits: a place phrase of another zone, one only mentioned
    in passing, a component of another zone; a side where the state has another, has none, or has it without
    being a zone of that side; a component's own side against the state's.
    """

    moves: float = 0.06
    moves_per_second: float = 0.02
    breath: float = 2.0
    longest: float = 120.0
    unsaid: float = 0.3
    placed: float = 3.0
    next_zone: float = 0.5
    skip_one: float = 0.15
    back_one: float = 0.1
    elsewhere: float = 0.25
    first_zone: float = 0.3
    new_side: float = 0.15
    no_side: float = 0.8
    return_zone: float = 0.2
    foreign_place: float = -12.0
    passing_place: float = -4.0
    foreign_component: float = -4.0
    other_side: float = -4.0
    sideless: float = -4.0
    side_in_zone: float = -1.0
    items_other_side: float = -1.5


class Says(StrEnum):
    """What a sentence says of where it is spoken."""

    NOTHING = "nothing"
    COMPONENT = "component"
    PLACE = "place"


@dataclass(frozen=True)
class State:
    """Being in a zone, on a side of it; `side` None: no side spoken of. `fixed`: the zone lies on that side."""

    zone: int
    side: str | None
    fixed: bool


class WalkModel:
    """States, transitions and likelihoods for one pack."""

    def __init__(self, pack: Pack, settings: WalkSettings | None = None) -> None:
        self.settings = settings or WalkSettings()
        self.places = Places(pack)
        self.zones = [zone.id for zone in pack.zones]
        self.states = [
            state for index in range(len(self.zones)) for state in self._states_of(index)
        ]
        self.zone_of_state = np.array([state.zone for state in self.states])
        self._fixed = np.array([state.fixed for state in self.states])
        self._jumps = self._powers(self._jump())
        self.component = lru_cache(maxsize=4096)(self._component)
        self.silence = lru_cache(maxsize=512)(self._silence)

    def start(self) -> Matrix:
        """Log probability of each state at the beginning, shape (states,)."""
        settings = self.settings
        zones = np.full(len(self.zones), (1 - settings.first_zone) / max(1, len(self.zones) - 1))
        zones[0] = settings.first_zone if len(self.zones) > 1 else 1.0
        return np.asarray(np.log(zones[self.zone_of_state] * self._entering()))

    def transition(self, silence: float, says: Says = Says.COMPONENT) -> Matrix:
        """Log probability of each state after each, shape (from, to), `silence` seconds having passed between
        two sentences, the second of which `says` where it is spoken."""
        beyond = min(max(0.0, silence - self.settings.breath), self.settings.longest)
        return self.silence(round(beyond / _SILENCE_STEP), says)

    def restart(self) -> Matrix:
        """The same from one recording to the next."""
        again = self.settings.return_zone
        anywhere = np.exp(self.start())
        return np.asarray(
            np.log(again * np.eye(len(self.states)) + (1 - again) * anywhere[None, :])
        )

    def place(self, zones: Sequence[str], passing: bool = False) -> Matrix:
        """Log likelihood of a place phrase for one of `zones`, shape (states,); `passing`: it may only have
        been mentioned."""
        inside = np.isin(self.zone_of_state, [self.zones.index(zone) for zone in zones])
        foreign = self.settings.passing_place if passing else self.settings.foreign_place
        return np.where(inside, 0.0, foreign)

    def side(self, said: frozenset[str]) -> Matrix:
        """Log likelihood of a side said by itself ("the right side"), shape (states,). Positions on other
        axes say nothing."""
        wanted = {name for name in said if self.places.axes[name] == Axis.SIDE}
        if not wanted:
            return np.zeros(len(self.states))
        settings = self.settings
        return np.array(
            [
                settings.sideless
                if state.side is None
                else settings.other_side
                if state.side not in wanted
                else 0.0
                if state.fixed
                else settings.side_in_zone
                for state in self.states
            ]
        )

    def by_zone(self, chances: Matrix) -> Matrix:
        """Probabilities of states (..., states) added up by zone (..., zones)."""
        one_of = np.eye(len(self.zones))[self.zone_of_state]
        return np.asarray(chances @ one_of)

    def _states_of(self, index: int) -> list[State]:
        zone = self.zones[index]
        own = sorted(self._sides(self.places.zone_positions[zone]))
        if own:
            return [State(index, own[0], fixed=True)]
        items = [
            item for items in self.places.items.values() for item in items if item.zone == zone
        ]
        sides = {
            side for item in items for side in self._sides(self.places.canonical(item.positions))
        }
        return [State(index, None, fixed=False)] + [
            State(index, side, fixed=False) for side in sorted(sides)
        ]

    def _sides(self, positions: frozenset[str]) -> set[str]:
        return {name for name in positions if self.places.axes[name] == Axis.SIDE}

    def _entering(self) -> Matrix:
        """Probability of each state given that its zone is entered, shape (states,)."""
        beside = np.bincount(self.zone_of_state)[self.zone_of_state] - 1
        sideless = np.array([state.side is None for state in self.states])
        share = np.where(
            sideless, self.settings.no_side, (1 - self.settings.no_side) / np.maximum(beside, 1)
        )
        return np.asarray(np.where(beside == 0, 1.0, share))

    def _jump(self) -> Matrix:
        """Probability of each state after a move to another zone, shape (from, to)."""
        settings, count = self.settings, len(self.zones)
        if count == 1:
            return np.broadcast_to(self._entering(), (len(self.states),) * 2).copy()
        step = np.arange(count)[None, :] - np.arange(count)[:, None]
        shares = np.full((count, count), settings.elsewhere / count)
        for away, share in (
            (1, settings.next_zone),
            (2, settings.skip_one),
            (-1, settings.back_one),
        ):
            shares[step == away] += share
        np.fill_diagonal(shares, 0.0)
        shares /= shares.sum(axis=1, keepdims=True)
        moved = shares[self.zone_of_state][:, self.zone_of_state]
        return np.asarray(moved * self._entering())

    def _staying(self) -> Matrix:
        """Probability of each state where no move is made: the side may change."""
        same = self.zone_of_state[:, None] == self.zone_of_state[None, :]
        others = same.sum(axis=1, keepdims=True) - 1
        changed = np.where(others > 0, self.settings.new_side / np.maximum(others, 1), 0.0) * same
        kept = 1 - changed.sum(axis=1) + np.diag(changed)
        np.fill_diagonal(changed, kept)
        return np.asarray(changed)

    def _powers(self, jump: Matrix) -> Matrix:
        """Transitions after 0, 1, 2... moves, shape (moves, from, to)."""
        powers = [self._staying()]
        for _ in range(_MOST_MOVES):
            powers.append((powers[-1] if len(powers) > 1 else np.eye(len(jump))) @ jump)
        return np.array(powers)

    def _silence(self, steps: int, says: Says) -> Matrix:
        """Moves come at random in time (a Poisson process), so that a long silence may hold several."""
        settings = self.settings
        rate = settings.moves + settings.moves_per_second * steps * _SILENCE_STEP
        rate *= {Says.NOTHING: settings.unsaid, Says.PLACE: settings.placed}.get(says, 1.0)
        counts = np.arange(len(self._jumps))
        factorials = np.cumprod(np.maximum(counts, 1))
        chances = np.exp(-rate) * rate**counts / factorials
        mixed = np.tensordot(chances / chances.sum(), self._jumps, axes=1)
        return np.asarray(np.log(mixed))

    def _component(self, concepts: tuple[str, ...], said: tuple[str, ...]) -> Matrix:
        """Log likelihood of naming one of the components `concepts` with the positions `said`, shape
        (states,)."""
        wanted = self.places.alternatives(list(said))
        items = [
            item
            for name in concepts
            for item in self.places.items[name]
            if any(self.places.fits(item, one) for one in wanted)
        ]
        if not items:
            return np.zeros(len(self.states))
        scores = np.full(len(self.states), self.settings.foreign_component)
        sides = {item.id: self._sides(self.places.canonical(item.positions)) for item in items}
        share = -np.log(len({item.zone for item in items}))
        named = self._sides(self.places.canonical(said))
        for at, state in enumerate(self.states):
            here = [item for item in items if item.zone == self.zones[state.zone]]
            if not here:
                continue
            across = (
                not state.fixed and state.side is not None and named and state.side not in named
            )
            agrees = any(
                not sides[item.id] or state.side in (None, *sides[item.id]) for item in here
            )
            scores[at] = share + (self.settings.items_other_side if across or not agrees else 0.0)
        return scores
