"""How is the review log said to people, entry by entry, beside the lines it is about?"""

from __future__ import annotations

from collections.abc import Sequence

from spokenfor.models import Result
from spokenfor.record.entries import Action, Entry
from spokenfor.record.outcome import Reviewed
from spokenfor.record.reviewed import standing
from spokenfor.record.subjects import INSPECTION, Subjects, passage_key
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.review_shown import DecisionLine, ReviewShown
from spokenfor.reporting.wording import spaced

ACTION_WORDS = {
    Action.ACCEPT: "accepted",
    Action.CHANGE_STATUS: "status changed",
    Action.PLACE_FINDING: "finding placed",
    Action.CORRECT_WORDS: "words corrected",
    Action.CORRECT_TIME: "time corrected",
    Action.ADD_NOTE: "note",
    Action.SHIFT_PHOTOS: "photos shifted",
    Action.PLACE_PHOTO: "photo placed",
    Action.REOPEN: "reopened",
    Action.SEAL: "sealed",
}
HEARD_ANEW = "no longer counts: heard anew, decide again"
TAKEN_BACK = "no longer counts: taken back later"


def review_shown(proposed: Result, review: Reviewed, entries: Sequence[Entry]) -> ReviewShown:
    """The review of a result as the page shows it; every decision, also those that count no longer."""
    lines = _Lines(proposed, review, entries)
    decisions = [lines.line(one) for one in entries if one.action in ACTION_WORDS]
    by_subject: dict[str, list[DecisionLine]] = {}
    for line, entry in zip(
        decisions, [one for one in entries if one.action in ACTION_WORDS], strict=True
    ):
        for subject in lines.subjects(entry):
            by_subject.setdefault(subject, []).append(line)
    labels, seal = Labels(review.result), review.sealed
    return ReviewShown(
        decisions=decisions,
        open=[(one.subject, one.label, one.why) for one in review.open],
        dismissed=[(labels.finding(one), one.evidence.heard) for one in review.dismissed],
        sealed=f"sealed by {seal.by}, {when(seal.at)}" if seal else None,
        entries=review.entries,
        head=review.head,
        settled=frozenset(review.decided),
        by_subject=by_subject,
    )


def when(at: str) -> str:
    """The time of an entry (UTC) without its letters."""
    return at.replace("T", " ").removesuffix("Z")


class _Lines:
    def __init__(self, proposed: Result, review: Reviewed, entries: Sequence[Entry]) -> None:
        self._proposed = proposed
        self._review = review
        self._known = Subjects(proposed)
        self._standing = {one.number for one in standing(entries)}
        self._became = {one.entry: one.became for one in review.changes}
        self._labels = {one.id: one.label for one in review.result.items}
        named = Labels(review.result)
        self._findings = {
            one.id: named.finding(one) for one in [*review.result.findings, *review.dismissed]
        }
        self._moves = {one.entry: one for one in review.photo_moves}
        self._resting: dict[str, list[str]] = {}
        for item in proposed.items:
            for evidence in item.evidence:
                self._rests(item.id, passage_key(proposed, evidence))
        for finding in proposed.findings:
            self._rests(finding.id, passage_key(proposed, finding.evidence))

    def _rests(self, subject: str, key: str) -> None:
        self._resting.setdefault(key, []).append(subject)

    def subjects(self, entry: Entry) -> list[str]:
        """Ids, in this result, of the items, findings and pictures that an entry is about."""
        if entry.about is None or entry.subject == INSPECTION:
            return []
        now = self._known.now(entry.about, entry.subject)
        if now is not None:
            placed_on = [entry.item] if entry.item else []
            return [now.id, *placed_on]
        return self._resting.get(entry.about.key, [])

    def line(self, entry: Entry) -> DecisionLine:
        before, after = self._change(entry)
        void = HEARD_ANEW if entry.number in self._review.overtaken else None
        if entry.number not in self._standing and entry.action is not Action.REOPEN:
            void = TAKEN_BACK
        return DecisionLine(
            entry=entry.number,
            at=when(entry.at),
            by=entry.by,
            what=ACTION_WORDS[entry.action],
            subject=entry.subject,
            label=self._label(entry),
            before=before,
            after=after,
            why=entry.why,
            void=void,
        )

    def _label(self, entry: Entry) -> str:
        if entry.subject == INSPECTION:
            return "the inspection"
        label = entry.about.label if entry.about else entry.subject
        now = self._known.now(entry.about, entry.subject) if entry.about else None
        if now is not None and now.kind == "finding":
            return self._findings.get(now.id, label)
        if label == "words":
            resting = self.subjects(entry)
            label = self._labels.get(resting[0], label) if resting else label
        return label

    def _change(self, entry: Entry) -> tuple[str | None, str | None]:
        stood = entry.about.stood if entry.about else None
        heard = entry.about.heard if entry.about else None
        if entry.action is Action.ACCEPT:
            return None, _plain(stood)
        if entry.action is Action.CHANGE_STATUS:
            return _plain(stood), _plain(self._became.get(entry.number, entry.status))
        if entry.action is Action.PLACE_FINDING:
            item = entry.item or ""
            return None, self._labels.get(item, item)
        if entry.action is Action.CORRECT_WORDS:
            return heard, entry.words
        if entry.action is Action.CORRECT_TIME and entry.about is not None:
            return _span(entry.about.start, entry.about.end), _span(entry.start, entry.end)
        if entry.action is Action.ADD_NOTE:
            return None, entry.words
        if entry.action is Action.SHIFT_PHOTOS:
            return None, f"{entry.seconds:+g} s"
        if entry.action is Action.PLACE_PHOTO:
            move = self._moves.get(entry.number)
            place = move.before if move else None
            return (_second(*place) if place else "not placed"), self._place(entry)
        return None, None

    def _place(self, entry: Entry) -> str:
        files = [one.sha256 for one in self._proposed.recordings]
        number = files.index(entry.recording) if entry.recording in files else -1
        return _second(number, entry.start or 0.0)


def _second(recording: int, at: float) -> str:
    return f"recording {recording + 1}, {at:g} s"


def _span(start: float | None, end: float | None) -> str | None:
    return None if start is None or end is None else f"{start:g} to {end:g} s"


def _plain(status: str | None) -> str | None:
    return spaced(status) if status else None
