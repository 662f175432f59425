"""What is said of each line of the sheet: units of speech become statements."""

from __future__ import annotations

from dataclasses import dataclass, field

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading, FlaggedWord, Statement, Verdict
from spokenfor.packs.load import Pack, SheetItem, load_pack
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.assertion import SentenceReading, Target, read_targets
from spokenfor.reading.document import ASPECTS, MENTIONS, evidence, within
from spokenfor.reading.places import Placed, Places
from spokenfor.reading.quantities import against_limits
from spokenfor.reading.units import Unit, units
from spokenfor.reading.verdicts import Said, say

# How long what was named stays what is being spoken of, when nothing else is named (common practice).
_TOPIC_SENTENCES = 3
_TOPIC_SECONDS = 25.0


@Language.factory("spokenfor_statements", default_config={"pack": ""})
def create_statements(nlp: Language, name: str, pack: str) -> Statements:
    return Statements(load_pack(pack))


@dataclass
class Topic:
    """What is being spoken of: the components, where they were placed, the sentence and its time;
    `returned` where the speaker said they came back to it; `waiting` was named and has no result yet."""

    components: list[Span]
    placed: list[Placed]
    sentence: int
    recording: int
    end: float
    zone: int
    returned: bool = False
    waiting: list[tuple[Span, Placed]] = field(default_factory=list)


class Statements:
    """Sets `doc._.statements` and `doc._.flagged_words`, both in time order."""

    def __init__(self, pack: Pack) -> None:
        self.pack = pack
        self.places = Places(pack)
        self.zones = [zone.id for zone in pack.zones]

    def __call__(self, doc: Doc) -> Doc:
        doc._.statements, doc._.flagged_words = Narration(self, doc).read()
        return doc


class Narration:
    """One reading of a Doc from beginning to end, and what has been said so far."""

    def __init__(self, stage: Statements, doc: Doc) -> None:
        self.pack, self.places, self.zones = stage.pack, stage.places, stage.zones
        self.doc = doc
        self.topic: Topic | None = None
        self.carried: frozenset[str] = frozenset()
        self.statements: list[Statement] = []
        self.extents: list[tuple[int, int]] = []
        self.this_sentence: dict[tuple[str | None, str | None], list[int]] = {}
        self.standing: dict[str, list[Statement]] = {}
        self.item_of_word: dict[int, str | None] = {}

    def read(self) -> tuple[list[Statement], list[FlaggedWord]]:
        readings = read_targets(self.doc)
        zone = None
        for number, reading in enumerate(readings):
            if self.doc._.walk[number] != zone:
                zone, self.carried = self.doc._.walk[number], frozenset()
            self.this_sentence = {}
            if not reading.sentence[0]._.doubtful:
                self._hear_place(reading)
                for unit in units(self.doc, reading):
                    self._read_unit(unit, reading, number)
        return self.statements, self._flagged(readings)

    def _read_unit(self, unit: Unit, reading: SentenceReading, number: int) -> None:
        zone = self.doc._.walk[number]
        if unit.components:
            self._take_up(unit, reading, number, zone)
        elif not self._still_spoken_of(reading, number) or unit.foreign_subject:
            self._unplaced(unit, zone)
            return
        topic = self.topic
        if topic is None:
            return
        topic.returned |= any(
            cue._.cue.category is CueCategory.LATER_DONE for cue in unit.settling
        )
        spoken = list(zip(topic.components, topic.placed, strict=True))
        if not unit.components and unit.grouped:
            spoken = [pair for pair in topic.waiting if pair not in spoken] + spoken
        if unit.states_result:
            topic.waiting = []
        for mention, placed in spoken:
            self._say(unit, mention, placed)

    def _take_up(self, unit: Unit, reading: SentenceReading, number: int, zone: int) -> None:
        """Makes the unit's components what is being spoken of."""
        waiting: list[tuple[Span, Placed]] = []
        if self.topic is not None and self.topic.zone == zone:
            waiting = self.topic.waiting
        placed = []
        for mention in unit.components:
            said = self.places.said_with(self.doc, mention)
            every = mention._.plural or self._every(unit, mention)
            placed.append(
                self.places.place(mention._.term.concepts, said, self.zones[zone], self.carried, every)
            )
            self._carry(said)
        sentence = reading.sentence
        self.topic = Topic(
            components=list(unit.components),
            placed=placed,
            sentence=number,
            recording=sentence[0]._.recording,
            end=max(token._.end for token in sentence),
            zone=zone,
            waiting=[*waiting, *zip(unit.components, placed, strict=True)],
        )

    def _every(self, unit: Unit, mention: Span) -> bool:
        """Whether "both" or "all" is said of this mention."""
        near = self.doc[max(unit.start, mention.start - 4) : min(unit.end, mention.end + 4)]
        return any(token._.key in ("both", "all", "each", "every") for token in near)

    def _carry(self, said: list[str]) -> None:
        """Remembers the last position on each axis, for this stay in the zone."""
        axes = self.places.axes
        alternatives = self.places.alternatives(said)
        if said and len(alternatives) == 1:
            new = alternatives[0]
            kept = {name for name in self.carried if axes[name] not in {axes[one] for one in new}}
            self.carried = frozenset(kept | new)

    def _hear_place(self, reading: SentenceReading) -> None:
        """Carries a position that a sentence only announces ("number two system")."""
        mentions = within(self.doc, MENTIONS, reading.sentence.start, reading.sentence.end)
        kinds = {span.label_ for span in mentions}
        if not reading.targets and kinds and kinds <= {TermKind.POSITION.value, TermKind.ZONE.value}:
            said = [span for span in mentions if span.label_ == TermKind.POSITION.value]
            self._carry([span._.term.concepts[0] for span in said])

    def _still_spoken_of(self, reading: SentenceReading, number: int) -> bool:
        topic, first = self.topic, reading.sentence[0]
        return (
            topic is not None
            and topic.zone == self.doc._.walk[number]
            and topic.recording == first._.recording
            and number - topic.sentence <= _TOPIC_SENTENCES
            and first._.start - topic.end <= _TOPIC_SECONDS
        )

    def _say(self, unit: Unit, mention: Span, placed: Placed) -> None:
        """Makes the statements of a unit about one mention, one for each line it means."""
        components = [item.component for item in placed.items] or list(mention._.term.concepts[:1])
        for index, component in enumerate(components):
            item = placed.items[index] if placed.items else None
            defined = self.pack.components[component]
            quantities = [against_limits(span._.quantity, defined) for span in unit.quantities]
            earlier = self.standing.get(item.id, []) if item else []
            returned = self.topic is not None and self.topic.returned
            for said in say(unit, defined, quantities, earlier, self.pack, returned=returned):
                self._add(unit, mention, item, component, said, placed.certain)

    def _add(
        self, unit: Unit, mention: Span, item: SheetItem | None, component: str, said: Said, certain: float
    ) -> None:
        verdict, by_reference = said.verdict, said.by_reference
        if by_reference and not self._reference_holds(item):
            verdict = Verdict.NAMED
        start, end = self._extent(unit, mention, said)
        words = self.doc[start:end]
        repair = mention._.repair
        sureness = sum(token._.probability for token in words) / len(words)
        sureness *= certain if item else 0.5
        if repair is not None:
            sureness *= max(repair.phonetic_score, repair.spelling_score)
        statement = Statement(
            id=f"s{len(self.statements) + 1}",
            item=item.id if item else None,
            component=component,
            position=item.position if item else None,
            zone=item.zone if item else None,
            verdict=verdict,
            conditions=said.conditions,
            aspects=self._aspects(unit, said, verdict),
            quantities=said.quantities,
            by_reference=by_reference,
            clears=said.clears,
            evidence=evidence(self.doc, start, end),
            confidence=min(1.0, sureness),
        )
        for target in unit.targets:
            self.item_of_word.setdefault(target.span.start, item.id if item else None)
        if self._goes_on(statement, start, end) or self._repeats(unit, statement, start, end):
            return
        key = (statement.item, statement.component)
        self.this_sentence.setdefault(key, []).append(len(self.statements))
        self._keep(statement, start, end)
        if item is not None:
            self.standing.setdefault(item.id, []).append(statement)

    def _goes_on(self, new: Statement, start: int, end: int) -> bool:
        """Joins a statement to one of the same line, sentence and verdict; a bare name in the same sentence
        gives way to what is said of it."""
        for at in self.this_sentence.get((new.item, new.component), []):
            old = self.statements[at]
            same = old.verdict is new.verdict and old.by_reference == new.by_reference
            if old.clears or new.clears or not (same or old.verdict is Verdict.NAMED):
                continue
            first, last = self.extents[at]
            self.extents[at] = (min(first, start), max(last, end))
            old.verdict, old.by_reference = new.verdict, new.by_reference
            old.conditions += [name for name in new.conditions if name not in old.conditions]
            old.aspects = sorted({*old.aspects, *new.aspects})
            old.quantities += [one for one in new.quantities if one not in old.quantities]
            old.evidence = evidence(self.doc, *self.extents[at])
            old.confidence = min(old.confidence, new.confidence)
            return True
        return False

    def _repeats(self, unit: Unit, new: Statement, start: int, end: int) -> bool:
        """Joins a finding that the next sentence only says again ("there's a leak here. It's wet.")."""
        at = len(self.statements) - 1
        if at < 0 or unit.components or not new.conditions:
            return False
        old = self.statements[at]
        if (old.item, old.component, old.verdict) != (new.item, new.component, new.verdict):
            return False
        if not set(new.conditions) <= set(old.conditions) or new.quantities:
            return False
        self.extents[at] = (self.extents[at][0], max(self.extents[at][1], end))
        old.evidence = evidence(self.doc, *self.extents[at])
        return True

    def _extent(self, unit: Unit, mention: Span, said: Said) -> tuple[int, int]:
        """The words to quote: the unit, from the name where that was said shortly before, to a late answer."""
        start, end = min(unit.start, mention.start), max(unit.end, said.answered or 0)
        same = self.doc[start]._.recording == self.doc[unit.start]._.recording
        if not same or self.doc[unit.start]._.start - self.doc[start]._.start > _TOPIC_SECONDS:
            start = unit.start
        return start, end

    def _aspects(self, unit: Unit, said: Said, verdict: Verdict) -> list[str]:
        """Aspects that a result was stated of, sorted."""
        if verdict in (Verdict.NAMED, Verdict.LOOKED_FOR, Verdict.NOT_INSPECTED):
            return []
        stated = {
            name
            for span in within(self.doc, ASPECTS, unit.start, unit.end)
            for name in span._.aspect.concepts
        }
        for aspect in self.pack.aspects.values():
            if set(aspect.conditions) & set(said.spoken_of):
                stated.add(aspect.id)
        return sorted(stated)

    def _reference_holds(self, item: SheetItem | None) -> bool:
        """Whether the same component elsewhere was called satisfactory, and nothing worse."""
        if item is None:
            return False
        others = [
            statement
            for other in self.places.items[item.component]
            if other.id != item.id
            for statement in self.standing.get(other.id, [])
        ]
        good = any(one.verdict is Verdict.SATISFACTORY and not one.by_reference for one in others)
        bad = (Verdict.DEFECT, Verdict.NOT_INSPECTED, Verdict.NOT_FITTED, Verdict.REMARK)
        return good and not any(one.verdict in bad for one in others)

    def _unplaced(self, unit: Unit, zone: int) -> None:
        """A defect or remark said of nothing the pack knows is kept as an unplaced finding."""
        present = [
            target
            for target in unit.targets
            if target.is_condition and target.reading is FlaggedReading.PRESENT
        ]
        if not present:
            return
        limited = any(cue._.cue.category is CueCategory.WITHIN_LIMITS for cue in unit.settling)
        conditions = [target.span._.term.concepts[0] for target in present]
        serious = any(self.pack.conditions[name].serious for name in conditions)
        words = self.doc[unit.start : unit.end]
        statement = Statement(
            id=f"s{len(self.statements) + 1}",
            item=None,
            component=None,
            position=None,
            zone=self.zones[zone],
            verdict=Verdict.DEFECT if serious and not limited else Verdict.REMARK,
            conditions=conditions,
            quantities=[span._.quantity for span in unit.quantities],
            evidence=evidence(self.doc, unit.start, unit.end),
            confidence=0.5 * sum(token._.probability for token in words) / len(words),
        )
        self._keep(statement, unit.start, unit.end)

    def _keep(self, statement: Statement, start: int, end: int) -> None:
        self.statements.append(statement)
        self.extents.append((start, end))

    def _flagged(self, readings: list[SentenceReading]) -> list[FlaggedWord]:
        flagged = []
        for reading in readings:
            for target in reading.targets:
                if target.is_condition:
                    flagged.append(self._flagged_word(reading, target))
        return flagged

    def _flagged_word(self, reading: SentenceReading, target: Target) -> FlaggedWord:
        span, sentence = target.span, reading.sentence
        return FlaggedWord(
            word=span._.repair.became if span._.repair else span.text,
            condition=span._.term.concepts[0],
            reading=target.reading,
            item=self.item_of_word.get(span.start),
            evidence=evidence(self.doc, sentence.start, max(sentence.end, target.answered or 0)),
        )
