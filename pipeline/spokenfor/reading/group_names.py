"""One word for several components, where it is said how many they are: "*both doors* are shut", "*all three
aerials* are firm".

*Common practice* of English: the last word of several names, in the plural, stands for all of them. How many
are meant must be said, and be as many as the zone has: "all the lights" may leave out those that nobody saw.
"""

from __future__ import annotations

from collections import defaultdict

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.terms import Term, TermKind
from spokenfor.packs.wording import singular, words_of
from spokenfor.reading.document import (
    CUES,
    is_position,
    mentions_by_token,
    put_mentions,
    set_spans,
    table_of,
    tokens_of,
)
from spokenfor.reading.mentions import mention_span
from spokenfor.reading.places import Places

_COUNTS = {"both": 2, "neither": 2, **{str(number): number for number in range(2, 10)}}
_BETWEEN = frozenset("the these those my your our its of them up single last".split())
_REACH = 5


@Language.factory("spokenfor_group_names", default_config={"pack": ""})
def create_group_names(nlp: Language, name: str, pack: str) -> GroupNames:
    return GroupNames(load_pack(pack))


class GroupNames:
    """Adds mentions of all the components of the zone being walked whose names end in one word."""

    def __init__(self, pack: Pack) -> None:
        self.zones = [zone.id for zone in pack.zones]
        self.places = Places(pack)
        # By zone and last word: the components, each with what may stand before that word.
        self.members: dict[str, dict[str, dict[str, set[str]]]] = {
            zone: _members(pack, zone) for zone in self.zones
        }

    def __call__(self, doc: Doc) -> Doc:
        table = table_of(doc)
        added: list[Span] = []
        for number, sentence in enumerate(doc.sents):
            if table_of(doc).doubtful[sentence.start]:
                continue
            members = self.members[self.zones[doc._.walk[number]]]
            for at in range(sentence.start, sentence.end):
                if table.stem[at] in members:
                    span = self._group(doc, sentence, at, self.zones[doc._.walk[number]])
                    added += [span] if span is not None else []
        if added:
            taken = tokens_of(added)
            cues = [
                cue for cue in doc.spans[CUES] if not taken.issuperset(range(cue.start, cue.end))
            ]
            set_spans(doc, CUES, cues)
            put_mentions(doc, added)
        return doc

    def _group(self, doc: Doc, sentence: Span, at: int, zone: str) -> Span | None:
        """The mention that ends with a token, if it stands for several."""
        table, mention = table_of(doc), mentions_by_token(doc).get(at)
        if mention is not None and not self._may_be_another(mention, zone):
            return None
        last = table.stem[at]
        found = dict(self.members[zone][last])
        start = at
        while start > sentence.start:
            word = table.stem[start - 1]
            kept = {one: words for one, words in found.items() if word in words}
            if len(kept) < 2 or is_position(doc, start - 1):
                break
            found, start = kept, start - 1
        if len(found) < 2 or self._counted(doc, sentence, start, at) != len(found):
            return None
        term = Term(
            kind=TermKind.COMPONENT,
            label=last,
            key=last,
            phones="",
            concepts=tuple(found),
            names=(),
            hidden=False,
        )
        span = mention_span(doc, start, at + 1, term)
        span._.plural = True
        return span

    def _may_be_another(self, mention: Span, zone: str) -> bool:
        """Whether a mention that is there has no line in the zone, and is of one word."""
        named = mention.label_ == TermKind.COMPONENT and len(mention) == 1
        return named and not self.places.has_line(mention._.term, zone)

    @staticmethod
    def _counted(doc: Doc, sentence: Span, start: int, at: int) -> int:
        """How many are said to be meant; 0 where it is not said."""
        keys = table_of(doc).key
        several = keys[at] != table_of(doc).stem[at]
        for before in range(start - 1, max(sentence.start, start - _REACH) - 1, -1):
            if keys[before] in _COUNTS and several != (keys[before] == "neither"):
                return _COUNTS[keys[before]]
            if keys[before] not in _BETWEEN and not is_position(doc, before):
                break
        follows = [
            keys[one]
            for one in range(at + 1, min(at + 3, sentence.end))
            if table_of(doc).is_word[one]
        ]
        return 2 if several and follows[:1] == ["both"] else 0


def _members(pack: Pack, zone: str) -> dict[str, dict[str, set[str]]]:
    """The last words that several components of a zone share, none of which is a name there by itself."""
    components = dict.fromkeys(item.component for item in pack.items if item.zone == zone)
    found: dict[str, dict[str, set[str]]] = defaultdict(dict)
    alone: set[str] = set()
    for name in components:
        component = pack.components[name]
        labels = [
            [singular(word) for word in words_of(label)]
            for label in (component.prefLabel, *component.altLabel)
        ]
        alone |= {words[0] for words in labels if len(words) == 1}
        last = labels[0][-1]
        for words in labels:
            if len(words) > 1 and words[-1] == last:
                found[last].setdefault(name, set()).update(words[:-1])
    return {last: held for last, held in found.items() if len(held) > 1 and last not in alone}
