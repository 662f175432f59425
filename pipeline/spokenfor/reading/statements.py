"""What is said of each line of the sheet: units of speech become statements."""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading, FlaggedWord, Statement, Verdict
from spokenfor.packs.load import Pack, SheetItem, load_pack
from spokenfor.packs.schema import CueCategory
from spokenfor.reading.approval import ends_noted, is_noted
from spokenfor.reading.assertion import read_targets
from spokenfor.reading.clause_weights import weights
from spokenfor.reading.document import ASPECTS, CUES, evidence, is_word, table_of, within
from spokenfor.reading.echoes import Echoes
from spokenfor.reading.flagged import flagged_words
from spokenfor.reading.gathering import faults_one, gathered
from spokenfor.reading.mending import Mending
from spokenfor.reading.places import Placed, Places
from spokenfor.reading.quantities import against_limits
from spokenfor.reading.statement_log import Entry, StatementLog, doubt
from spokenfor.reading.targets import SentenceReading
from spokenfor.reading.topic import TOPIC_SECONDS, TOPIC_SENTENCES, Attention, comes_back
from spokenfor.reading.unit import Unit
from spokenfor.reading.units import units
from spokenfor.reading.unlisted import DOUBT
from spokenfor.reading.verdicts import Said, say

# How much less sure a statement is that could not be placed on one line.
_UNPLACED = 0.5
_IN_BETWEEN = 3


@Language.factory("spokenfor_statements", default_config={"pack": ""})
def create_statements(nlp: Language, name: str, pack: str) -> Statements:
    weights()
    return Statements(load_pack(pack))


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
    """One reading of a Doc from beginning to end."""

    def __init__(self, stage: Statements, doc: Doc) -> None:
        self.pack, self.places, self.zones = stage.pack, stage.places, stage.zones
        self.doc = doc
        self.attention = Attention(doc, stage.places, stage.zones)
        self.echoes = Echoes(doc)
        self.mending = Mending(doc)
        self.log = StatementLog(doc)
        self.item_of_word: dict[int, str | None] = {}
        self.returned = -2
        self.pending: list[tuple[int, Unit]] = []

    def read(self) -> tuple[list[Statement], list[FlaggedWord]]:
        readings = read_targets(self.doc)
        for number, reading in enumerate(readings):
            if table_of(self.doc).doubtful[reading.sentence.start]:
                continue
            self.attention.enter(reading, self.doc._.walk[number])
            self.mending.enter(reading, number)
            if comes_back(self.doc, reading):
                self.returned = number
            for unit in units(self.doc, reading):
                self._read_unit(unit, reading, number)
            if (noted := ends_noted(self.doc, reading)) is not None:
                self.log.note(number, here=noted)
        return self.log.statements, flagged_words(self.doc, readings, self.item_of_word)

    def _read_unit(self, unit: Unit, reading: SentenceReading, number: int) -> None:
        if reading.is_aside(unit.start) and not any(one.answered for one in unit.targets):
            return
        zone = self.doc._.walk[number]
        self.echoes.take_up(unit, number)
        if unit.components:
            self.attention.take_up(unit, reading, number, zone)
        elif not self.attention.holds(reading, number, zone) or (
            unit.foreign_subject
            and not (unit.tells_fault and self.attention.on_one_line(unit, number))
        ):
            self._unplaced(unit, number)
            if not unit.foreign_subject:
                self.pending.append((number, unit))
            elif unit.tells_fault:  # "Great on box one, *box two just hisses*."
                doubt(self.log.made_in(number), DOUBT)
            return
        elif self._only_softens(unit) and self._soften(unit, number, None):
            return
        topic = self.attention.topic
        if topic is None:
            return
        if unit.components and not unit.states_something and self._closes(reading):
            for before, one in self.pending:
                if number - before <= TOPIC_SENTENCES:
                    for mention, placed in topic.spoken_of:
                        self._say(one, mention, placed, number, False)
        topic = self.attention.about(unit, self._speaks_of) or topic
        self.pending = []
        topic.returned |= number - self.returned <= 1
        spoken = topic.spoken_of
        if not unit.components and unit.grouped:
            spoken = gathered(self.doc, unit, topic, self.log.standing)
        if unit.states_result:
            said_of = {mention.start for mention, _ in spoken}
            kept = topic.waiting if unit.excepted or faults_one(unit, topic) else []
            topic.waiting = [pair for pair in kept if pair[0].start not in said_of]
        for mention, placed in spoken:
            self._say(unit, mention, placed, number, topic.returned)

    def _speaks_of(self, unit: Unit, component: str) -> bool:
        """Whether a component has an aspect that a flagged word of a unit speaks of."""
        aspects = [self.pack.aspects[name] for name in self.pack.components[component].aspects]
        spoken = {name for aspect in aspects for name in aspect.conditions}
        said = {target.span._.term.concepts[0] for target in unit.targets if target.is_condition}
        return not said or not said.isdisjoint(spoken)

    def _closes(self, reading: SentenceReading) -> bool:
        """Whether a sentence only says what was spoken of before it ("that's the fin done")."""
        cues = within(self.doc, CUES, reading.sentence.start, reading.sentence.end)
        return any(cue.label_ == CueCategory.CLOSING for cue in cues)

    def _soften(self, unit: Unit, number: int, item: str | None) -> bool:
        """Makes remarks of the defects that a unit softens, with what it measures. True where there were
        any."""
        limited = CueCategory.WITHIN_LIMITS in unit.settled
        noted = is_noted(unit)
        softened = self.log.soften(number, limited=limited, noted=noted, item=item)
        for statement in softened:
            defined = self.pack.components[statement.component] if statement.component else None
            if defined is not None:
                statement.quantities += [
                    against_limits(span._.quantity, defined) for span in unit.quantities
                ]
        return bool(softened)

    @staticmethod
    def _only_softens(unit: Unit) -> bool:
        """Whether a unit only says that what was found is within limits, or of no matter."""
        conditions = any(
            target.is_condition and target.reading is not FlaggedReading.ABSENT
            for target in unit.targets
        )
        soft = {CueCategory.WITHIN_LIMITS, CueCategory.HARMLESS} & unit.settled
        return bool(soft) and not conditions and unit.settled == soft

    def _say(self, unit: Unit, mention: Span, placed: Placed, number: int, returned: bool) -> None:
        """Makes the statements of a unit about one mention, for each line it means."""
        components = [item.component for item in placed.items] or list(mention._.term.concepts[:1])
        for index, component in enumerate(components):
            item = placed.items[index] if placed.items else None
            defined = self.pack.components[component]
            quantities = [against_limits(span._.quantity, defined) for span in unit.quantities]
            earlier = self.log.standing.get(item.id, []) if item else []
            softens = item is not None and self._only_softens(unit)
            if item is not None and softens and self._soften(unit, number, item.id):
                continue
            doubt(earlier, unit.doubt)
            again = returned or (item is not None and self._named_afresh(mention, item))
            mended = self.mending.mended(unit, component, number)
            for said in say(
                unit, defined, quantities, earlier, self.pack, returned=again, mended=mended
            ):
                start, end = self._extent(unit, mention, said)
                statement = self._statement(unit, item, component, said, start, end)
                sure = self._confidence(mention, start, end, placed, item)
                statement.confidence = sure * (unit.unlisted or 1.0)
                self.log.add(Entry(statement, start, end, number, [unit]))
            for target in unit.targets:
                self.item_of_word.setdefault(target.span.start, item.id if item else None)

    def _named_afresh(self, mention: Span, item: SheetItem) -> bool:
        """Whether a line that was left out is named again, something having been said in between: whoever does
        so has been back to it ("... can't see it. *I've found a mirror.* Breather pipe, clear")."""
        left = self.log.left_out(item.id)
        if left is None or mention.start < left:
            return False
        return sum(map(is_word, self.doc[left : mention.start])) >= _IN_BETWEEN

    def _statement(
        self, unit: Unit, item: SheetItem | None, component: str, said: Said, start: int, end: int
    ) -> Statement:
        verdict = said.verdict
        if said.by_reference and not self._reference_holds(item):
            verdict = Verdict.NAMED
            fault = self.log.fault_just_told(component, unit.start)
            if fault is not None:
                # "Left mirror's cracked, same for the right."
                verdict, said.conditions, said.by_reference = (
                    Verdict.DEFECT,
                    list(fault.conditions),
                    False,
                )
        return Statement(
            id=self.log.next_id,
            item=item.id if item else None,
            component=component,
            position=item.position if item else None,
            zone=item.zone if item else None,
            verdict=verdict,
            conditions=said.conditions,
            aspects=self._aspects(unit, said, verdict),
            quantities=said.quantities,
            by_reference=said.by_reference,
            clears=said.clears,
            unlisted=unit.unlisted if verdict in (Verdict.SATISFACTORY, Verdict.DEFECT) else None,
            evidence=evidence(self.doc, start, end),
            confidence=0.0,
        )

    def _confidence(
        self, mention: Span, start: int, end: int, placed: Placed, item: SheetItem | None
    ) -> float:
        """Mean probability of the words, less where the name was repaired or the line inferred."""
        words = table_of(self.doc).probability[start:end]
        sureness = sum(words) / len(words)
        sureness *= placed.certain if item else _UNPLACED
        repair = mention._.repair
        if repair is not None:
            sureness *= max(repair.phonetic_score, repair.spelling_score)
        return float(min(1.0, sureness))

    def _extent(self, unit: Unit, mention: Span, said: Said) -> tuple[int, int]:
        """The words to quote: the unit, from the name where that was said shortly before, to a late answer."""
        start, end = min(unit.start, mention.start), max(unit.end, said.answered or 0)
        table = table_of(self.doc)
        same = table.recording[start] == table.recording[unit.start]
        if not same or table.start[unit.start] - table.start[start] > TOPIC_SECONDS:
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
            for statement in self.log.standing.get(other.id, [])
        ]
        good = any(one.verdict is Verdict.SATISFACTORY and not one.by_reference for one in others)
        bad = (Verdict.DEFECT, Verdict.NOT_INSPECTED, Verdict.NOT_FITTED, Verdict.REMARK)
        return good and not any(one.verdict in bad for one in others)

    def _unplaced(self, unit: Unit, number: int) -> None:
        """A defect or remark said of nothing the pack knows is kept as an unplaced finding."""
        present = [
            target
            for target in unit.targets
            if target.is_condition and target.reading is FlaggedReading.PRESENT
        ]
        if not present:
            return
        limited = CueCategory.WITHIN_LIMITS in unit.settled
        harmless = CueCategory.HARMLESS in unit.settled
        if limited:
            for target in present:
                target.reading = FlaggedReading.WITHIN_LIMITS
        conditions = [target.span._.term.concepts[0] for target in present]
        serious = any(self.pack.conditions[name].serious for name in conditions)
        words = table_of(self.doc).probability[unit.start : unit.end]
        statement = Statement(
            id=self.log.next_id,
            item=None,
            component=None,
            position=None,
            zone=self.zones[self.doc._.walk[number]],
            verdict=Verdict.DEFECT if serious and not (limited or harmless) else Verdict.REMARK,
            conditions=conditions,
            quantities=[span._.quantity for span in unit.quantities],
            evidence=evidence(self.doc, unit.start, unit.end),
            confidence=_UNPLACED * sum(words) / len(words),
        )
        self.log.add(Entry(statement, unit.start, unit.end, number, [unit]))
