"""What does the maintenance office read first: one page of Markdown (CommonMark)?"""

from __future__ import annotations

import re
from collections.abc import Iterable

from spokenfor.models import Finding, ItemStatus, Verdict
from spokenfor.record.outcome import Reviewed
from spokenfor.reporting.gaps import ZoneItems, bottom_line, by_zone, not_covered, without_finding
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.review_shown import DecisionLine, ReviewShown
from spokenfor.reporting.timeline import Timeline
from spokenfor.reporting.wording import day_and_time, status_words

# What CommonMark acts on within a line, and what it acts on only where a line begins, so that what was said
# stays words (section 2.4: a backslash before a mark makes it a plain character).
_MARKS = re.compile(r"([\\`*_\[\]<>|~&])|^([-+=#]|\d+(?=[.)]))")


def summary_md(review: Reviewed, shown: ReviewShown) -> str:
    """Defects and remarks, what is not covered, what people decided, what is open; cautions last."""
    result = review.result
    inspection, line = result.inspection, bottom_line(result)
    labels = Labels(result)
    timeline = Timeline(result.recordings, ())

    def found(one: Finding) -> str:
        when = timeline.passage(one.evidence).begins
        item = labels.item_of(one.item)
        ata = f", ATA {plain(item.ata)}" if item and item.ata else ""
        return f"{plain(labels.finding(one))}{ata}: \u201c{plain(one.evidence.text)}\u201d, {when}"

    defects = [found(one) for one in result.findings if one.verdict is Verdict.DEFECT]
    remarks = [found(one) for one in result.findings if one.verdict is not Verdict.DEFECT]
    for item in without_finding(result):
        lines = defects if item.status is ItemStatus.DEFECT else remarks
        lines.append(f"{plain(item.label)}: decided by a person, see below")
    gaps = [_gap(one) for one in by_zone(result, not_covered(result), required=True)]
    photos = [
        f"{plain(one.file)}: "
        + (
            f"recording {one.recording + 1}, {one.at:g} s"
            if one.recording is not None and one.at is not None
            else "not placed"
        )
        for one in result.photos
    ]
    parts = [
        f"# {plain(inspection.asset or 'Asset not stated')}: spoken inspection",
        f"{plain(inspection.pack.title)}, {plain(inspection.pack.version)}. "
        f"Narrated by {plain(inspection.by or 'a person not stated')}, "
        f"checked {day_and_time(inspection.started)}. Inspection `{inspection.id}`.",
        f"{line.covered}, {line.missing}. {line.defects}, {line.remarks}.",
        f"Review: {_state(shown)}",
        "## Defects\n\n" + _list(defects),
        "## Remarks\n\n" + _list(remarks),
        "## Not covered\n\n" + _list(gaps),
        "## Still to be decided\n\n"
        + _list(f"{plain(label)} `{subject}`: {why}" for subject, label, why in shown.open),
        "## Decided by people\n\n" + _list(map(_decision, shown.decisions)),
        *(["## Photos\n\n" + _list(photos)] if photos else []),
        "## Cautions\n\n" + _list(map(plain, result.cautions)),
    ]
    return "\n\n".join(parts) + "\n"


def plain(text: str) -> str:
    """Text on one line, with no mark that Markdown would act on."""
    return _MARKS.sub(_escaped, " ".join(text.split()))


def _escaped(mark: re.Match[str]) -> str:
    if mark[2] and mark[2][0].isdigit():
        return f"{mark[2]}\\"
    return f"\\{mark[0]}"


def _gap(group: ZoneItems) -> str:
    """A zone in one line, its items by where they stand."""
    name, total = plain(group.zone.name), group.total
    statuses = list(dict.fromkeys(status_words(one) for one in group.items))
    if len(group.items) == total and len(statuses) == 1 and total > 1:
        return f"{name}: none of its {total} required items covered, all {statuses[0]}"
    parts = [
        f"{status}: "
        + "; ".join(plain(one.label) for one in group.items if status_words(one) == status)
        for status in statuses
    ]
    return f"{name}, {len(group.items)} of {total}: {'. '.join(parts)}"


def _state(shown: ReviewShown) -> str:
    if shown.sealed:
        return plain(shown.sealed) + "."
    return f"{len(shown.decisions) or 'no'} decisions, not sealed: a proposal."


def _decision(one: DecisionLine) -> str:
    change = [plain(part) for part in (one.before, one.after) if part]
    said = ": " + " \u2192 ".join(change) if change else ""
    why = f" ({plain(one.why)})" if one.why else ""
    void = f" [{plain(one.void)}]" if one.void else ""
    return f"Entry {one.entry}, {plain(one.label)}: {one.what}{said}, {plain(one.by)}, {one.at}{why}{void}"


def _list(lines: Iterable[str]) -> str:
    return "\n".join(f"- {one}" for one in lines) or "None."
