"""What does the terminal say of a review: what is still open, and what was decided?"""

from __future__ import annotations

from pathlib import Path

from spokenfor.models import Result
from spokenfor.record.entries import Action, Entry
from spokenfor.record.folder import open_inspection
from spokenfor.record.outcome import OpenPoint, Reviewed
from spokenfor.record.reviewed import reviewed
from spokenfor.reporting.timeline import Timeline
from spokenfor.reporting.wording import counted


def review_lines(folder: Path) -> list[str]:
    """Open points first, each with the words and the time to listen to, then the log. Raises InputError."""
    inspection = open_inspection(folder)
    review = reviewed(inspection.result, inspection.log.entries)
    lines = [f"To be decided: {len(review.open) or 'nothing'}"]
    lines += [_open_line(review, one) for one in review.open]
    if review.sealed is not None:
        lines.append(f"Sealed by {review.sealed.by} at {review.sealed.at}")
    if inspection.log.torn:
        lines.append("The last line of the log was cut off; the next decision sets it aside")
    lines.append(f"Log: {counted(len(inspection.log.entries), 'entry', 'entries')}")
    return lines + [
        _entry_line(one, one.number in review.overtaken) for one in inspection.log.entries
    ]


def _open_line(review: Reviewed, point: OpenPoint) -> str:
    line = f"  {point.subject}  {point.label}: {point.why}"
    said = _said(review.result, point.subject)
    return f"{line}; {said}" if said else line


def _said(result: Result, subject: str) -> str:
    items = [one for item in result.items if item.id == subject for one in item.evidence]
    found = [one.evidence for one in result.findings if one.id == subject]
    timeline = Timeline(result.recordings, ())
    return "; ".join(
        f"'{one.text}' at {timeline.passage(one).begins}" for one in [*items, *found][:2]
    )


def _entry_line(entry: Entry, overtaken: bool) -> str:
    what = {
        Action.CHANGE_STATUS: entry.status,
        Action.PLACE_FINDING: entry.item,
        Action.CORRECT_WORDS: entry.words,
        Action.CORRECT_TIME: f"{entry.start} to {entry.end} s",
        Action.ADD_NOTE: entry.words,
        Action.SHIFT_PHOTOS: f"{entry.seconds:+g} s" if entry.seconds is not None else None,
        Action.PLACE_PHOTO: f"{entry.start} s",
    }.get(entry.action)
    parts = [
        f"  {entry.number}  {entry.at}  {entry.by}: {entry.action.value} {entry.subject}",
        f" -> {what}" if what else "",
        f" ({entry.why})" if entry.why else "",
        " [overtaken: decide again]" if overtaken else "",
    ]
    return "".join(parts)
