"""How the hearing bench judges a repair: the words said, laid beside those heard."""

from __future__ import annotations

import pytest
from audio_samples.script import Script, Stay, Utterance
from tests.bench.hearing.material import cases
from tests.bench.hearing.truth import Beside
from tests.spoken import spoken


def beside(said: str, heard: str) -> Beside:
    """One utterance of a second a word, all of it heard while it was spoken."""
    stay = Stay.model_construct(recording=1, says=[Utterance.model_construct(say=said)])
    script = Script.model_construct(walk=[stay])
    return Beside.of(script, spoken(heard), [[(0.0, 100.0)]])


@pytest.mark.parametrize(
    ("said", "heard", "place", "label", "right"),
    [
        ("the dampers no leaks", "the pampers no leaks", (1, 2), "damper", True),
        ("blades no dents here", "plate dents here", (0, 1), "blade", True),
        ("rotor blades no dents here", "row plate dents here", (1, 2), "blade", True),
        ("number 2 engine", "number to engine", (0, 2), "number two", True),
        ("the left strut is dry", "the left strap is dry", (2, 3), "damper", False),
        # What was heard rightly is not what a neighbour stood for.
        (
            "blade is dry and the plate is clean",
            "blade is dry and the late is clean",
            (5, 6),
            "blade",
            False,
        ),
    ],
)
def test_a_repair_is_right_where_its_name_was_said(
    said: str, heard: str, place: tuple[int, int], label: str, right: bool
) -> None:
    assert beside(said, heard).is_said(*place, [label]) is right


def test_one_name_of_a_bench_case_is_one_sound() -> None:
    """A cache keeps sound by this name; which conditions are asked for together decides the noise."""
    some, every = cases("dev", ("quiet", "10 dB", "3 dB")), cases("dev")
    sounds = {case.id: case.script for case in every}
    shared = [case for case in some if case.id in sounds]
    assert shared and all(case.script == sounds[case.id] for case in shared)
    assert len({case.id for case in [*some, *every]}) > len(every)
