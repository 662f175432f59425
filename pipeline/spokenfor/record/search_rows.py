"""What of an inspection can be searched for: its words, lines, findings, people, dates and decisions?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from spokenfor.models import Evidence, Result, Transcript
from spokenfor.record.archive_copy import MACHINE, review_words
from spokenfor.record.folder import read_inspection
from spokenfor.record.reviewed import reviewed
from spokenfor.reporting.deciding import deciding_evidence
from spokenfor.reporting.gaps import zones_in_order
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.pdf_data import Decision
from spokenfor.reporting.wording import day_and_time, moment_of, plain, spaced, status_words

INSPECTION, FINDING, ITEM, DECISION, SAID = "inspection", "finding", "item", "decision", "said"


@dataclass(frozen=True)
class Row:
    """Something that can be found: `text` is searched, the rest is shown. `line` is its line of the sheet or
    what it is about, `state` a status or verdict in words; `start`, `end` in seconds of the recording (from 0);
    `times` the start of each word of `text` in hundredths of a second, where that is known."""

    kind: str
    text: str
    line: str | None = None
    state: str | None = None
    recording: int | None = None
    start: float | None = None
    end: float | None = None
    times: tuple[int, ...] = ()


@dataclass(frozen=True)
class Line:
    """Seconds of a recording that speak of a line of the sheet."""

    recording: int
    start: float
    end: float
    line: str
    state: str


@dataclass(frozen=True)
class Defect:
    """A finding as it is compared between inspections: which component, where, what is wrong."""

    component: str
    position: str
    condition: str
    label: str
    verdict: str
    note: str | None
    recording: int
    start: float
    text: str


@dataclass(frozen=True)
class Rows:
    """All that the index keeps of one inspection. `identity` is the same for a folder and the bags sealed from
    it; `moment` is when it was made, in seconds since 1970; `head` its asset, people and date as text."""

    identity: str
    asset: str | None
    by: str | None
    started: str
    moment: int
    head: str
    entries: int
    recordings: int
    rows: list[Row] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    defects: list[Defect] = field(default_factory=list)


def rows_of(folder: Path) -> Rows:
    """Read an inspection, as reviewed, without writing to it. Raises InputError where it is broken."""
    inspection = read_inspection(folder)
    log = inspection.log.entries
    result, decisions = inspection.result, list[Decision]()
    if any(entry.action not in MACHINE for entry in log):
        review = reviewed(result, log)
        result = review.result
        words = review_words(review, log).decisions
        decisions = [
            said for entry, said in zip(log, words, strict=True) if entry.action not in MACHINE
        ]
    head = result.inspection
    people = dict.fromkeys(filter(None, [head.by, *(one.by for one in decisions)]))
    told = [head.asset, *people, head.started[:10], day_and_time(head.started)]
    particulars = ". ".join(filter(None, told))
    rows = Rows(
        identity=inspection.settings.inspection,
        asset=head.asset,
        by=head.by,
        started=head.started,
        moment=_moment(head.started),
        head=particulars,
        entries=len(log),
        recordings=len(result.recordings),
    )
    files = [one.file for one in result.recordings]
    whole = [particulars, head.pack.title, head.pack.name, rows.identity, *files]
    rows.rows.append(Row(INSPECTION, ". ".join(whole)))
    rows.rows.extend(_findings(result))
    rows.rows.extend(_items(result))
    for one in decisions:
        why = f": {one.why}" if one.why else ""
        rows.rows.append(Row(DECISION, f"{one.what}{why}", line=one.by, state=day_and_time(one.at)))
    rows.rows.extend(_said(inspection.transcript))
    rows.rows.extend(_reworded(result))
    rows.lines.extend(_lines(result))
    rows.defects.extend(_defects(result))
    return rows


def _findings(result: Result) -> Iterator[Row]:
    labels = Labels(result)
    for one in result.findings:
        state = spaced(one.verdict.value)
        evidence = one.evidence
        yield Row(
            FINDING,
            f"{labels.finding(one)}, {state}. {evidence.text}",
            labels.thing(one),
            state,
            evidence.recording,
            evidence.start,
            evidence.end,
        )


def _items(result: Result) -> Iterator[Row]:
    zones = {zone.id: zone.name for zone in zones_in_order(result)}
    statements = {one.id: one for one in result.statements}
    for item in result.items:
        state = ", ".join(filter(None, [status_words(item), item.note]))
        evidence = deciding_evidence(item, statements)
        yield Row(
            ITEM,
            f"{item.label}, {state}. {zones[item.zone]}",
            item.label,
            state,
            evidence.recording if evidence else None,
            evidence.start if evidence else None,
            evidence.end if evidence else None,
        )


def _said(transcript: Transcript) -> Iterator[Row]:
    for segment in transcript.segments:
        said = [(part, word.start) for word in segment.words for part in word.text.split()]
        yield Row(
            SAID,
            " ".join(part for part, _ in said),
            recording=segment.recording,
            start=segment.start,
            end=segment.end,
            times=tuple(round(start * 100) for _, start in said),
        )


def _reworded(result: Result) -> Iterator[Row]:
    """Words as repaired or corrected, where they are others than those first heard; each passage once."""
    told: set[tuple[int, float, str]] = set()
    for one in result.statements:
        evidence: Evidence = one.evidence
        key = (evidence.recording, evidence.start, evidence.text)
        if evidence.text != evidence.heard and key not in told:
            told.add(key)
            yield Row(
                SAID, evidence.text, None, None, evidence.recording, evidence.start, evidence.end
            )


def _lines(result: Result) -> Iterator[Line]:
    for item in result.items:
        state = status_words(item)
        for one in item.evidence:
            yield Line(one.recording, one.start, one.end, item.label, state)


def _defects(result: Result) -> Iterator[Defect]:
    labels = Labels(result)
    for one in result.findings:
        item = labels.item_of(one.item)
        component = one.component or (item.component if item else None)
        if component is None:
            continue
        position = one.position or (item.position if item else None) or ""
        what = plain(one.condition) if one.condition else "condition not named"
        yield Defect(
            component=component,
            position=position,
            condition=one.condition or "",
            label=f"{labels.thing(one)}: {what}",
            verdict=one.verdict.value,
            note=one.note,
            recording=one.evidence.recording,
            start=one.evidence.start,
            text=one.evidence.text,
        )


def _moment(started: str) -> int:
    """Seconds since 1970; 0 where the text is no time."""
    moment = moment_of(started)
    return max(0, int(moment.timestamp())) if moment else 0
