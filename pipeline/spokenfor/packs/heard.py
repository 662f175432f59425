"""What `pack say` found: how each name of a pack was heard from a synthetic voice."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from spokenfor.packs.faults import Fault
from spokenfor.packs.lint_names import Compiled, label_place
from spokenfor.packs.load import Pack
from spokenfor.packs.wording import match_key

FILE = "heard.csv"


class Heard(StrEnum):
    """How a name was heard."""

    AT_ONCE = "at once"
    SECOND = "after second hearing"
    NOT = "not"


@dataclass(frozen=True)
class HeardTerm:
    """A label of a component, how it was heard, and the words that were."""

    component: str
    label: str
    how: Heard
    words: str


def read_heard(pack: Pack) -> list[HeardTerm]:
    """What `pack say` left beside the pack; none where it did not, or the pack has changed since."""
    try:
        with (pack.folder / FILE).open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        return [
            HeardTerm(row["component"], row["label"], Heard(row["heard"]), row["words"])
            for row in rows
            if row["pack sha256"] == pack.sha256 and row["component"] in pack.components
        ]
    except (OSError, KeyError, ValueError, csv.Error):
        return []


def not_heard(pack: Pack, _terms: Compiled) -> Iterator[Fault]:
    """Names that the voice spoke and nobody heard."""
    for one in read_heard(pack):
        if one.how is Heard.NOT:
            component = pack.components[one.component]
            yield Fault(
                label_place(pack, "component", component, match_key(one.label)),
                f"'{one.label}' was not heard when it was spoken, but: {one.words}",
                "Add what was heard to hiddenLabel where it is never said for itself, or another altLabel",
            )


def table_lines(heard: Sequence[HeardTerm], voice: str) -> list[str]:
    """How many names were heard how, and each that was not heard at once, with what was."""
    count = Counter(one.how for one in heard)
    lines = [
        f"{len(heard)} names spoken by {voice}: {count[Heard.AT_ONCE]} heard at once, "
        f"{count[Heard.SECOND]} after second hearing, {count[Heard.NOT]} not"
    ]
    width = max((len(one.label) for one in heard), default=0)
    for how in (Heard.SECOND, Heard.NOT):
        lines += [
            f"  {one.label:<{width}}  {how.value:<20}  heard as: {one.words}"
            for one in heard
            if one.how is how
        ]
    return lines
