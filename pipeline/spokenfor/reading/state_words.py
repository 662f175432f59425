"""How the words for a component's states stand to other words that say how it is."""

from __future__ import annotations

from spacy.tokens import Span

from spokenfor.packs.schema import Component, CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.targets import Target


def is_state_of(target: Target, component: Component) -> bool:
    if target.span.label_ != TermKind.STATE:
        return False
    owners = {concept.partition(":")[0] for concept in target.span._.state.concepts}
    return component.id in owners


def lies_in_condition(state: Target, targets: list[Target]) -> bool:
    """Whether a flagged or bad word reaches over a state word and says more ("not closed and locked", "*nearly*
    dry"): it decides."""
    own = state.span
    return any(
        other.is_bad_word
        and other.span.start < own.end
        and own.start < other.span.end
        and not (own.start <= other.span.start and other.span.end <= own.end)
        for other in targets
    )


def yields_to(span: Span, states: list[Target], target: Target | None) -> bool:
    """Whether a general word lies in a state word of the component, which then decides alone."""
    return any(
        state is not target and state.span.start < span.end and span.start < state.span.end
        for state in states
    )


def lies_in(cue: Span, states: list[Target]) -> bool:
    """Whether a settling cue says no more than a state word of the component ("is *sealed*")."""
    if cue._.cue.category is CueCategory.PUT_RIGHT:
        return False
    if cue._.cue.category is CueCategory.NOT_FITTED:
        return yields_to(cue, states, None)
    if cue._.cue.category is CueCategory.NOT_INSPECTED:
        return any(state.span.start < cue.end <= state.span.end for state in states)
    return any(state.span.start <= cue.start and cue.end <= state.span.end for state in states)
