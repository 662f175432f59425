"""Where the speaker is: a hidden-state model over the zones, decoded by Viterbi, one step a sentence.

States are the zones in walking order. A sentence is seen through its place phrases and the components it
names. Method: Viterbi 1967 as in Rabiner 1989; the costs are settings, *common practice* until fitted.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

import numpy as np
import numpy.typing as npt
from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.models import ZoneStay
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import CUES, MENTIONS, within
from spokenfor.reading.places import Places

Matrix = npt.NDArray[np.float64]


@dataclass(frozen=True)
class WalkSettings:
    """Log probabilities, all <= 0: of moving between zones from one sentence to the next, and of a
    recording that does not begin in the first zone, and of a mention that does not belong to the zone; what
    a side or number by itself adds for zones of that side (the only gain) and for those of the other."""

    stay: float = -0.05
    next_zone: float = -3.0
    skip_one: float = -4.0
    back_one: float = -4.5
    elsewhere: float = -5.0
    start_elsewhere: float = -1.5
    foreign_component: float = -4.0
    foreign_place: float = -7.0
    own_side: float = 1.5
    other_side: float = -4.0


@Language.factory("spokenfor_walk", default_config={"pack": ""})
def create_walk(nlp: Language, name: str, pack: str) -> Walk:
    return Walk(load_pack(pack))


class Walk:
    """Sets `doc._.walk`: for each sentence, in order, the index of the zone it was spoken in."""

    def __init__(self, pack: Pack, settings: WalkSettings | None = None) -> None:
        self.settings = settings or WalkSettings()
        self.zones = [zone.id for zone in pack.zones]
        self.places = Places(pack)
        self.transitions = self._transitions(len(self.zones))

    def __call__(self, doc: Doc) -> Doc:
        doc._.walk = []
        start = np.array([0.0, *([self.settings.start_elsewhere] * (len(self.zones) - 1))])
        for _, sentences in groupby(doc.sents, key=lambda sentence: sentence[0]._.recording):
            seen = np.vstack([self.observed(doc, sentence) for sentence in sentences])
            doc._.walk += viterbi(start, self.transitions, seen)
        return doc

    def observed(self, doc: Doc, sentence: Span) -> Matrix:
        """Log likelihood of a sentence in each zone, shape (zones,)."""
        scores = np.zeros(len(self.zones))
        if sentence[0]._.doubtful:
            return scores
        for mention in mentions_in(doc, sentence):
            if mention.label_ == TermKind.ZONE.value:
                inside, foreign = set(mention._.term.concepts), self.settings.foreign_place
            elif mention.label_ == TermKind.COMPONENT.value:
                inside = self.places.zones_of(doc, mention)
                foreign = self.settings.foreign_component
            else:
                scores += self._sided(mention)
                continue
            if inside:
                share = -np.log(len(inside))
                scores += np.array([share if zone in inside else foreign for zone in self.zones])
        return scores

    def _sided(self, mention: Span) -> Matrix:
        """What a position by itself says of each zone ("the right side")."""
        scores = np.zeros(len(self.zones))
        if mention.label_ != TermKind.POSITION.value:
            return scores
        said = self.places.canonical(mention._.term.concepts[:1])
        for at, zone in enumerate(self.zones):
            own = self.places.zone_positions[zone]
            if said <= own:
                scores[at] = self.settings.own_side
            elif any(self.places.axes[one] == self.places.axes[two] for one in own for two in said):
                scores[at] = self.settings.other_side
        return scores

    def _transitions(self, count: int) -> Matrix:
        settings = self.settings
        steps = {
            0: settings.stay,
            1: settings.next_zone,
            2: settings.skip_one,
            -1: settings.back_one,
        }
        return np.array(
            [
                [steps.get(after - before, settings.elsewhere) for after in range(count)]
                for before in range(count)
            ]
        )


def viterbi(start: Matrix, transitions: Matrix, seen: Matrix) -> list[int]:
    """The likeliest state at each step. `start` (states,), `transitions` (states, states; from, to) and
    `seen` (steps, states) are log probabilities. Ties go to the earlier state. Source: Rabiner 1989."""
    best = start + seen[0]
    came_from = []
    for observation in seen[1:]:
        through = best[:, None] + transitions
        came_from.append(through.argmax(axis=0))
        best = through.max(axis=0) + observation
    state = int(best.argmax())
    path = [state]
    for step in reversed(came_from):
        state = int(step[state])
        path.append(state)
    return path[::-1]


def mentions_in(doc: Doc, sentence: Span) -> list[Span]:
    """Mentions of a sentence that say where the speaker is: not those inside "same as the left side"."""
    compared = [
        cue.end
        for cue in within(doc, CUES, sentence.start, sentence.end)
        if cue.label_ == CueCategory.BY_REFERENCE.value
    ]
    return [
        span
        for span in within(doc, MENTIONS, sentence.start, sentence.end)
        if span.label_ == TermKind.COMPONENT.value
        or not any(end - 8 <= span.start <= end + 1 for end in compared)
    ]


def stays(doc: Doc, zones: list[str]) -> list[ZoneStay]:
    """The walk as stays in zones: a stay lasts from its first word until the next stay begins, or its last
    word where the recording ends."""
    found: list[ZoneStay] = []
    for sentence, state in zip(doc.sents, doc._.walk, strict=True):
        recording, start = sentence[0]._.recording, sentence[0]._.start
        end = max(token._.end for token in sentence)
        last = found[-1] if found else None
        if last is not None and last.recording == recording:
            if last.zone == zones[state]:
                last.end = max(last.end, end)
                continue
            last.end = max(last.start, start)
        found.append(ZoneStay(zone=zones[state], recording=recording, start=start, end=end))
    return found
