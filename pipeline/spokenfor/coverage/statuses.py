"""Where one line of the sheet stands, from everything that was said of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spokenfor.models import ItemStatus, Statement, Verdict

# The worst stands (design, section 3).
WORST_FIRST = (
    Verdict.DEFECT,
    Verdict.NOT_INSPECTED,
    Verdict.NOT_FITTED,
    Verdict.REMARK,
    Verdict.SATISFACTORY,
    Verdict.NAMED,
    Verdict.LOOKED_FOR,
)
PUT_RIGHT = "found and put right"
INSPECTED_LATER = "inspected later"
_NOTE_OF = {
    Verdict.DEFECT: PUT_RIGHT,
    Verdict.REMARK: PUT_RIGHT,
    Verdict.NOT_INSPECTED: INSPECTED_LATER,
}


@dataclass(frozen=True)
class Standing:
    """Status of a line, whether by reference only, what was settled, and the ids of the statements that
    decided it and of those that a later one settled."""

    status: ItemStatus
    by_reference: bool
    note: str | None
    deciding: frozenset[str]
    settled: frozenset[str]


def standing(statements: Sequence[Statement]) -> Standing:
    """The standing of a line with at least one statement, given in time order.

    The worst verdict stands. A statement that settles an earlier defect or "not inspected" takes it out
    of the comparison, but both stay on record: the line then carries a note. So it does where what was put
    right was told in words that made no statement of a defect ("moths in the fins, brushed, clear").
    """
    settled: set[str] = set()
    note = None
    for at, statement in enumerate(statements):
        if not statement.clears:
            continue
        for earlier in statements[:at]:
            if earlier.verdict in _NOTE_OF and earlier.id not in settled:
                settled.add(earlier.id)
                note = _NOTE_OF[earlier.verdict]
    if note is None and any(statement.clears for statement in statements):
        note = PUT_RIGHT
    open_statements = [one for one in statements if one.id not in settled]
    worst = min((one.verdict for one in open_statements), key=WORST_FIRST.index)
    deciding = [one for one in open_statements if one.verdict is worst]
    return Standing(
        status=ItemStatus(worst.value),
        by_reference=all(one.by_reference for one in deciding),
        note=note,
        deciding=frozenset(one.id for one in deciding),
        settled=frozenset(settled),
    )
