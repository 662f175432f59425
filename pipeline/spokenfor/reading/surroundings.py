"""Where possible repairs stand: in their sentence, on the walk, by the order of the sheet, among rivals."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

from spacy.tokens import Doc

from spokenfor.packs.load import Pack
from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import CUES, MENTIONS, table_of, within
from spokenfor.reading.sheet_order import SheetOrder
from spokenfor.reading.slots import behind_verb, closes, denied, opens
from spokenfor.reading.sound_rule import NO_RIVAL, Possible, Surroundings, standing_of

_RESULTS = {"satisfactory", "unsatisfactory", "absent", "within_limits", "not_inspected"}
_FARTHEST = 99


class Around:
    """What the zones and lines of a pack say of where a term can be named."""

    def __init__(self, pack: Pack) -> None:
        order = {zone.id: index for index, zone in enumerate(pack.zones)}
        self.zones: dict[str, set[int]] = defaultdict(set)
        self.lines: dict[tuple[int, str], int] = {}
        for item in pack.items:
            self.zones[item.component].add(order[item.zone])
            self.lines.setdefault((order[item.zone], item.component), len(self.lines))

    def of(self, doc: Doc, found: Sequence[Possible]) -> list[Surroundings]:
        """The surroundings of each of the possible repairs of a Doc."""
        sentence_of = {
            at: number
            for number, sentence in enumerate(doc.sents)
            for at in range(sentence.start, sentence.end)
        }
        sheet = SheetOrder(doc, self.lines)
        made = []
        for one, rival in zip(found, _rivals(found), strict=True):
            zone = doc._.walk[sentence_of[one.tokens[0]]]
            first, after = one.tokens
            bounds = table_of(doc).first[first], table_of(doc).after[first]
            results = any(cue.label_ in _RESULTS for cue in within(doc, CUES, *bounds))
            kinds = {span.label_ for span in within(doc, MENTIONS, *bounds)}
            named = TermKind.COMPONENT.value in kinds
            made.append(
                Surroundings(
                    distance=self._distance(one, zone),
                    supported=results or bool(kinds),
                    unresolved=named and not results and TermKind.CONDITION.value not in kinds,
                    opens=opens(doc, first),
                    closes=closes(doc, after),
                    denied=denied(doc, first),
                    behind_verb=behind_verb(doc, first),
                    sentence=_mean_log(table_of(doc).probability[slice(*bounds)]),
                    rival=rival,
                    **sheet.around(one.term, first, zone),
                )
            )
        return made

    def _distance(self, one: Possible, zone: int) -> int | None:
        if one.term.kind is not TermKind.COMPONENT:
            return None
        zones = [other for concept in one.term.concepts for other in self.zones[concept]]
        return min((abs(zone - other) for other in zones), default=_FARTHEST)


def _rivals(found: Sequence[Possible]) -> list[float]:
    """For each, by how much the best other term for words of its own does better."""
    at_token: dict[int, list[int]] = defaultdict(list)
    for number, one in enumerate(found):
        for at in range(*one.tokens):
            at_token[at].append(number)
    best = []
    for number, one in enumerate(found):
        others = {other for at in range(*one.tokens) for other in at_token[at]} - {number}
        apart = [
            standing_of(found[other]) - standing_of(one)
            for other in sorted(others)
            if not set(found[other].term.concepts) & set(one.term.concepts)
            and one.term.key not in found[other].term.key
            and found[other].term.key not in one.term.key
        ]
        best.append(max(apart, default=NO_RIVAL))
    return best


def _mean_log(probabilities: list[float]) -> float:
    return sum(math.log(max(one, 0.02)) for one in probabilities) / max(1, len(probabilities))
