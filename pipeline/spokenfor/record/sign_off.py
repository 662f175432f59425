"""What does the sealed record say on its first page, in plain text?"""

from __future__ import annotations

from collections.abc import Iterable

from spokenfor.models import Result, Verdict
from spokenfor.record.entries import Entry
from spokenfor.record.outcome import Reviewed
from spokenfor.reporting.gaps import bottom_line, not_covered, without_finding
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.timeline import Timeline

RECORD_ONLY = (
    "This is the record of an inspection as it was spoken and reviewed. "
    "It is not a release to service and it certifies nothing as fit for use."
)


def sign_off_text(review: Reviewed, seal: Entry) -> str:
    """The sign-off sheet (UTF-8 text, one line feed at the end): who sealed it, what was left open and why,
    what is not covered, what was found, every decision that changed something, hashes, cautions."""
    result = review.result
    inspection = result.inspection
    line = bottom_line(result)
    parts = [
        ["RECORD OF AN INSPECTION", RECORD_ONLY],
        [
            f"Inspection  {inspection.id}",
            f"Asset       {inspection.asset or 'not given'}",
            f"Narrated by {inspection.by or 'not given'}",
            f"Checked     {inspection.started} with {inspection.software}, model {inspection.model.name}",
            f"Pack        {inspection.pack.name} {inspection.pack.version}",
            f"Sealed by   {seal.by}" + (f", licence {seal.licence}" if seal.licence else ""),
            f"Sealed at   {seal.at}",
        ],
        _left_open(review, seal),
        [f"Covered: {line.covered}, {line.missing}", *_gaps(result)],
        [f"Found: {line.defects}, {line.remarks}", *_findings(result)],
        ["Changed by a person:", *_or_none(_changes(review))],
        ["Found by the machine, dismissed by a person:", *_or_none(_dismissed(review))],
        ["Notes:", *_or_none(f"  {one.subject}: {one.text} ({one.by})" for one in review.notes)],
        [
            "Recordings (SHA-256):",
            *(f"  {one.sha256}  {one.file}" for one in result.recordings),
            f"Pack (SHA-256):  {inspection.pack.sha256}",
            f"Model (SHA-256): {inspection.model.sha256 or 'none, the words came as captions'}",
            f"Review log: {review.entries} entries, the last is {review.head}",
        ],
        ["Cautions:", *(f"  {one}" for one in result.cautions)],
    ]
    return "\n\n".join("\n".join(part) for part in parts) + "\n"


def _left_open(review: Reviewed, seal: Entry) -> list[str]:
    if not review.open:
        return ["Left undecided: nothing"]
    return [
        f"LEFT UNDECIDED: {len(review.open)}. Sealed all the same, for this reason: {seal.why}",
        *(f"  {one.subject} ({one.label}): {one.why}" for one in review.open),
    ]


def _gaps(result: Result) -> list[str]:
    return [f"  {one.label}: {one.status.value.replace('_', ' ')}" for one in not_covered(result)]


def _findings(result: Result) -> list[str]:
    labels, timeline = Labels(result), Timeline(result.recordings, ())
    ranked = sorted(result.findings, key=lambda one: one.verdict is not Verdict.DEFECT)
    decided = [
        f"  {one.status.value}, decided by a person: {one.label}" for one in without_finding(result)
    ]
    return decided + [
        f"  {one.verdict.value} at {timeline.passage(one.evidence).begins}: {labels.finding(one)}"
        for one in ranked
    ]


def _changes(review: Reviewed) -> list[str]:
    lines = [
        f"  entry {one.entry}: {one.label}: {one.proposed} became {one.became}"
        f" ({one.by}: {one.why or 'no reason given'})"
        for one in review.changes
    ]
    for one in review.corrections:
        became = one.words if one.words is not None else f"{one.new_start:g} to {one.new_end:g} s"
        what = f"'{one.heard}'" if one.words is not None else f"{one.start:g} to {one.end:g} s"
        lines.append(f"  entry {one.entry}: {what} became '{became}' ({one.by})")
    lines += [
        f"  entry {one.entry}: picture {one.subject}: {_second(one.before)} became {_second(one.after)}"
        f" ({one.by})"
        for one in review.photo_moves
    ]
    return lines


def _second(place: tuple[int, float] | None) -> str:
    return f"recording {place[0] + 1}, {place[1]:g} s" if place else "not placed"


def _dismissed(review: Reviewed) -> list[str]:
    labels = Labels(review.result)
    return [f"  {one.id}: {labels.finding(one)}: {one.evidence.heard}" for one in review.dismissed]


def _or_none(lines: Iterable[str]) -> list[str]:
    return list(lines) or ["  none"]
