"""Where the speaker is: zone and side of each sentence, decoded by Viterbi; or so far, as it is being spoken.

A sentence is seen through its place phrases, the components it names and the sides it says; the silence before
it tells how likely a move was. The model is in walk_model.py, the decoding in hidden_states.py.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.models import ZoneStay
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import CUES, MENTIONS, mentions_by_token, table_of, within
from spokenfor.reading.hidden_states import Matrix, advance, forward, viterbi, weighed
from spokenfor.reading.walk_model import Says, WalkModel, WalkSettings

__all__ = ["Following", "Walk", "WalkSettings", "create_walk", "mentions_in", "stays", "viterbi"]

# A side is meant by a word that may mean something else ("right at the mark") only behind one of these.
_BEFORE_SIDE = frozenset("the on to on's your my our this that's at".split())
_SHARED_WORDS = frozenset(
    ("left", "right", "front", "top", "bottom", "rear", "middle", "inner", "outer")
)

_FROM_ELSEWHERE = frozenset(("not_inspected", "history", "elsewhere", "supposed", "rule"))

Doc.set_extension("sides", default=None, force=True)


@Language.factory("spokenfor_walk", default_config={"pack": ""})
def create_walk(nlp: Language, name: str, pack: str) -> Walk:
    return Walk(load_pack(pack))


class Walk:
    """Sets, for each sentence in order, `doc._.walk`, the index of the zone it was spoken in, and
    `doc._.sides`, the side ("left", "right") being spoken of there, None where none is."""

    def __init__(self, pack: Pack, settings: WalkSettings | None = None) -> None:
        self.model = WalkModel(pack, settings)
        self.zones = self.model.zones

    def __call__(self, doc: Doc) -> Doc:
        seen, steps = self.evidence(doc, list(doc.sents))
        path = viterbi(self.model.start(), steps, seen)
        doc._.walk = [self.model.states[state].zone for state in path]
        doc._.sides = [self.model.states[state].side for state in path]
        return doc

    def zone_probabilities(self, doc: Doc) -> Matrix:
        """Probability (0..1) of each zone after each sentence, given only what was said up to it; shape
        (sentences, zones)."""
        seen, steps = self.evidence(doc, list(doc.sents))
        return self.model.by_zone(forward(self.model.start(), steps, seen))

    def evidence(self, doc: Doc, sentences: list[Span]) -> tuple[Matrix, list[Matrix]]:
        """Log likelihood of each sentence in each state, shape (sentences, states), and the transition before
        each sentence but the first."""
        heard = [self.observed(doc, sentence) for sentence in sentences]
        seen = np.array([scores for scores, _ in heard]).reshape(-1, len(self.model.states))
        steps = [
            self.step(_when(before), _when(after), says)
            for (before, after), (_, says) in zip(pairwise(sentences), heard[1:], strict=True)
        ]
        return seen, steps

    def step(
        self, before: tuple[int, float, float], after: tuple[int, float, float], says: Says
    ) -> Matrix:
        """The transition between two sentences given as (recording, start, end); what the second `says`."""
        if before[0] != after[0]:
            return self.model.restart()
        return self.model.transition(after[1] - before[2], says)

    def observed(self, doc: Doc, sentence: Span) -> tuple[Matrix, Says]:
        """Log likelihood of a sentence in each state, shape (states,), and what it says of the place."""
        scores, placed = np.zeros(len(self.model.states)), False
        if table_of(doc).doubtful[sentence.start]:
            return scores, Says.NOTHING
        mentions = [span for span in mentions_in(doc, sentence) if not self._in_a_name(doc, span)]
        components = [span for span in mentions if span.label_ == TermKind.COMPONENT]
        said_with = {span.start: self.model.places.said_with(doc, span) for span in components}
        attached = {name for names in said_with.values() for name in names}
        for mention in mentions:
            concepts = mention._.term.concepts
            if mention.label_ == TermKind.ZONE:
                passing = _in_passing(doc, sentence, mention)
                scores += self.model.place(concepts, passing)
                placed |= not passing
            elif mention.label_ == TermKind.COMPONENT:
                scores += self.model.component(concepts, tuple(said_with[mention.start]))
            elif mention.label_ == TermKind.POSITION and _is_side(doc, mention, attached):
                scores += self.model.side(self.model.places.canonical(concepts[:1]))
        if placed:
            return scores, Says.PLACE
        return scores, Says.COMPONENT if scores.any() else Says.NOTHING

    def _in_a_name(self, doc: Doc, mention: Span) -> bool:
        """Whether a place phrase runs on into the name of a component that is not there ("at the nose
        oleo")."""
        after = mentions_by_token(doc).get(mention.end)
        if mention.label_ != TermKind.ZONE or after is None:
            return False
        if after.label_ != TermKind.COMPONENT or after.start != mention.end:
            return False
        items = [item for name in after._.term.concepts for item in self.model.places.items[name]]
        return {item.zone for item in items}.isdisjoint(mention._.term.concepts)


class Following:
    """The walk as it is being spoken: after each sentence, where the speaker probably is."""

    def __init__(self, walk: Walk) -> None:
        self.walk = walk
        self._chances: Matrix | None = None
        self._before: tuple[int, float, float] | None = None

    def hear(self, doc: Doc, sentence: Span) -> dict[str, float]:
        """Probability (0..1) of each zone by its id, `sentence` of `doc` having been heard next. The Doc may
        hold no more than the sentence."""
        model, now = self.walk.model, _when(sentence)
        (observed, says), prior = self.walk.observed(doc, sentence), model.start()
        if self._chances is not None and self._before is not None:
            prior = advance(self._chances, self.walk.step(self._before, now, says))
        self._chances = weighed(prior, observed)
        self._before = now
        zones = model.by_zone(self._chances)
        return {zone: float(chance) for zone, chance in zip(model.zones, zones, strict=True)}


_COMPARING = {"same", "compared"}


def mentions_in(doc: Doc, sentence: Span) -> list[Span]:
    """Mentions of a sentence that say where the speaker is: not those inside "same as the left side"."""
    compared = [
        cue.end
        for cue in within(doc, CUES, sentence.start, sentence.end)
        if cue.label_ == CueCategory.BY_REFERENCE
        or (cue.label_ == CueCategory.PSEUDO and table_of(doc).key[cue.start] in _COMPARING)
    ]
    return [
        span
        for span in within(doc, MENTIONS, sentence.start, sentence.end)
        if span.label_ == TermKind.COMPONENT
        or not any(end - 8 <= span.start <= end + 1 for end in compared)
    ]


def stays(doc: Doc, zones: list[str]) -> list[ZoneStay]:
    """The walk as stays in zones: a stay lasts from its first word until the next stay begins, or its last
    word where the recording ends."""
    found: list[ZoneStay] = []
    for sentence, state in zip(doc.sents, doc._.walk, strict=True):
        recording, start, end = _when(sentence)
        last = found[-1] if found else None
        if last is not None and last.recording == recording:
            if last.zone == zones[state]:
                last.end = max(last.end, end)
                continue
            last.end = max(last.start, start)
        found.append(ZoneStay(zone=zones[state], recording=recording, start=start, end=end))
    return found


def _when(sentence: Span) -> tuple[int, float, float]:
    """Recording, start and end (seconds) of a sentence."""
    table = table_of(sentence.doc)
    ends = table.end[sentence.start : sentence.end]
    return table.recording[sentence.start], table.start[sentence.start], max(ends)


def _in_passing(doc: Doc, sentence: Span, mention: Span) -> bool:
    """Whether a place may be spoken of from elsewhere: put off, remembered, or where a flaw was ("the leak I
    had on the left engine")."""
    cues = within(doc, CUES, sentence.start, sentence.end)
    before = within(doc, MENTIONS, sentence.start, mention.start)
    return any(cue.label_ in _FROM_ELSEWHERE for cue in cues) or any(
        span.label_ == TermKind.CONDITION for span in before
    )


def _is_side(doc: Doc, mention: Span, attached: set[str]) -> bool:
    """Whether a position by itself says which side is walked: not one said of a component, and not a word
    that only looks like one ("right at the mark", "right, next", "two mil left")."""
    if mention._.term.concepts[0] in attached:
        return False
    table = table_of(doc)
    if len(mention) > 1 or table.key[mention.start] not in _SHARED_WORDS:
        return True
    first = mention.start == table.first[mention.start]
    if first:
        return bool(table.key[mention.start] == "left")
    return table.key[mention.start - 1] in _BEFORE_SIDE
