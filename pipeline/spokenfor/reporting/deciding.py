"""Which of the words said about an item decide where it stands?"""

from __future__ import annotations

from collections.abc import Mapping

from spokenfor.models import Evidence, Item, Statement


def deciding_evidence(item: Item, statements: Mapping[str, Statement]) -> Evidence | None:
    """The latest statement whose verdict is the item's status, else its first evidence, if any."""
    for one in reversed(item.statements):
        statement = statements.get(one)
        if statement and statement.verdict.value == item.status.value:
            return statement.evidence
    return item.evidence[0] if item.evidence else None
