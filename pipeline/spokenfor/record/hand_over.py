"""What does the maintenance office get: every line and finding with a lasting id, as CSV and as JSON?"""

from __future__ import annotations

from typing import Any

from spokenfor.models import Evidence, Finding, Item, Result
from spokenfor.record.outcome import Reviewed
from spokenfor.record.subjects import Subjects
from spokenfor.reporting.deciding import deciding_evidence
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.review_shown import DecisionLine, ReviewShown
from spokenfor.reporting.tables import csv_text
from spokenfor.reporting.wording import quantity_words

SCHEMA = "spokenfor/hand-over/1"
COLUMNS = (
    *("kind", "id", "ata", "zone", "label", "required", "status", "proposed", "by_reference"),
    *("condition", "quantities", "item", "note", "listen"),
    *("quote", "heard", "recording", "start", "end"),
    *("decision", "decided_by", "decided_at", "why"),
)


def hand_over_tree(proposed: Result, review: Reviewed, shown: ReviewShown) -> dict[str, Any]:
    """hand-over.json. `id` of an item is that of the sheet; of a finding it follows from the recording, its
    seconds and what was said, so that it is the same after more recordings were added."""
    result = review.result
    rows = _Rows(proposed, review, shown)
    return {
        "schema": SCHEMA,
        "cautions": result.cautions,
        "inspection": result.inspection.model_dump(mode="json"),
        "review": {
            "entries": review.entries,
            "head": review.head,
            "open": [one.model_dump(mode="json") for one in review.open],
            "sealed": shown.sealed,
        },
        "coverage": result.coverage.model_dump(mode="json"),
        "items": [rows.item(one) for one in result.items],
        "findings": [rows.finding(one) for one in result.findings],
        "dismissed": [rows.finding(one) for one in review.dismissed],
        "photos": [one.model_dump(mode="json") for one in result.photos],
    }


def hand_over_csv(tree: dict[str, Any]) -> str:
    """hand-over.csv (RFC 4180): a row for each item in the order of the sheet, then one for each finding.
    A cell that a spreadsheet would run starts with an apostrophe."""
    rows = [*tree["items"], *tree["findings"]]
    return csv_text(COLUMNS, [[_cell(row.get(name)) for name in COLUMNS] for row in rows])


def _cell(value: Any) -> Any:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "; ".join(value) if isinstance(value, list) else value


class _Rows:
    def __init__(self, proposed: Result, review: Reviewed, shown: ReviewShown) -> None:
        self._result = review.result
        self._shown = shown
        self._known = Subjects(proposed)
        self._labels = Labels(review.result)
        self._statements = {one.id: one for one in review.result.statements}
        self._items = {one.id: one for one in review.result.items}
        self._stood = {one.id: one.status.value for one in proposed.items}
        self._stood |= {one.id: one.verdict.value for one in proposed.findings}

    def item(self, item: Item) -> dict[str, Any]:
        return {
            "kind": "item",
            "id": item.id,
            "ata": item.ata,
            "zone": self._labels.zone(item.zone),
            "label": item.label,
            "required": item.required,
            "status": item.status.value,
            "proposed": self._stood[item.id],
            "by_reference": item.by_reference,
            "note": item.note,
            "listen": item.listen and item.id not in self._shown.settled,
            **self._said(deciding_evidence(item, self._statements)),
            **self._decision(item.id),
        }

    def finding(self, finding: Finding) -> dict[str, Any]:
        item = self._items.get(finding.item or "")
        key = self._known.named(finding.id).about.key
        return {
            "kind": "finding",
            "id": f"finding-{key[:16]}",
            "ata": item.ata if item else None,
            "zone": self._labels.zone(item.zone) if item else None,
            "label": self._labels.thing(finding),
            "status": finding.verdict.value,
            "proposed": self._stood[finding.id],
            "condition": finding.condition,
            "quantities": [quantity_words(one) for one in finding.quantities],
            "item": item.id if item else None,
            "note": finding.note,
            "listen": finding.listen and finding.id not in self._shown.settled,
            **self._said(finding.evidence),
            **self._decision(finding.id),
        }

    def _said(self, evidence: Evidence | None) -> dict[str, Any]:
        if evidence is None:
            return dict.fromkeys(("quote", "heard", "recording", "start", "end"))
        return {
            "quote": evidence.text,
            "heard": evidence.heard,
            "recording": self._result.recordings[evidence.recording].file,
            "start": round(evidence.start, 2),
            "end": round(evidence.end, 2),
        }

    def _decision(self, subject: str) -> dict[str, Any]:
        """The last decision that stands."""
        lines = [one for one in self._shown.by_subject.get(subject, []) if one.void is None]
        if not lines:
            return dict.fromkeys(("decision", "decided_by", "decided_at", "why"))
        last = lines[-1]
        return {
            "decision": _said_of(last),
            "decided_by": last.by,
            "decided_at": last.at,
            "why": last.why,
        }


def _said_of(line: DecisionLine) -> str:
    if line.before and line.after:
        return f"{line.what}: {line.before} -> {line.after}"
    return f"{line.what}: {line.after}" if line.after else line.what
