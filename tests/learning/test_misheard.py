"""What was heard, what was really said, and the hidden label that follows."""

from __future__ import annotations

import pytest

from spokenfor.learning.misheard import Misheard, misheard
from spokenfor.packs.load import load_pack
from spokenfor.packs.terms import TermKind, compile_terms

COMPONENTS = compile_terms(load_pack("helicopter-light-twin"))[TermKind.COMPONENT]


@pytest.mark.parametrize(
    ("heard", "corrected", "component", "label", "run"),
    [
        ("Nose gone is secure.", "Nose cone is secure.", "nose-cone", "nose cone", "nose gone"),
        ("And the shimmer dampener, dry.", "And the shimmy damper, dry.", "shimmy-damper", "shimmy damper", "shimmer dampener"),
        ("Tail's kid good.", "Tail skid good.", "tail-skid", "tail skid", "tail's kid"),
        ("the eye draw lick reservoir is full", "the hydraulic reservoir is full", "hydraulic-reservoir", "hydraulic reservoir", "eye draw lick reservoir"),
        ("Swash late, no play", "Swashplate, no play", "swashplate", "swashplate", "swash late"),
    ],
)  # fmt: skip
def test_a_name_that_was_misheard(heard, corrected, component, label, run) -> None:
    assert misheard(heard, corrected, COMPONENTS) == [Misheard(component, label, run)]


@pytest.mark.parametrize(
    ("heard", "corrected"),
    [
        ("Nose cone is secure.", "Nose cone is not secure."),
        ("Nose cone is secure.", "nose-cone, is secure"),
        ("Is secure.", "Nose cone is secure."),
        ("Nose cone is secure.", "It is raining."),
        ("", "Nose cone."),
        ("Nose cone.", ""),
    ],
    ids=["another result", "only spelling", "a name was dropped", "no name", "nothing heard", "nothing said"],
)  # fmt: skip
def test_nothing_to_learn(heard: str, corrected: str) -> None:
    assert misheard(heard, corrected, COMPONENTS) == []


def test_a_label_of_several_components_counts_only_where_it_is_known_which() -> None:
    shared = next(
        term for term in COMPONENTS.values() if len(term.concepts) > 1 and not term.hidden
    )
    heard, said = "zyx, no cracks", f"{shared.label}, no cracks"
    assert misheard(heard, said, COMPONENTS) == []
    known = shared.concepts[1]
    assert [one.component for one in misheard(heard, said, COMPONENTS, known)] == [known]
