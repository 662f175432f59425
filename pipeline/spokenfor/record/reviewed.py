"""Where does everything stand once the decisions of people are laid over what was proposed?

Derived anew each time from the result and the log; neither is ever written to.
"""

from __future__ import annotations

from collections.abc import Sequence

from spokenfor.coverage.assemble import count_coverage
from spokenfor.models import Evidence, Finding, Item, ItemStatus, Result, Verdict
from spokenfor.record.entries import NOTHING, Action, Entry
from spokenfor.record.outcome import Change, Correction, Note, OpenPoint, PhotoMove, Reviewed
from spokenfor.record.photo_moves import moved
from spokenfor.record.subjects import INSPECTION, Subject, Subjects, all_evidence, passage_key

# Where a decision was overtaken by words heard later, the first of the two in this list stands until
# somebody decides again (promise 1: a tick is never the cautious choice). Our own order.
CAUTIOUS_FIRST = (
    ItemStatus.DEFECT,
    ItemStatus.NOT_INSPECTED,
    ItemStatus.UNHEARD,
    ItemStatus.NOT_MENTIONED,
    ItemStatus.LOOKED_FOR,
    ItemStatus.NAMED,
    ItemStatus.REMARK,
    ItemStatus.NOT_FITTED,
    ItemStatus.SATISFACTORY,
)
# When a finding is placed on an item, the worst stands (design, section 3); "not mentioned" is no verdict.
_WORSE = (ItemStatus.DEFECT, ItemStatus.NOT_INSPECTED, ItemStatus.NOT_FITTED, ItemStatus.REMARK)
_DECIDING = {Action.ACCEPT, Action.CHANGE_STATUS, Action.PLACE_FINDING}
AGAIN, LISTEN, UNPLACED = "decided before it was heard anew", "listen", "unplaced"
GONE = "decided, and no longer found when it was heard anew"


def reviewed(result: Result, entries: Sequence[Entry]) -> Reviewed:
    """Lay the standing decisions over a result. A decision stands until its subject is reopened; later ones
    go over earlier ones; one whose subject was heard anew is overtaken and must be taken again."""
    state = _Review(result)
    for entry in standing(entries):
        state.take(entry)
    return state.outcome(entries)


def standing(entries: Sequence[Entry]) -> list[Entry]:
    """The entries that no later reopening takes back. Notes always stand, and reopening the inspection lifts
    the seal and nothing else."""
    kept: list[Entry] = []
    for entry in entries:
        if entry.action is not Action.REOPEN:
            kept.append(entry)
            continue
        key = entry.about.key if entry.about else ""
        kept = [
            one
            for one in kept
            if one.action in (Action.ADD_NOTE, Action.CHECK, Action.SET_ASIDE)
            or (one.about.key if one.about else "") != key
        ]
    return kept


class _Review:
    """The state that the entries are laid over, one after the other."""

    def __init__(self, proposed: Result) -> None:
        self._proposed = proposed
        self._subjects = Subjects(proposed)
        self._result = proposed.model_copy(deep=True)
        self._items = {item.id: item for item in self._result.items}
        self._findings = {finding.id: finding for finding in self._result.findings}
        self._passages: dict[str, list[Evidence]] = {}
        for evidence in all_evidence(self._result):
            self._passages.setdefault(passage_key(proposed, evidence), []).append(evidence)
        self._decided: dict[str, list[int]] = {}
        self._again: dict[str, bool] = {}
        self._changes: list[Change] = []
        self._corrections: list[Correction] = []
        self._notes: list[Note] = []
        self._photo_moves: list[PhotoMove] = []
        self._by_hand: set[str] = set()
        self._overtaken: list[int] = []
        self._gone: list[OpenPoint] = []
        self._sealed: Entry | None = None

    def take(self, entry: Entry) -> None:
        if entry.action is Action.SEAL:
            self._sealed = entry
        elif entry.action is Action.ADD_NOTE:
            text = entry.words or ""
            self._notes.append(
                Note(subject=entry.subject, text=text, by=entry.by, at=entry.at, entry=entry.number)
            )
        elif entry.action in (Action.CORRECT_WORDS, Action.CORRECT_TIME):
            self._correct(entry)
        elif entry.action in (Action.SHIFT_PHOTOS, Action.PLACE_PHOTO):
            self._photo_moves += moved(self._result, entry, self._by_hand)
        elif entry.action in _DECIDING and entry.about is not None:
            now = self._subjects.now(entry.about, entry.subject)
            if now is None:
                self._overtaken.append(entry.number)
                gone = f"entry {entry.number}"
                self._gone.append(OpenPoint(subject=gone, label=entry.about.label, why=GONE))
            else:
                self._decide(entry, now, now.about.digest == entry.about.digest)

    def _decide(self, entry: Entry, now: Subject, same: bool) -> None:
        if not same:
            self._overtaken.append(entry.number)
        else:
            self._decided.setdefault(now.id, []).append(entry.number)
        self._again[now.id] = not same
        if entry.action is Action.CHANGE_STATUS and entry.status is not None:
            self._change(entry, entry.status, now, same)
        elif entry.action is Action.PLACE_FINDING and same and entry.item in self._items:
            self._place(entry, self._findings[now.id], self._items[entry.item])

    def _change(self, entry: Entry, status: str, now: Subject, same: bool) -> None:
        if now.kind == "item":
            item = self._items[now.id]
            became = ItemStatus(status)
            if not same:
                became = min((became, item.status), key=CAUTIOUS_FIRST.index)
            if became is not item.status or same:
                item.by_reference = False
            self._note_change(entry, now, item.status, became)
            item.status = became
        elif same:
            finding = self._findings[now.id]
            self._note_change(entry, now, finding.verdict, Verdict(status))
            finding.verdict = Verdict(status)

    def _place(self, entry: Entry, finding: Finding, item: Item) -> None:
        finding.item = item.id
        if finding.evidence not in item.evidence:
            item.evidence.append(finding.evidence)
        verdict = ItemStatus(finding.verdict.value)
        ranks = [one for one in _WORSE if one in (verdict, item.status)]
        if verdict in _WORSE and ranks[0] is verdict and item.status is not verdict:
            subject = self._subjects.named(item.id)
            self._note_change(entry, subject, item.status, verdict)
            item.status, item.by_reference = verdict, False

    def _note_change(
        self, entry: Entry, now: Subject, before: ItemStatus | Verdict, became: ItemStatus | Verdict
    ) -> None:
        if before.value == became.value:
            return
        self._changes.append(
            Change(
                subject=now.id,
                label=now.about.label,
                proposed=now.about.stood or "",
                became=became.value,
                by=entry.by,
                at=entry.at,
                why=entry.why,
                entry=entry.number,
            )
        )

    def _correct(self, entry: Entry) -> None:
        about = entry.about
        if about is None or about.recording is None or about.start is None or about.end is None:
            return
        if about.recording not in {one.sha256 for one in self._proposed.recordings}:
            self._overtaken.append(entry.number)
            return
        self._corrections.append(
            Correction(
                recording=about.recording,
                start=about.start,
                end=about.end,
                heard=about.heard or "",
                words=entry.words,
                new_start=entry.start,
                new_end=entry.end,
                by=entry.by,
                at=entry.at,
                why=entry.why,
                entry=entry.number,
            )
        )
        for now in self._passages.get(about.key, []):
            now.text = entry.words if entry.words is not None else now.text
            now.start = entry.start if entry.start is not None else now.start
            now.end = entry.end if entry.end is not None else now.end

    def outcome(self, entries: Sequence[Entry]) -> Reviewed:
        findings = self._result.findings
        kept = {Verdict.DEFECT, Verdict.REMARK}
        self._result.findings = [one for one in findings if one.verdict in kept]
        self._result.coverage = count_coverage(self._result.items)
        return Reviewed(
            schema="spokenfor/reviewed/1",
            result=self._result,
            decided=self._decided,
            changes=self._changes,
            corrections=self._corrections,
            notes=self._notes,
            photo_moves=self._photo_moves,
            dismissed=[one for one in findings if one.verdict not in kept],
            overtaken=self._overtaken,
            open=self._open(findings),
            sealed=self._sealed,
            entries=len(entries),
            head=entries[-1].sha256 if entries else NOTHING,
        )

    def _open(self, findings: Sequence[Finding]) -> list[OpenPoint]:
        points = list(self._gone)
        rows: list[Item | Finding] = [*self._result.items, *findings]
        for one in rows:
            unplaced = isinstance(one, Finding) and self._unplaced(one)
            if self._again.get(one.id):
                why = AGAIN
            elif one.id in self._decided or not (one.listen or unplaced):
                continue
            else:
                why = UNPLACED if unplaced else LISTEN
            label = self._subjects.named(one.id).about.label
            points.append(OpenPoint(subject=one.id, label=label, why=why))
        return points

    def _unplaced(self, finding: Finding) -> bool:
        return finding.item is None or finding.item not in self._items


def sealed_by(entries: Sequence[Entry]) -> Entry | None:
    """The seal that stands, if any."""
    seals = [one for one in standing(entries) if one.action is Action.SEAL]
    return seals[-1] if seals and seals[-1].subject == INSPECTION else None
