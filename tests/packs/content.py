"""What every shipped pack must hold, for the tests of each pack's own content."""

from __future__ import annotations

import re

from spokenfor.packs.load import Pack
from spokenfor.packs.schema import Labelled
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.packs.wording import match_key, words_of


def condition_of(pack: Pack, words: str) -> str:
    """The id of the one condition that carries these words as a label."""
    wanted = match_key(words)
    found = [one.id for one in pack.conditions.values() if wanted in keys(one)]
    assert len(found) == 1, f"'{words}' belongs to {found}"
    return found[0]


def keys(concept: Labelled) -> set[str]:
    """How the labels of a concept are matched."""
    return {match_key(label) for label in concept.labels}


def required(pack: Pack) -> set[str]:
    """Components with at least one line that must be covered."""
    return {item.component for item in pack.items if item.required}


def can_be_stated(pack: Pack, words: str, component: str, aspect: str) -> str:
    """What stands in the way of `words` being stated of `component` under `aspect`; "" where nothing."""
    if component not in {item.component for item in pack.items}:
        return f"{component} is on no line"
    if aspect not in pack.components[component].aspects:
        return f"{component} has no aspect {aspect}"
    if condition_of(pack, words) not in pack.aspects[aspect].conditions:
        return f"{aspect} does not speak of '{words}'"
    return ""


def doubled_meanings(pack: Pack) -> set[str]:
    """Labels that are at once component and condition, component and zone, or condition and zone."""
    compiled = compile_terms(pack)
    kinds = (TermKind.COMPONENT, TermKind.CONDITION, TermKind.ZONE)
    components, conditions, places = (set(compiled[kind]) for kind in kinds)
    return (components & conditions) | (components & places) | (conditions & places)


def shared_in_a_zone(pack: Pack) -> set[tuple[str, str]]:
    """(zone, label) pairs where a label names two components of one zone."""
    shared = set()
    for zone in pack.zones:
        owner: dict[str, str] = {}
        for name in sorted({item.component for item in pack.items if item.zone == zone.id}):
            for key in keys(pack.components[name]):
                if owner.setdefault(key, name) != name:
                    shared.add((zone.id, key))
    return shared


def swallowed_flagged_words(pack: Pack) -> list[str]:
    """Mis-hearings that hold a flagged word, which would vanish in them (promise 2)."""
    flagged = [" ".join(words_of(w)) for c in pack.conditions.values() for w in c.labels]
    pattern = re.compile(rf"\b({'|'.join(map(re.escape, flagged))})\b")
    hidden = [label for c in pack.components.values() for label in c.hiddenLabel]
    return [label for label in hidden if pattern.search(" ".join(words_of(label)))]


def states_at_odds(pack: Pack) -> list[str]:
    """State words that are flagged everywhere anyway, or both right and wrong for one component."""
    flagged = {key for one in pack.conditions.values() for key in keys(one)}
    found = []
    for component in pack.components.values():
        expected = {match_key(word) for word in component.states.expected}
        adverse = {match_key(word) for word in component.states.adverse}
        wrong = (expected | adverse) & flagged | expected & adverse
        found += [f"{component.id}: {word}" for word in sorted(wrong)]
    return found


def limits_out_of_place(pack: Pack) -> list[str]:
    """Limits that are no example, or of an aspect that the component does not state."""
    return [
        f"{component.id}: {limit.of}"
        for component in pack.components.values()
        for limit in component.limits
        if not limit.example or limit.of not in component.aspects
    ]


def lonely_sides(pack: Pack) -> set[str]:
    """Components that stand on the sheet for one of left and right and not for the other."""
    sides: dict[str, set[str]] = {}
    for item in pack.items:
        sides.setdefault(item.component, set()).update(item.positions & {"left", "right"})
    return {name for name, found in sides.items() if len(found) == 1}


def same_component(pack: Pack, one: str, other: str) -> bool:
    """Whether two words name the same components, and any at all."""
    compiled = compile_terms(pack)[TermKind.COMPONENT]
    terms = [compiled.get(match_key(word)) for word in (one, other)]
    names = [set(term.concepts) if term else set() for term in terms]
    return bool(names[0]) and names[0] == names[1]
