"""Nothing is ticked on a side that was not named (promise 1)."""

from __future__ import annotations

import pytest
from tests.spoken import PACK, spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.models import ItemStatus, Result
from spokenfor.packs.load import load_pack
from spokenfor.packs.twins import twins
from spokenfor.reading.pipeline import read


def result_of(text: str) -> Result:
    transcript = spoken(text)
    return assemble(transcript, read(transcript, PACK), load_pack(PACK))


def ticked(result: Result) -> set[str]:
    return {item.id for item in result.items if item.status is ItemStatus.SATISFACTORY}


def test_twins_are_the_same_things_on_the_other_side() -> None:
    beside = twins(load_pack(PACK))
    assert "number-two-engine" in beside["number-one-engine"]
    assert "right-main-gear" in beside["left-main-gear"]
    assert "nose" not in beside


@pytest.mark.parametrize(
    ("text", "tick"),
    [
        ("Now the number two engine. Starter generator is secure.", "number-two"),
        ("Okay, left engine. Starter generator is secure.", "number-one"),
    ],
)
def test_a_side_that_is_named_is_ticked(text: str, tick: str) -> None:
    assert any(name.endswith(f"starter-generator.{tick}") for name in ticked(result_of(text)))


def test_a_side_that_only_order_suggests_is_not_ticked() -> None:
    """Without a word of which engine, the finding is kept, no line is ticked, neither engine is silent."""
    result = result_of(
        "Hydraulics bay. Manifold is dry.\nStarter generator is secure.\nIgniters are dry."
    )
    assert not any("engine" in name for name in ticked(result))
    engines = [item for item in result.items if "-engine" in item.zone]
    assert {item.status for item in engines} == {ItemStatus.UNHEARD}
    said = [one for one in result.statements if one.component == "starter-generator"]
    assert [one.item for one in said] == [None]


def test_a_defect_on_a_side_not_named_is_kept_unplaced() -> None:
    result = result_of("Hydraulics bay. Manifold is dry.\nStarter generator is loose.")
    assert [(one.item, one.verdict.value, one.listen) for one in result.findings] == [
        (None, "defect", True)
    ]


def test_a_side_named_with_a_part_of_the_machine_is_sure() -> None:
    """ "Tail boom" is the zone's name and a component's: with a result behind it, it is both."""
    result = result_of("Back up the right side of the tail boom, skin is good, no dents.")
    assert {name for name in ticked(result) if name.startswith("tail-boom-right")}
    assert all(zone.side_sure for zone in result.zones)
