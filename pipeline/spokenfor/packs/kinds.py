"""Kinds of component: words that state a result of every lamp, of every door, of all that is bolted down.

A component names its kinds and takes their words; what it says itself comes first, and a word that it calls
adverse is not taken as expected from a kind, nor the other way round.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from pydantic import Field

from spokenfor.packs.schema import Component, Identifier, Label, PackModel, States


class Kind(PackModel):
    """Words that state a result of every component of a kind. `definition` says which components those are,
    `source` where the words come from."""

    id: Identifier
    definition: Label
    states: States
    source: Label = Field(default="common practice")


def with_kinds(component: Component, kinds: Mapping[str, Kind]) -> Component:
    """The component with the words of its kinds behind its own, each once; an unknown kind gives none."""
    of = _states_of(component, kinds)
    if not of:
        return component
    own = component.states
    states = States(
        expected=_joined(own.expected, (one.expected for one in of), own.adverse),
        adverse=_joined(own.adverse, (one.adverse for one in of), own.expected),
    )
    return component.model_copy(update={"states": states})


def own_states(component: Component, kinds: Mapping[str, Kind]) -> States:
    """What a component says that none of its kinds does."""
    of = _states_of(component, kinds)
    right = {word for one in of for word in one.expected}
    wrong = {word for one in of for word in one.adverse}
    return States(
        expected=[word for word in component.states.expected if word not in right],
        adverse=[word for word in component.states.adverse if word not in wrong],
    )


def _states_of(component: Component, kinds: Mapping[str, Kind]) -> list[States]:
    return [kinds[name].states for name in component.kinds if name in kinds]


def _joined(own: list[str], more: Iterable[list[str]], contrary: list[str]) -> list[str]:
    """Own words, then those of the kinds that the component does not itself say the contrary of."""
    taken = dict.fromkeys(own)
    for words in more:
        taken |= dict.fromkeys(word for word in words if word not in contrary)
    return list(taken)
