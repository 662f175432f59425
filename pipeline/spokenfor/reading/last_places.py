"""Two places said last of all in a sentence of one component ("solid, *left and right*"). *Common practice*."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import MENTIONS, mentions_by_token, table_of, within


def both_last(doc: Doc, mention: Span) -> list[str]:
    """The two positions said so of a component that is the only one of its sentence; empty where none are."""
    table, kinds = table_of(doc), mentions_by_token(doc)
    at = table.after[mention.start] - 1
    while at > mention.end and not table.is_word[at]:
        at -= 1
    first, second = kinds.get(at - 2), kinds.get(at)
    if first is None or second is None or table.key[first.end : second.start] != ["and"]:
        return []
    if not first.label_ == second.label_ == TermKind.POSITION:
        return []
    set_off = first.start > mention.end + 1 and table.key[first.start - 1] == ","
    spans = within(doc, MENTIONS, table.first[mention.start], at + 1)
    alone = sum(span.label_ == TermKind.COMPONENT for span in spans) == 1
    return [one._.term.concepts[0] for one in (first, second)] if set_off and alone else []
