"""How does an inspection with its review become report.pdf, the copy for the archive?"""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.models import Item
from spokenfor.record.durable import sync_folder, write_synced, writing
from spokenfor.record.entries import Action, Entry
from spokenfor.record.folder import Inspection, open_inspection
from spokenfor.record.outcome import Reviewed
from spokenfor.record.reviewed import reviewed, standing
from spokenfor.record.subjects import INSPECTION
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.pdf import PDF_FILE, report_pdf
from spokenfor.reporting.pdf_data import NOT_REVIEWED, Decision, ReviewWords
from spokenfor.reporting.wording import counted, day_and_time, plain, spaced

MACHINE = {Action.CHECK, Action.SET_ASIDE}


def write_archive_copy(folder: Path, out: Path | None = None) -> Path:
    """Write the archive copy of an inspection as it stands now, by default report.pdf in its folder.

    Whole or not at all; an older copy gives way. Raises InputError, also where `out` is a folder or one of
    the files that the copy is made from.
    """
    inspection = open_inspection(folder)
    target = out if out is not None else folder / PDF_FILE
    if target.is_dir():
        raise InputError(f"'{target}' is a folder", "Give --out the name of a file")
    if target.suffix.lower() != ".pdf":
        raise InputError(f"'{target}' is no name for a PDF", "Give --out a name that ends in .pdf")
    data = archive_copy(inspection)
    aside = target.with_name(f".{target.name}.{os.getpid()}.part")
    with writing("The archive copy", target.parent):
        try:
            write_synced(aside, data)
            aside.replace(target)
        finally:
            with suppress(OSError):
                aside.unlink(missing_ok=True)
        with suppress(OSError):
            sync_folder(target.parent)
    return target


def archive_copy(inspection: Inspection, entries: Sequence[Entry] | None = None) -> bytes:
    """The bytes of report.pdf: the reviewed result, every decision, hashes and versions. `entries` are those of
    the log unless others are given (the log with a seal that is about to be written)."""
    log = list(inspection.log.entries if entries is None else entries)
    review = reviewed(inspection.result, log)
    return report_pdf(review.result, review_words(review, log), inspection.settings.versions)


def review_words(review: Reviewed, entries: Sequence[Entry]) -> ReviewWords:
    """What the log and its outcome come to in words."""
    kept = {one.number for one in standing(entries)} - set(review.overtaken)
    items = {item.id: item for item in review.result.items}
    labels = Labels(review.result)
    names = {one.id: labels.finding(one) for one in review.result.findings}
    return ReviewWords(
        state=_state(review, entries),
        entries=review.entries,
        head=review.head,
        decisions=[
            Decision(
                entry=one.number,
                at=one.at,
                by=one.by,
                what=_what(one, items),
                why=one.why,
                standing=one.number in kept or one.action is Action.REOPEN,
            )
            for one in entries
        ],
        open=[(names.get(point.subject, point.label), point.why) for point in review.open],
        marks=_marks(review, entries),
        dismissed=review.dismissed,
    )


def _state(review: Reviewed, entries: Sequence[Entry]) -> str:
    seal = review.sealed
    undecided = f"{counted(len(review.open), 'point')} undecided" if review.open else ""
    if seal is not None:
        licence = f", licence {seal.licence}" if seal.licence else ""
        line = f"Reviewed and sealed by {seal.by}{licence}, {day_and_time(seal.at)}."
        if undecided:
            line += f" Sealed with {undecided}, for this reason: {seal.why or 'none given'}"
        return line
    people = list(dict.fromkeys(one.by for one in entries if one.action not in MACHINE))
    if not people:
        return NOT_REVIEWED + (f" {undecided[0].upper()}{undecided[1:]}." if undecided else "")
    return f"Reviewed by {', '.join(people)}; {undecided or 'nothing undecided'}; not sealed."


def _marks(review: Reviewed, entries: Sequence[Entry]) -> dict[str, str]:
    """What to print beside an item or finding: by whom it was decided, and what it was before."""
    by = {one.number: one for one in entries}
    changed = {(one.subject, one.entry): one for one in review.changes}
    marks: dict[str, str] = {}
    for change in review.changes:
        was = spaced(change.proposed)
        marks[change.subject] = f"was {was}; changed by {change.by}, entry {change.entry}"
    for subject, numbers in review.decided.items():
        last = by[numbers[-1]]
        if (subject, last.number) not in changed:
            told = [marks[subject]] if subject in marks else []
            said = _DONE[last.action]
            marks[subject] = "; ".join([*told, f"{said} by {last.by}, entry {last.number}"])
    return marks


_DONE = {
    Action.ACCEPT: "accepted",
    Action.CHANGE_STATUS: "status set",
    Action.PLACE_FINDING: "placed",
}


def _what(entry: Entry, items: dict[str, Item]) -> str:
    about = entry.about
    label = about.label if about else entry.subject
    if entry.subject == INSPECTION:
        label = "the inspection"
    elif about and about.key != f"item {entry.subject}":
        # A finding is kept by the names of the pack: position, component, condition.
        label = " ".join(map(plain, label.split()))
    stood = spaced(about.stood) if about and about.stood else None
    heard = f"\u201c{about.heard}\u201d" if about and about.heard else label
    match entry.action:
        case Action.CHECK:
            return "Checked the recordings; the report is the one of this check"
        case Action.SET_ASIDE:
            return f"Set a torn line of the log aside ({entry.subject})"
        case Action.ACCEPT:
            return f"Accepted {label}" + (f" as {stood}" if stood else "")
        case Action.CHANGE_STATUS:
            became = spaced(entry.status or "")
            return f"Changed {label} from {stood or 'no status'} to {became}"
        case Action.PLACE_FINDING:
            item = items.get(entry.item or "")
            return f"Placed the finding {label} on {item.label if item else entry.item}"
        case Action.CORRECT_WORDS:
            return f"Corrected the words {heard} to \u201c{entry.words}\u201d"
        case Action.CORRECT_TIME:
            return f"Corrected the time of {heard} to {entry.start:g} to {entry.end:g} s"
        case Action.ADD_NOTE:
            return f"Noted on {label}: {entry.words}"
        case Action.SHIFT_PHOTOS:
            return f"Shifted all photos by {entry.seconds or 0.0:+g} s against the clock"
        case Action.PLACE_PHOTO:
            return f"Placed the photo {label} at {entry.start or 0.0:g} s"
        case Action.REOPEN:
            return f"Reopened {label}"
        case Action.SEAL:
            left = f", with {len(entry.left_open)} undecided" if entry.left_open else ""
            return f"Sealed the inspection{left}"
