"""Where a line stands: the worst verdict, unless a later statement settled it (design, section 3)."""

from __future__ import annotations

from itertools import permutations

import pytest

from spokenfor.coverage.statuses import INSPECTED_LATER, PUT_RIGHT, WORST_FIRST, standing
from spokenfor.models import Evidence, Statement, Verdict


def made(*verdicts: str) -> list[Statement]:
    """Statements of one line: "clears" after a verdict settles what came before, "~" is by reference."""
    statements = []
    for number, said in enumerate(verdicts):
        statements.append(
            Statement(
                id=f"s{number}",
                item="nose.nose-cone",
                component="nose-cone",
                position=None,
                zone="nose",
                verdict=Verdict(said.strip("!~")),
                clears=said.endswith("!"),
                by_reference=said.endswith("~"),
                evidence=Evidence(recording=0, start=number, end=number + 1, heard="", text=""),
                confidence=0.9,
            )
        )
    return statements


@pytest.mark.parametrize(
    ("said", "status", "note"),
    [
        (["satisfactory"], "satisfactory", None),
        (["satisfactory", "defect"], "defect", None),
        (["defect", "satisfactory"], "defect", None),
        (["defect", "satisfactory!"], "satisfactory", PUT_RIGHT),
        (["defect", "satisfactory!", "defect"], "defect", PUT_RIGHT),
        (["not_inspected", "satisfactory"], "not_inspected", None),
        (["not_inspected", "satisfactory!"], "satisfactory", INSPECTED_LATER),
        (["not_inspected", "defect!"], "defect", INSPECTED_LATER),
        (["not_inspected", "satisfactory!", "satisfactory!"], "satisfactory", INSPECTED_LATER),
        (["satisfactory!"], "satisfactory", PUT_RIGHT),
        (["named", "satisfactory!"], "satisfactory", PUT_RIGHT),
        (["satisfactory!", "defect"], "defect", PUT_RIGHT),
        (["remark", "satisfactory"], "remark", None),
        (["looked_for", "named"], "named", None),
    ],
)
def test_the_worst_stands_until_settled(said: list[str], status: str, note: str | None) -> None:
    stands = standing(made(*said))
    assert (stands.status.value, stands.note) == (status, note)


def test_the_order_of_unsettled_statements_does_not_matter() -> None:
    for chosen in permutations([verdict.value for verdict in WORST_FIRST], 3):
        worst = min((Verdict(one) for one in chosen), key=WORST_FIRST.index)
        assert standing(made(*chosen)).status.value == worst.value


def test_by_reference_only_where_nothing_else_was_said() -> None:
    assert standing(made("satisfactory~")).by_reference
    assert not standing(made("satisfactory~", "satisfactory")).by_reference
