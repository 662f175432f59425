"""What does each line of the page show: items, findings, flagged words, words on no item?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spokenfor.models import (
    Evidence,
    Finding,
    FlaggedWord,
    Item,
    ItemStatus,
    Result,
    Statement,
    Verdict,
    ZoneWalk,
)
from spokenfor.reporting.deciding import deciding_evidence
from spokenfor.reporting.gaps import zones_in_order
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.timeline import Passage, Span, Timeline
from spokenfor.reporting.wording import (
    READING_WORDS,
    REASON_WORDS,
    STATUS_WORDS,
    plain,
    quantity_words,
    status_shape,
    status_words,
)

_TO_HEAR = 8
"""Stretches of sound that a line offers to be heard; beyond that the walk shows them."""


@dataclass(frozen=True)
class Quote:
    """Words behind a line, as heard and as read, with what they were taken to say."""

    passage: Passage
    heard: str
    text: str
    says: str | None = None
    facts: Sequence[str] = ()


@dataclass(frozen=True)
class ItemLine:
    """A line of the sheet: `decides` is the passage that gave its status, None where nothing was
    said; `why` then says so and `listen` is what to hear instead."""

    number: int
    item: Item
    shape: str
    words: str
    stated: str
    missing: str
    decides: Passage | None
    quotes: list[Quote]
    why: str | None
    listen: list[Passage]


@dataclass(frozen=True)
class FindingLine:
    """A finding; `item_number` leads to its line of the sheet and is None where it is unplaced;
    `later` is what settled it afterwards."""

    number: int
    finding: Finding
    thing: str
    condition: str | None
    zone: str | None
    item_number: int | None
    quote: Quote
    later: list[Quote]


@dataclass(frozen=True)
class FlaggedLine:
    """A flagged word within the words around it, and how it was read."""

    reading: str
    reading_words: str
    word: str
    condition: str
    before: str
    said: str
    after: str
    heard: str | None
    item: str | None
    passage: Passage


def findings_in_order(result: Result) -> list[Finding]:
    """Defects first, then the others, each in time order."""
    return sorted(
        result.findings, key=lambda one: (one.verdict is not Verdict.DEFECT, *_moment(one))
    )


def flagged_in_order(result: Result) -> list[FlaggedWord]:
    """The flagged words in time order."""
    return sorted(result.flagged_words, key=_moment)


def _moment(said: Finding | FlaggedWord) -> tuple[int, float]:
    return said.evidence.recording, said.evidence.start


class Lines:
    """Makes the lines of one result."""

    def __init__(self, result: Result, timeline: Timeline) -> None:
        self._result = result
        self._timeline = timeline
        self._labels = Labels(result)
        self._statements = {one.id: one for one in result.statements}
        self._numbers = {item.id: number for number, item in enumerate(result.items)}
        self._zones = {zone.id: zone for zone in zones_in_order(result)}
        self._silences: dict[tuple[str, ItemStatus], tuple[str, list[Passage]]] = {}

    def item(self, item: Item) -> ItemLine:
        """The line of an item with everything said about it, in time order."""
        quotes = [
            self.statement(self._statements[one])
            for one in item.statements
            if one in self._statements
        ]
        told = {(one.passage.recording, one.passage.start, one.passage.end) for one in quotes}
        for evidence in item.evidence:
            quote = self._quote(evidence)
            if (evidence.recording, quote.passage.start, quote.passage.end) not in told:
                quotes.append(quote)
        why, listen = self._silence(item)
        decides = deciding_evidence(item, self._statements)
        return ItemLine(
            number=self._numbers[item.id],
            item=item,
            shape=status_shape(item),
            words=status_words(item),
            stated=", ".join(plain(one.name) for one in item.aspects if one.stated),
            missing=", ".join(plain(one.name) for one in item.aspects if not one.stated),
            decides=self._timeline.passage(decides) if decides else None,
            quotes=quotes,
            why=why,
            listen=listen,
        )

    def finding(self, number: int, finding: Finding) -> FindingLine:
        """The line of a finding, placed or not."""
        item = self._labels.item_of(finding.item)
        return FindingLine(
            number=number,
            finding=finding,
            thing=self._labels.thing(finding),
            condition=plain(finding.condition) if finding.condition else None,
            zone=self._labels.zone(item.zone) if item else None,
            item_number=self._numbers[item.id] if item else None,
            quote=self._quote(
                finding.evidence,
                facts=[
                    *map(quantity_words, finding.quantities),
                    f"confidence {finding.confidence:.2f}",
                ],
            ),
            later=self._later(finding, item) if item else [],
        )

    def statement(self, statement: Statement) -> Quote:
        """The quote of a statement, with its verdict in words."""
        says = STATUS_WORDS[ItemStatus(statement.verdict.value)]
        says += ", by reference" if statement.by_reference else ""
        says += ", settles what was said before" if statement.clears else ""
        says += ", in words that no phrase lists" if statement.unlisted is not None else ""
        facts = [
            *map(plain, statement.conditions),
            *map(quantity_words, statement.quantities),
            f"confidence {statement.confidence:.2f}",
        ]
        return self._quote(statement.evidence, says, facts)

    def stray(self) -> list[tuple[str, Quote]]:
        """Everything said of no line of the sheet that does not stand among the findings."""
        found = [finding.evidence for finding in self._result.findings]
        return [
            (self._labels.thing(one), self.statement(one))
            for one in self._result.statements
            if self._labels.item_of(one.item) is None and one.evidence not in found
        ]

    def flagged(self, flagged: FlaggedWord) -> FlaggedLine:
        """The row of a flagged word, with the word set apart in its words."""
        evidence = flagged.evidence
        at = evidence.text.casefold().find(flagged.word.casefold())
        end = at + len(flagged.word)
        if at < 0:
            at = end = len(evidence.text)
        item = self._labels.item_of(flagged.item)
        return FlaggedLine(
            reading=flagged.reading.value,
            reading_words=READING_WORDS[flagged.reading],
            word=flagged.word,
            condition=plain(flagged.condition),
            before=evidence.text[:at],
            said=evidence.text[at:end],
            after=evidence.text[end:],
            heard=evidence.heard if evidence.heard != evidence.text else None,
            item=item.label if item else None,
            passage=self._timeline.passage(evidence),
        )

    def _later(self, finding: Finding, item: Item) -> list[Quote]:
        said = (finding.evidence.recording, finding.evidence.start)
        statements = [self._statements[one] for one in item.statements if one in self._statements]
        return [
            self.statement(one)
            for one in statements
            if one.clears and (one.evidence.recording, one.evidence.start) > said
        ]

    def _quote(
        self, evidence: Evidence, says: str | None = None, facts: Sequence[str] = ()
    ) -> Quote:
        passage = self._timeline.passage(evidence)
        return Quote(passage, evidence.heard, evidence.text, says, facts)

    def _silence(self, item: Item) -> tuple[str | None, list[Passage]]:
        said = {
            ItemStatus.NOT_MENTIONED: self._not_mentioned,
            ItemStatus.UNHEARD: self._unheard,
        }.get(item.status)
        if said is None:
            return None, []
        key = (item.zone, item.status)
        if key not in self._silences:
            self._silences[key] = said(self._zones[item.zone])
        return self._silences[key]

    def _not_mentioned(self, zone: ZoneWalk) -> tuple[str, list[Passage]]:
        if not zone.visits:
            return "Nothing was heard about it, and its zone was not walked.", []
        passages, which = self._longest(zone.visits)
        return f"Nothing was heard about it. Its zone was walked here{which}:", passages

    def _unheard(self, zone: ZoneWalk) -> tuple[str, list[Passage]]:
        stretches = [one for one in self._result.unheard if zone.id in one.zones]
        reasons = ", ".join(dict.fromkeys(REASON_WORDS[one.reason] for one in stretches))
        if not stretches and not zone.side_sure:
            why = "Something was heard, but not on which side of the machine."
            return why, self._longest(zone.visits)[0]
        if not stretches:
            return "It may have been spoken of where the sound could not be heard.", []
        passages, which = self._longest(stretches)
        said = f"It may have been spoken of here, where it was not heard ({reasons}{which}):"
        return said, passages

    def _longest(self, stretches: Sequence[Span]) -> tuple[list[Passage], str]:
        """No more stretches than are worth a button each, in time order, and how that is said."""
        longest = {
            id(one) for one in sorted(stretches, key=lambda one: one.start - one.end)[:_TO_HEAR]
        }
        passages = [self._timeline.passage(one) for one in stretches if id(one) in longest]
        left_out = len(stretches) > len(passages)
        return passages, f"; the {_TO_HEAR} longest of {len(stretches)}" if left_out else ""
