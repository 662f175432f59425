"""Words of amount that are spelt like names: "plenty of tread *left*", "*loads* of life". *Common practice* of
spoken English."""

from __future__ import annotations

from spacy.tokens import Doc

from spokenfor.reading.document import table_of

# How far back the words that make it a remainder may stand, in tokens.
_REACH = 7
_AMOUNTS = frozenset(
    "there's there got has have have've i've it's plenty lots loads lot enough much some any no nothing still "
    "bit little couple".split()
)
# Behind these, or before "and right", "left" is a side.
_LEADS = frozenset(
    "the on at to from of in my your this that these those front rear upper lower far top bottom outer inner "
    "hand "
    "and or both is are was it's that's side , ; : . ! ? now number".split()
)
_SIDES = frozenset("right hand side one engine main and or".split())


def is_left_over(doc: Doc, at: int, start: int) -> bool:
    """Whether the token `at` is a "left" that means "remaining"; `start` is where its sentence begins."""
    keys = table_of(doc).key
    if keys[at] != "left" or at == start or keys[at - 1] in _LEADS:
        return False
    after = keys[at + 1] if at + 1 < table_of(doc).after[at] else ""
    before = keys[max(start, at - _REACH) : at]
    while "," in before:
        before = before[before.index(",") + 1 :]
    return after not in _SIDES and not _AMOUNTS.isdisjoint(before)


def is_amount(doc: Doc, at: int, start: int) -> bool:
    """Whether the token `at` only says how much there is; `start` is where its sentence begins."""
    keys = table_of(doc).key
    loads = keys[at] == "loads" or (keys[at : at + 2] == ["load", "of"])
    return loads or is_left_over(doc, at, start)
