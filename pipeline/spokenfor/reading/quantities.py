"""Where a measured number with a unit stands, and what was said with it."""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.physical_units import unit_registry
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.packs.wording import singular
from spokenfor.reading.document import (
    ASPECTS,
    CUES,
    MENTIONS,
    QUANTITIES,
    set_spans,
    table_of,
    within,
)
from spokenfor.reading.limits import Measured, against_limits, limit_text
from spokenfor.reading.manners import ADDED, VOLUMES
from spokenfor.reading.measures import DROPS, Measure, measures
from spokenfor.reading.sentence_words import REGION_ENDS, SentenceWords, sentence_words
from spokenfor.reading.standing_measures import completed, corrected

__all__ = ["Quantities", "against_limits", "create_quantities", "limit_text"]

# A number under one of these was not measured, wherever in its part of the sentence they stand before it.
_NOT_MEASURED = frozenset(("supposed", "expected", "rule"))
# ... or wherever in its part or its sentence they stand.
_NOT_NOW, _NOT_HERE = "history", "elsewhere"
_SURE = ("sure", "certain", "happy", "confident", "positive")
_PUT = frozenset("put pour filling fill top topping took take".split())


@Language.factory("spokenfor_quantities", default_config={"pack": ""})
def create_quantities(nlp: Language, name: str, pack: str) -> Quantities:
    unit_registry()
    return Quantities(load_pack(pack))


class Quantities:
    """Fills the span group `quantities`: numbers with a unit that were measured. Limits that are quoted,
    numbers expected, supposed, remembered, asked for or taken back are left out."""

    def __init__(self, pack: Pack) -> None:
        self.units = {
            tuple(singular(word.lower()) for word in said.split()): unit.unit
            for unit in pack.units
            for said in unit.said
        }
        self.unit_words = {words[0] for words in self.units} | set(DROPS)
        # Aspects that a condition alone speaks of: how much play is play, but a cut is no depth of tread.
        owners: dict[str, list[str]] = {}
        for aspect in pack.aspects.values():
            for condition in aspect.conditions:
                owners.setdefault(condition, []).append(aspect.id)
        self.aspect_of = {name: ids[0] for name, ids in owners.items() if len(ids) == 1}

    def __call__(self, doc: Doc) -> Doc:
        spans = []
        for sentence in doc.sents:
            stems = table_of(doc).stem[sentence.start : sentence.end]
            if not self.unit_words.isdisjoint(stems):
                spans += self._in_sentence(doc, sentence)
        set_spans(doc, QUANTITIES, spans)
        if spans:
            of_number = _tokens_of_numbers(spans)
            cues = [cue for cue in doc.spans[CUES] if not _inside(cue, of_number)]
            set_spans(doc, CUES, cues)
        return doc

    def _in_sentence(self, doc: Doc, sentence: Span) -> list[Span]:
        if sentence.text.rstrip().endswith("?"):
            return []
        said = sentence_words(sentence)
        found = corrected(said, completed(said, measures(said.words, self.units)))
        spans: list[Span] = []
        for one in found:
            if not one.limit and self._measured(said, one):
                span = Span(doc, *said.tokens_of(one.first, one.after), label="quantity")
                start, end = said.tokens_of(*one.whole)
                span._.quantity = self._quantity(said, one, doc[start:end].text)
                spans.append(span)
        return spans

    def _measured(self, said: SentenceWords, one: Measure) -> bool:
        """Whether a number says how the thing was found."""
        first, after = said.region(one)
        start, end = said.tokens_of(first, after)
        place = said.tokens[one.first][0]
        sentence = said.tokens_of(0, len(said.words))
        cues = within(said.doc, CUES, start, end)
        everywhere = within(said.doc, CUES, *sentence)
        following = said.words[one.after] if one.after < len(said.words) else ""
        return not (
            any(cue.label_ in _NOT_MEASURED and cue.start < place for cue in cues)
            or any(cue.label_ == _NOT_NOW for cue in cues)
            or any(cue.label_ == _NOT_HERE for cue in everywhere)
            or any(cue.end == place and said.doc[place - 1].lower_ == "for" for cue in cues)
            or (one.unit == "percent" and (one.value == 100 or following in _SURE))
        )

    def _quantity(self, said: SentenceWords, one: Measure, text: str) -> Measured:
        aspects, mark = self._spoken_of(said, one)
        return Measured(
            text=text,
            value=one.value,
            unit=one.unit,
            manner=one.manner,
            lean=one.lean,
            bound=one.bound,
            held=not (one.apart or self._added(said, one)),
            mark=mark or one.size,
            aspects=aspects,
        )

    @staticmethod
    def _added(said: SentenceWords, one: Measure) -> bool:
        """Whether a volume was put in or taken out."""
        first, _ = said.region(one)
        before = set(said.words[first : one.first])
        return one.unit in VOLUMES and bool(before & (ADDED | _PUT))

    def _spoken_of(self, said: SentenceWords, one: Measure) -> tuple[frozenset[str], bool]:
        """The aspects named with a number, and whether a flaw was, whose size it may be. Where nothing is
        named in its part of the sentence, what stands before it counts."""
        doc = said.doc
        first, after = said.region(one)
        while True:
            start, end = said.tokens_of(first, after)
            mentions = [
                span for span in within(doc, MENTIONS, start, end) if not _denied(doc, span)
            ]
            conditions = [m for m in mentions if m.label_ == TermKind.CONDITION]
            named = {
                concept
                for span in within(doc, ASPECTS, start, end)
                for concept in span._.aspect.concepts
            }
            components = any(m.label_ == TermKind.COMPONENT for m in mentions)
            if conditions or named or components or first == 0:
                break
            first -= 1
            while first > 0 and said.words[first - 1] not in REGION_ENDS:
                first -= 1
        alone = {self.aspect_of.get(name) for m in conditions for name in m._.term.concepts[:1]}
        return frozenset({*named, *(one for one in alone if one)}), bool(conditions)


def _tokens_of_numbers(quantities: list[Span]) -> dict[int, int]:
    """Tokens of numbers, by the number's place. A cue in one is only its wording ("less than two", "two and a
    half"); in "two mil under the minimum" it says how the number stands, and is kept."""
    plain = [span for span in quantities if span._.quantity.lean is None]
    return {at: span.start for span in plain for at in range(span.start, span.end)}


def _inside(cue: Span, of_number: dict[int, int]) -> bool:
    first = of_number.get(cue.start)
    return first is not None and first == of_number.get(cue.end - 1)


def _denied(doc: Doc, mention: Span) -> bool:
    """Whether a flagged word is said to be absent ("no cuts")."""
    near = within(doc, CUES, max(0, mention.start - 4), mention.start)
    return mention.label_ == TermKind.CONDITION and any(
        cue.label_ == CueCategory.ABSENT for cue in near
    )
