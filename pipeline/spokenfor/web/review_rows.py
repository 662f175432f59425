"""Which lines does a person decide on, in which order, and what was decided on each?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spokenfor.models import Finding, Item, ItemStatus, Verdict
from spokenfor.record.entries import Action, Entry
from spokenfor.reporting.gaps import is_covered
from spokenfor.reporting.lines import Lines, Quote
from spokenfor.reporting.timeline import Passage
from spokenfor.reporting.wording import STATUS_WORDS, status_shape, status_words
from spokenfor.web.opened import Opened

DECIDING = {Action.ACCEPT, Action.CHANGE_STATUS, Action.PLACE_FINDING}


@dataclass(frozen=True)
class ReviewRow:
    """An item or finding: where it stands, the words behind it, why it is still open, who decided what.
    `plays` is the passage that the key for playing plays."""

    id: str
    kind: str
    label: str
    zone: str
    shape: str
    words: str
    status: str
    listen: bool
    confidence: float | None
    plays: Passage | None
    quotes: Sequence[Quote]
    why: str | None
    open: str | None
    decided: Sequence[Entry]
    wants_place: bool
    statuses: Sequence[tuple[str, str]]


@dataclass(frozen=True)
class ReviewList:
    """All rows, those still to be decided first, then findings, what is not covered, and the rest."""

    todo: list[ReviewRow]
    findings: list[ReviewRow]
    missing: list[ReviewRow]
    rest: list[ReviewRow]
    gone: list[str]

    def find(self, subject: str) -> ReviewRow | None:
        """The row of an item or finding."""
        rows = [*self.todo, *self.findings, *self.missing, *self.rest]
        return next((one for one in rows if one.id == subject), None)


def review_list(opened: Opened) -> ReviewList:
    """Lay out the review of an inspection."""
    review = opened.review
    lines = Lines(review.result, opened.timeline)
    why_open = {one.subject: one.why for one in review.open}
    entries = {one.number: one for one in opened.inspection.log.entries}

    def decided(subject: str) -> list[Entry]:
        return [entries[one] for one in review.decided.get(subject, [])]

    rows = [
        _finding(opened, lines, number, one, why_open.get(one.id), decided(one.id))
        for number, one in enumerate([*review.result.findings, *review.dismissed])
    ]
    items = {
        one.id: _item(opened, lines, one, why_open.get(one.id), decided(one.id))
        for one in review.result.items
    }
    everything = [*rows, *items.values()]
    missing = {one.id for one in review.result.items if one.required and not is_covered(one)}
    return ReviewList(
        todo=[one for one in everything if one.open],
        findings=[one for one in rows if not one.open],
        missing=[one for one in items.values() if not one.open and one.id in missing],
        rest=[one for one in items.values() if not one.open and one.id not in missing],
        gone=[one.label for one in review.open if one.subject.startswith("entry ")],
    )


def _item(
    opened: Opened, lines: Lines, item: Item, why_open: str | None, decided: list[Entry]
) -> ReviewRow:
    line = lines.item(item)
    return ReviewRow(
        id=item.id,
        kind="item",
        label=item.label,
        zone=_zone(opened, item.zone),
        shape=status_shape(item),
        words=status_words(item) + (f", {item.note}" if item.note else ""),
        status=item.status.value,
        listen=item.listen,
        confidence=item.confidence if line.quotes else None,
        plays=line.decides or (line.listen[0] if line.listen else None),
        quotes=line.quotes,
        why=line.why,
        open=why_open,
        decided=decided,
        wants_place=False,
        statuses=[(one.value, STATUS_WORDS[one]) for one in ItemStatus],
    )


def _finding(
    opened: Opened,
    lines: Lines,
    number: int,
    finding: Finding,
    why_open: str | None,
    decided: list[Entry],
) -> ReviewRow:
    line = lines.finding(number, finding)
    kept = finding.verdict in (Verdict.DEFECT, Verdict.REMARK)
    verdict = STATUS_WORDS[ItemStatus(finding.verdict.value)]
    return ReviewRow(
        id=finding.id,
        kind="finding",
        label=f"{line.thing}: {line.condition}" if line.condition else line.thing,
        zone=line.zone or "on no line of the sheet",
        shape=finding.verdict.value,
        words=verdict if kept else f"dismissed: {verdict}",
        status=finding.verdict.value,
        listen=finding.listen,
        confidence=finding.confidence,
        plays=line.quote.passage,
        quotes=[line.quote, *line.later],
        why=None,
        open=why_open,
        decided=decided,
        wants_place=line.item_number is None,
        statuses=[(one.value, STATUS_WORDS[ItemStatus(one.value)]) for one in Verdict],
    )


def _zone(opened: Opened, zone: str) -> str:
    names = {one.id: one.name for one in opened.review.result.zones}
    return names.get(zone, zone.replace("-", " "))
