"""Was it said which side is being walked? Nothing is ticked on a side that only the sheet's order suggests.

A zone with a twin (the same things on the other side) is sure where the last words that name a side name its
own: a place phrase, or a position said there. Where it is not, what was said of it keeps no line.
"""

from __future__ import annotations

from itertools import groupby

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.models import Statement
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.terms import TermKind
from spokenfor.packs.twins import twins
from spokenfor.reading.document import mentioned, mentions_by_token, table_of
from spokenfor.reading.places import Places
from spokenfor.reading.walk import mentions_in

_SIDES = {"hand", "side", "engine", "main", "hand's"}


@Language.factory("spokenfor_sides", default_config={"pack": ""})
def create_sides(nlp: Language, name: str, pack: str) -> Sides:
    return Sides(load_pack(pack))


class Sides:
    """Sets `doc._.sure_side` (for each sentence whether its zone is sure) and takes the line from statements
    made where it is not, unless their own words name the position."""

    def __init__(self, pack: Pack) -> None:
        self.places = Places(pack)
        self.zones = [zone.id for zone in pack.zones]
        self.twins = twins(pack)
        self.sided = {
            zone: positions for zone, positions in self.places.zone_positions.items() if positions
        }
        self.known = frozenset(name for own in self.sided.values() for name in own)

    def __call__(self, doc: Doc) -> Doc:
        sentences = list(doc.sents)
        doc._.sure_side = [True] * len(sentences)
        said: frozenset[str] = frozenset()
        for zone, numbers in groupby(range(len(sentences)), key=lambda at: doc._.walk[at]):
            stay = list(numbers)
            spoken = [self._said(doc, sentences[at], self.zones[zone]) for at in stay]
            first = next((one for one in spoken if one), said)
            for at, one in zip(stay, spoken, strict=True):
                # "Driver's side", where the pack does not say which that is, takes nothing back.
                first = one if one & self.known or not first & self.known else first
                doc._.sure_side[at] = self._sure(self.zones[zone], first)
            said = first
        unsure = [
            (sentences[at][0]._.recording, sentences[at][0]._.start, sentences[at][-1]._.end, at)
            for at, sure in enumerate(doc._.sure_side)
            if not sure
        ]
        for statement in doc._.statements:
            for recording, start, end, at in unsure:
                ends = statement.evidence.end
                if statement.evidence.recording == recording and start < ends <= end + 0.01:
                    self._unplace(doc, statement, sentences[at])
        return doc

    def _sure(self, zone: str, said: frozenset[str]) -> bool:
        own = self.sided.get(zone)
        return own is None or not self.twins.get(zone) or bool(own & said)

    def _said(self, doc: Doc, sentence: Span, zone: str) -> frozenset[str]:
        """The side that a sentence says is being walked: by a place phrase, or by a position where the zone
        walked has one on that axis."""
        found: frozenset[str] = frozenset()
        for mention in mentions_in(doc, sentence):
            repair = mention._.repair
            named = mention._.zone
            if mention.label_ == TermKind.ZONE and (repair is None or not repair.turns):
                named = mention._.term.concepts
            if named:
                sides = {self.sided.get(name, frozenset()) for name in named}
                found = sides.pop() if len(sides) == 1 else found
            elif (
                mention.label_ == TermKind.POSITION
                and zone in self.sided
                and _names_a_thing(doc, mention)
            ):
                one = self.places.canonical(mention._.term.concepts[:1])
                axes = {self.places.axes[name] for name in self.sided[zone]}
                found = one if {self.places.axes[name] for name in one} <= axes else found
        return found

    def _unplace(self, doc: Doc, statement: Statement, sentence: Span) -> None:
        """Takes the line from a statement whose component stands in a twin zone too."""
        if statement.item is None or statement.zone not in self.twins:
            return
        elsewhere = {item.zone for item in self.places.items[statement.component or ""]}
        if not elsewhere & self.twins[statement.zone]:
            return
        item = statement.item
        statement.item = statement.position = None
        for word in doc._.flagged_words:
            begun = word.evidence.start <= statement.evidence.end
            if word.item == item and begun and word.evidence.end >= statement.evidence.start:
                word.item = None


def _names_a_thing(doc: Doc, position: Span) -> bool:
    """Whether a position stands with what it is the position of: a bare "right" may be anything, and a thing
    that another is worse "than" is not the one looked at."""
    before = max(table_of(doc).first[position.start], position.start - 2)
    if "than" in table_of(doc).key[before : position.start]:
        return False
    if position.end - position.start > 1:
        return True
    if position.end >= table_of(doc).after[position.start]:
        return False
    follows = mentions_by_token(doc).get(position.end)
    named = follows is not None and follows.label_ == TermKind.COMPONENT
    return named or table_of(doc).key[position.end] in _SIDES


def unsure_zones(doc: Doc, pack: Pack) -> list[str]:
    """Zones that were walked, at least in part, without its being said which side, and their twins."""
    zones = [zone.id for zone in pack.zones]
    beside = twins(pack)
    named = {
        zones[state]
        for state, sure, sentence in zip(doc._.walk, doc._.sure_side, doc.sents, strict=True)
        if not sure and mentioned(doc, TermKind.COMPONENT, sentence.start, sentence.end)
    }
    both = {other for zone in named for other in (zone, *beside[zone])}
    return [zone for zone in zones if zone in both]
