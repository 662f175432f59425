"""Names turned round: "the *hinges on the aileron*", "the *cables to the rudder*", "the *light on the tail*".

*Common practice* of English (a noun before another, or behind it with a preposition). Without this, the part is
taken for that of another thing, or the whole for its part.
"""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.terms import Term, TermKind, compile_terms
from spokenfor.packs.wording import singular
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import (
    MENTIONS,
    mentioned,
    mentions_by_token,
    put_mentions,
    set_spans,
    table_of,
)
from spokenfor.reading.elided_names import last_words
from spokenfor.reading.mentions import mention_span
from spokenfor.reading.places import Places

_BETWEEN = frozenset("on of to for in".split())
_DETERMINERS = frozenset("the this that its your my".split())
_LONGEST = 2
_RUBBING = "rubbing rubs rubbed chafing chafes chafed bearing leaning catching hitting".split()
_LEADING_TO_A_FLAW = frozenset(
    "there no some any slight light heavy bad little more and or , a of with find see found has have".split()
)
_CLEAR = {("clear", "of"), ("away", "from"), ("free", "of"), ("well", "off")}
_TOUCHING = {
    *((verb, where) for verb in _RUBBING for where in ("on", "against", "along")),
    *((verb,) for verb in ("touching", "touches", "fouling", "fouls", "against")),
}
# What lies in or on a thing may be where it should not be ("oil on the engine").
_LEVEL = "level"


@Language.factory("spokenfor_turned_names", default_config={"pack": ""})
def create_turned_names(nlp: Language, name: str, pack: str) -> TurnedNames:
    return TurnedNames(load_pack(pack))


class TurnedNames:
    """Makes one mention of a part, a preposition and its whole, where the sheet has the part by a name that
    says both, in the zone being walked; what is there a tool, or only what another
    thing touches, is no mention."""

    def __init__(self, pack: Pack) -> None:
        self.zones = [zone.id for zone in pack.zones]
        self.places = Places(pack)
        self.terms = compile_terms(pack)[TermKind.COMPONENT]
        self.levels = {
            component.id for component in pack.components.values() if _LEVEL in component.aspects
        }
        self.lasts = last_words(pack)

    def __call__(self, doc: Doc) -> Doc:
        table = table_of(doc)
        found: list[Span] = []
        others: set[int] = set()
        for number, sentence in enumerate(doc.sents):
            if table_of(doc).doubtful[sentence.start]:
                continue
            zone = self.zones[doc._.walk[number]]
            for at in range(sentence.start + 1, sentence.end - 1):
                if table.key[at] in _BETWEEN and table.stem[at - 1] in self.lasts:
                    span = self._around(doc, sentence, at, zone)
                    if span is not None:
                        found.append(span)
            named = mentioned(doc, TermKind.COMPONENT, sentence.start, sentence.end)
            others |= {
                one.start
                for one in named
                if self._is_tool(one, zone) or _is_touched(doc, sentence, one, named[0])
            }
        if others:
            kept = [one for one in doc.spans[MENTIONS] if one.start not in others]
            set_spans(doc, MENTIONS, kept)
        if found:
            put_mentions(doc, found)
        return doc

    def _is_tool(self, mention: Span, zone: str) -> bool:
        """Whether one is named of what a line elsewhere has several of ("I've got the *gauge* in on the
        lining")."""
        several = singular(mention._.term.label) != mention._.term.label
        one = several and len(mention) == 1 and not mention._.plural
        return one and not self.places.has_line(mention._.term, zone)

    def _around(self, doc: Doc, sentence: Span, at: int, zone: str) -> Span | None:
        """The longest name that the words on both sides of a preposition make."""
        begin = at + 1
        while begin < sentence.end and table_of(doc).key[begin] in _DETERMINERS:
            begin += 1
        for whole in range(_LONGEST, 0, -1):
            for part in range(_LONGEST, 0, -1):
                start, end = at - part, begin + whole
                if start < sentence.start or end > sentence.end:
                    continue
                term = self._named(doc, range(start, at), range(begin, end), zone)
                if term is not None:
                    return mention_span(doc, start, end, term)
        return None

    def _named(self, doc: Doc, part: range, whole: range, zone: str) -> Term | None:
        if not all(table_of(doc).is_word[at] for at in (*part, *whole)) or self._goes_on(
            doc, part, whole
        ):
            return None
        stems = table_of(doc).stem
        term = self.terms.get("".join(stems[at] for at in (*whole, *part)))
        if term is None or self.levels & set(term.concepts):
            return None
        return term if self.places.has_line(term, zone) else None

    @staticmethod
    def _goes_on(doc: Doc, part: range, whole: range) -> bool:
        """Whether a longer name begins in the part or ends beyond the whole."""
        mentions = mentions_by_token(doc)
        before, after = mentions.get(part[0]), mentions.get(whole[-1])
        return (before is not None and before.start < part[0]) or (
            after is not None and after.label_ == TermKind.COMPONENT and after.end > whole[-1] + 1
        )


def _is_touched(doc: Doc, sentence: Span, mention: Span, first: Span) -> bool:
    """Whether a name only says what another thing is clear of, or touches, which `first` of the sentence may be
    ("brake line, clipped, clear of the *leg*", "the hose is rubbing on the *leg*")."""
    keys, at = table_of(doc).key, mention.start
    while at > sentence.start and keys[at - 1] in _DETERMINERS:
        at -= 1
    before = tuple(keys[max(sentence.start, at - 2) : at])
    if before in _CLEAR:
        return True
    touched = before in _TOUCHING or before[-1:] in _TOUCHING
    # "There's chafing on the loom": a flaw of the loom, which nothing else touches.
    flaw = at - 3 < sentence.start or spread(keys[at - 3])[0] in _LEADING_TO_A_FLAW
    return touched and not (flaw and before in _TOUCHING) and first.start < mention.start
