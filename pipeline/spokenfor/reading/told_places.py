"""Places told one after another, each of the component named last: "one, dry, two, weeping"."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import is_word, mentioned, mentions_by_token
from spokenfor.reading.places import Places

# How many sentences places told in turn may lie apart.
_TOLD_WITHIN = 2
NUMBERED = {"1": "number-one", "2": "number-two", "3": "number-three", "4": "number-four"}
_GOES_ON_OTHERWISE = frozenset(
    "of more bit little thing way hand side then so now that's is has".split()
)


def told_in_turn(doc: Doc, pieces_of: list[list[tuple[int, int]]], places: Places) -> list[Span]:
    """Mentions for places told one after another in pieces that each begin with the place alone ("pumps,
    *one*, dry, *two*, weeping", "tubes, *left*, daylight, *right*, a fly"), where the sheet has what was
    named last at each of them. A single such word may be anything ("one is weeping", "right, next")."""
    named: Span | None = None
    turn: list[tuple[Span, str, Span]] = []
    added: list[Span] = []
    since, bare, listed = 0, False, False

    def close() -> None:
        # "Left, right, forward. Dry, dry, dry" lists the places first.
        if not listed and len({said for _, said, _ in turn}) > 1:
            for span, said, of in turn:
                span._.said, span._.term = [said], of._.term
                added.append(span)
        turn.clear()

    for number, pieces in enumerate(pieces_of):
        if number - since > _TOLD_WITHIN:
            close()
        for start, end in pieces:
            components = mentioned(doc, TermKind.COMPONENT, start, end)
            if components:
                close()
                named, since, bare, listed = components[-1], number, False, False
                continue
            if named is None:
                continue
            place = _place_at(doc, start, end, named, places)
            if place is not None:
                turn.append((*place, named))
                since, listed = number, listed or bare
            bare = place is not None and not any(map(is_word, doc[place[0].end : end]))
    close()
    return added


def _place_at(
    doc: Doc, start: int, end: int, named: Span, places: Places
) -> tuple[Span, str] | None:
    """The place that a piece begins with, and its position; None where the sheet does not
    have it there, or where the piece goes on about something else ("two of them", "right then")."""
    keys = doc._.table.key
    while start < end and (not is_word(doc[start]) or keys[start] in ("and", "then", "number")):
        start += 1
    if start >= end:
        return None
    mention = mentions_by_token(doc).get(start)
    if mention is not None and mention.label_ == TermKind.POSITION.value:
        said, after = mention._.term.concepts[0], mention.end
    elif keys[start] in NUMBERED:
        said, after = NUMBERED[keys[start]], start + 1
    else:
        return None
    follows = keys[after] if after < end else ""
    if said not in places.axes or follows in _GOES_ON_OTHERWISE:
        return None
    if not places.has(named, said, several=True):
        return None
    return Span(doc, start, after, label=TermKind.COMPONENT.value), said
