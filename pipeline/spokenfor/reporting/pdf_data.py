"""What stands in report.pdf, part by part, as plain text for the template to set?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from spokenfor.models import Finding, Item, Result
from spokenfor.reporting.gaps import (
    ZoneItems,
    bottom_line,
    by_zone,
    is_covered,
    unheard_seconds,
)
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.lines import ItemLine, Lines, Quote, findings_in_order, flagged_in_order
from spokenfor.reporting.pdf_first import first_page
from spokenfor.reporting.sound_quality import sound_lines
from spokenfor.reporting.timeline import Timeline
from spokenfor.reporting.wording import (
    REASON_WORDS,
    counted,
    day_and_time,
    duration,
    spaced,
    status_shape,
)

_ITEM_QUOTES = 6
"""Quotes that one line of the sheet shows; the rest is counted (report.json has them all)."""


@dataclass(frozen=True)
class Decision:
    """What a person did to the record, in words: `standing` is False where it was taken back or overtaken."""

    entry: int
    at: str
    by: str
    what: str
    why: str | None = None
    standing: bool = True


@dataclass(frozen=True)
class ReviewWords:
    """The review as it is to be printed. `state` is one sentence; `open` the label of each undecided point
    and why it is one; `marks` what to print beside a subject (id of an item or finding)."""

    state: str
    entries: int
    head: str
    decisions: Sequence[Decision] = ()
    open: Sequence[tuple[str, str]] = ()
    marks: Mapping[str, str] = field(default_factory=dict)
    dismissed: Sequence[Finding] = ()


NOT_REVIEWED = "A proposal: no named person has reviewed it."


def pdf_data(
    result: Result, review: ReviewWords | None, versions: Mapping[str, str] | None
) -> dict[str, Any]:
    """Everything the template prints, as JSON would hold it: text, lists and tables, no markup. `result` is
    the reviewed one where there is a review; `versions` by name of distribution."""
    timeline, labels = Timeline(result.recordings, ()), Labels(result)
    lines = Lines(result, timeline)
    marks = review.marks if review else {}
    inspection = result.inspection
    return {
        "id": inspection.id,
        "asset": inspection.asset or "Asset not stated",
        "pack": f"{inspection.pack.title} ({inspection.pack.name} {inspection.pack.version})",
        "by": inspection.by or "a person not stated",
        "started": day_and_time(inspection.started),
        "sound": f"{counted(len(result.recordings), 'recording')}, {duration(timeline.total)}",
        "state": review.state if review else NOT_REVIEWED,
        "figures": _figures(result),
        "first": first_page(result, review.open if review else ()),
        "findings": [_finding(lines, one, marks) for one in findings_in_order(result)],
        "sheet": [_zone(lines, timeline, zone, marks) for zone in by_zone(result, result.items)],
        "flagged": [_flagged(lines, one) for one in flagged_in_order(result)],
        "stray": [{"thing": thing, **_quote(quote)} for thing, quote in lines.stray()],
        "repairs": [
            {
                "heard": one.heard,
                "became": one.became,
                "time": timeline.passage(one.evidence).span,
                "sound": None if one.sound_score is None else f"{one.sound_score:+.1f}",
                "alike": f"{one.phonetic_score:.2f}",
                "why": one.why,
                "turns": one.turns,
            }
            for one in result.repairs
        ],
        "unheard": [
            {
                "time": timeline.passage(one).span,
                "seconds": duration(one.end - one.start),
                "reason": REASON_WORDS[one.reason],
                "zones": ", ".join(map(labels.zone, one.zones)),
            }
            for one in result.unheard
        ],
        "unheard_total": duration(unheard_seconds(result)),
        "review": _review(lines, review) if review else None,
        "record": _record(result, timeline, versions or {}),
        "cautions": list(result.cautions),
    }


def _figures(result: Result) -> list[list[str]]:
    """The bottom line as figures with their words: "41 of 52", "required items covered"."""
    line = bottom_line(result)
    figures = []
    for words in (line.covered, line.missing, line.defects, line.remarks, line.unheard):
        first, _, rest = words.partition(" ")
        if rest.startswith("of "):
            _, total, rest = rest.split(" ", 2)
            first = f"{first} of {total}"
        figures.append([first, rest])
    return figures


def _finding(lines: Lines, finding: Finding, marks: Mapping[str, str]) -> dict[str, Any]:
    line = lines.finding(0, finding)
    return {
        "id": finding.id,
        "shape": finding.verdict.value,
        "verdict": spaced(finding.verdict.value),
        "thing": line.thing,
        "condition": line.condition,
        "note": finding.note,
        "listen": finding.listen,
        "place": line.zone or "Unplaced: no single line of the sheet fits",
        "quote": _quote(line.quote),
        "later": [_quote(one) for one in line.later],
        "mark": marks.get(finding.id),
    }


def _zone(
    lines: Lines, timeline: Timeline, group: ZoneItems, marks: Mapping[str, str]
) -> dict[str, Any]:
    required = [item for item in group.items if item.required]
    visits = [timeline.passage(visit).span for visit in group.zone.visits]
    walked = f"walked {'; '.join(visits)}" if visits else "not walked, as far as was heard"
    if visits and not group.zone.side_sure:
        walked += "; which side was not said"
    return {
        "name": group.zone.name,
        "covered": f"{sum(map(is_covered, required))} of {len(required)} required covered",
        "walked": walked,
        "items": [_item(lines.item(item), item, marks) for item in group.items],
    }


def _item(line: ItemLine, item: Item, marks: Mapping[str, str]) -> dict[str, Any]:
    small = [item.ata and f"ATA {item.ata}", None if item.required else "not required"]
    words = [line.words, item.note]
    quotes = [_quote(one) for one in line.quotes]
    return {
        "shape": status_shape(item),
        "label": item.label,
        "small": " · ".join(filter(None, small)),
        "status": ", ".join(filter(None, words)),
        "strong": not is_covered(item) or item.status.value == "defect",
        "listen": item.listen,
        "missing": line.missing if quotes else "",
        "quotes": quotes[:_ITEM_QUOTES],
        "more": max(0, len(quotes) - _ITEM_QUOTES),
        "why": " ".join([line.why or "", "; ".join(one.span for one in line.listen)]).strip(),
        "mark": marks.get(item.id),
    }


def _quote(quote: Quote) -> dict[str, Any]:
    return {
        "time": quote.passage.span,
        "text": quote.text,
        "heard": quote.heard if quote.heard != quote.text else None,
        "says": quote.says,
        "facts": ", ".join(quote.facts),
    }


def _flagged(lines: Lines, flagged: Any) -> dict[str, Any]:
    line = lines.flagged(flagged)
    return {
        "word": line.word,
        "condition": line.condition,
        "reading": line.reading_words,
        "before": line.before,
        "said": line.said,
        "after": line.after,
        "heard": line.heard,
        "item": line.item,
        "time": line.passage.span,
    }


def _review(lines: Lines, review: ReviewWords) -> dict[str, Any]:
    return {
        "decisions": [
            {
                "entry": str(one.entry),
                "at": day_and_time(one.at),
                "by": one.by,
                "what": one.what,
                "why": one.why,
                "standing": one.standing,
            }
            for one in review.decisions
        ],
        "open": [list(one) for one in review.open],
        "dismissed": [_finding(lines, one, {}) for one in review.dismissed],
        "log": f"{counted(review.entries, 'entry', 'entries')}, the last is",
        "head": review.head,
    }


def _record(result: Result, timeline: Timeline, versions: Mapping[str, str]) -> dict[str, Any]:
    inspection = result.inspection
    recordings = []
    for one, sound in zip(result.recordings, sound_lines(result.recordings, timeline), strict=True):
        form = (
            f"{one.sample_rate} Hz, {counted(one.channels, 'channel')}"
            if one.sample_rate
            else "no sound given"
        )
        poor = sound.poor if sound else []
        recordings.append(
            {
                "file": one.file,
                "form": f"{duration(one.duration)}, {form}",
                "sha256": one.sha256,
                "sound": sound.measures if sound else None,
                "advice": sound.advice if sound else None,
                "poor": "; ".join(f"{passage.span}: {words}" for passage, words in poor),
            }
        )
    model = inspection.model
    return {
        "recordings": recordings,
        "pack": f"{inspection.pack.name} {inspection.pack.version}",
        "pack_sha256": inspection.pack.sha256,
        "model": model.name,
        "model_sha256": model.sha256 or None,
        "software": f"{inspection.software}, form {result.schema_}",
        "versions": ", ".join(f"{name} {one}" for name, one in sorted(versions.items())),
    }
