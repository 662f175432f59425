"""Places told one after another, each of the component named last: "one, dry, two, weeping"."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import is_word, key_of, mentioned, mentions_by_token, table_of
from spokenfor.reading.joining import only_names
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
    named last at each of them. A single such word may be anything ("one is weeping", "right, next").

    Places that only follow a bare name ("pipes, *number one*. Nothing touching", "stabiliser, *left*, *right*,
    no give") are put on that name."""
    turn = _Turn(doc)
    since = 0
    for number, pieces in enumerate(pieces_of):
        if number - since > _TOLD_WITHIN:
            turn.close()
        for start, end in pieces:
            components = mentioned(doc, TermKind.COMPONENT, start, end)
            if components:
                turn.begin(components, only_names(doc, start, end, components))
                since = number
            elif turn.named is not None:
                place = _place_at(doc, start, end, turn.named, places)
                turn.go_on(place, end)
                since = number if place is not None else since
    turn.close()
    return turn.added


class _Turn:
    """The places told since a component was named."""

    def __init__(self, doc: Doc) -> None:
        self.added: list[Span] = []
        self.named: Span | None = None
        self._doc = doc
        self._told: list[tuple[Span, str]] = []
        self._bare = self._listed = False
        # Places that follow the bare name before anything else is said.
        self._leading = False
        self._heads = 0

    def begin(self, components: list[Span], bare: bool) -> None:
        self.close()
        self.named = components[-1]
        self._bare = self._listed = False
        self._leading = bare and len(components) == 1

    def go_on(self, place: tuple[Span, str] | None, end: int) -> None:
        if place is not None:
            self._told.append(place)
            self._listed |= self._bare
        self._bare = place is not None and not any(map(is_word, self._doc[place[0].end : end]))
        self._leading &= self._bare
        self._heads += self._leading

    def close(self) -> None:
        """Puts what was told where it belongs."""
        named, places = self.named, [said for _, said in self._told]
        if named is not None and named._.said is None and 0 < self._heads == len(places):
            # "Boom, right, a hand along it" is of no side.
            if not any(self._counts(span) for span, _ in self._told) and (
                len(places) > 1 or key_of(self._told[0][0][0]) != "right"
            ):
                named._.said = list(dict.fromkeys(places))
        elif named is not None and not self._listed and self._in_turn(named, places):
            # "Left, right, forward. Dry, dry, dry" lists the places first.
            for span, said in self._told:
                span._.said, span._.term = [said], named._.term
                self.added.append(span)
        self._told, self._heads = [], 0

    def _in_turn(self, named: Span, places: list[str]) -> bool:
        """Whether several places were told, the first of them perhaps a number right behind the name
        ("reservoir *one*, dry. *Two*, ditto")."""
        if named._.said is None:
            return len(set(places)) > 1
        numbered = set(named._.said) <= set(NUMBERED.values())
        others = bool(places) and set(places).isdisjoint(named._.said)
        return numbered and others and all(self._stands_alone(span) for span, _ in self._told)

    def _stands_alone(self, span: Span) -> bool:
        """Whether a number cannot count what follows ("two nicks"): a mark follows, or a verb hangs on it."""
        table = table_of(self._doc)
        ends = span.end == table.after[span.start] or not table.is_word[span.end]
        return ends or table.key[span.end - 1] not in NUMBERED

    def _counts(self, span: Span) -> bool:
        """Whether a number alone may be a count ("catches, *one*, *two*, three, four")."""
        keys = table_of(self._doc).key
        return keys[span.start] in NUMBERED and keys[span.start - 1] != "number"


def _place_at(
    doc: Doc, start: int, end: int, named: Span, places: Places
) -> tuple[Span, str] | None:
    """The place that a piece begins with, and its position; None where the sheet does not
    have it there, or where the piece goes on about something else ("two of them", "right then")."""
    keys = table_of(doc).key
    while start < end and (
        not table_of(doc).is_word[start] or keys[start] in ("and", "then", "number")
    ):
        start += 1
    if start >= end:
        return None
    mention = mentions_by_token(doc).get(start)
    if mention is not None and mention.label_ == TermKind.POSITION:
        said, after = mention._.term.concepts[0], mention.end
    elif (number := spread(keys[start])[0]) in NUMBERED:
        said, after = NUMBERED[number], start + 1
    else:
        return None
    follows = keys[after] if after < end else ""
    if said not in places.axes or follows in _GOES_ON_OTHERWISE:
        return None
    if not places.has(named, said, several=True):
        return None
    return Span(doc, start, after, label=TermKind.COMPONENT.value), said
