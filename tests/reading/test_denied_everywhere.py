"""Whatever a pack expects of a component: where it is denied, the line is never ticked (every expected state of
every pack, of one component of each kind, one half in each form)."""

from __future__ import annotations

import pytest
from tests.reading.test_structure import pipeline
from tests.spoken import spoken

from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import read

PACKS = ("helicopter-light-twin", "aeroplane-piston-single", "goods-vehicle")
# Expected states that are no adjectives, so that "isn't" cannot stand before them.
NO_ADJECTIVES = frozenset(["good tread", "plenty of tread", "go out", "lean", "a pair"])


@pytest.mark.parametrize(("form", "half"), [("isn't", 0), ("won't stay", 1)])
@pytest.mark.parametrize("name", PACKS)
def test_a_denied_state_ticks_nothing(name: str, form: str, half: int) -> None:
    pack = load_pack(name)
    zones = {zone.id: zone.prefLabel for zone in pack.zones}
    walked = {item.component: zones[item.zone] for item in pack.items}
    # One component of those that have the same kinds speaks for all of a state that they share.
    said = {
        (tuple(component.kinds), state): (
            component.id,
            f"Now the {walked[component.id]}.\nThe {component.prefLabel} {form} {state}.",
        )
        for component in pack.components.values()
        if component.id in walked
        for state in component.states.expected
        if state not in NO_ADJECTIVES and not state.startswith("no ")
    }
    assert len(said) > 200
    ticked = [
        text
        for component, text in list(said.values())[half::2]
        if any(
            one.component == component and one.verdict.value == "satisfactory"
            for one in read(spoken(text), name, pipeline(name)).statements
        )
    ]
    assert ticked == []
