"""How does a person's decision get into the log, and which decisions can there be?"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from spokenfor.errors import InputError
from spokenfor.models import ItemStatus, Result, Verdict
from spokenfor.record.durable import finish, writing
from spokenfor.record.entries import Action, Entry
from spokenfor.record.folder import Inspection, holds_inspection, read_inspection
from spokenfor.record.lock import locked
from spokenfor.record.log import append, now
from spokenfor.record.outcome import Reviewed
from spokenfor.record.reviewed import reviewed, sealed_by, standing
from spokenfor.record.subjects import INSPECTION, PLACE, Subject, Subjects

_LONGEST_NAME, _LONGEST_TEXT = 200, 4000
_MUST_SAY_WHY = {Action.CHANGE_STATUS, Action.REOPEN}


@dataclass(frozen=True)
class Decision:
    """What a person decides. `by` is their name; `why` may be None but for change_status and reopen. The
    other fields belong to actions as in Entry; `words` is also the text of a note. `start` and `end` are
    seconds in the recording; `seconds` are what all pictures are moved by; `place` is where one belongs,
    RECORDING@SECONDS (recordings count from 1)."""

    action: Action
    subject: str
    by: str
    why: str | None = None
    status: str | None = None
    item: str | None = None
    words: str | None = None
    start: float | None = None
    end: float | None = None
    seconds: float | None = None
    place: str | None = None


def decide(folder: Path, decision: Decision, *, seen: int | None = None) -> Entry:
    """Put a decision into the log of an inspection; it is on the disk when this returns.

    `seen` is the number of the last entry that the person had before them: if somebody else has decided on
    the same subject since, nothing is written and the error says so. Raises InputError for this, for a
    decision that does not fit, a sealed inspection, a broken log, or a disk that refuses.
    """
    return decide_all(folder, [decision], seen=seen)[0]


def decide_all(folder: Path, decisions: list[Decision], *, seen: int | None = None) -> list[Entry]:
    """As `decide`, for several decisions: all are written, or none."""
    by = [one_line(one.by, "name") for one in decisions]
    holds_inspection(folder)
    with writing("The decision", folder), locked(folder):
        finish(folder)
        inspection = read_inspection(folder)
        state = reviewed(inspection.result, inspection.log.entries)
        subjects = Subjects(inspection.result, inspection.transcript)
        rows = []
        for decision, name in zip(decisions, by, strict=True):
            subject = _subject(inspection, state, subjects, decision)
            _refuse_overlooked(inspection.log.entries, subject, seen)
            rows.append(_fields(decision, name, subject, state))
        return append(folder, *rows)


def one_line(text: str, what: str, longest: int = _LONGEST_NAME) -> str:
    """A name or reason as one line of text. Raises InputError where it is empty, too long, or holds
    characters that cannot be printed."""
    line = unicodedata.normalize("NFC", " ".join(text.split()))
    if not line or len(line) > longest or not line.isprintable():
        raise InputError(
            f"The {what} is empty, over {longest} characters, or cannot be printed",
            f"Give a {what} in plain text",
        )
    return line


def _subject(
    inspection: Inspection, state: Reviewed, subjects: Subjects, decision: Decision
) -> Subject:
    """What the decision is about. Raises InputError where action, subject and fields do not fit."""
    action = decision.action
    seal = sealed_by(inspection.log.entries)
    if seal is not None and (action, decision.subject) != (Action.REOPEN, INSPECTION):
        raise InputError(
            f"The inspection was sealed by {seal.by} on {seal.at[:10]}",
            "Reopen it first: review DIR reopen inspection --why REASON --by NAME",
        )
    if action in _MUST_SAY_WHY and not (decision.why or "").strip():
        raise InputError(f"{action.value} needs a reason", "Say why with --why")
    subject = subjects.named(decision.subject)
    if action in (Action.CORRECT_WORDS, Action.CORRECT_TIME):
        subject = subjects.passage_of(subject)
        if action is Action.CORRECT_TIME:
            _fits_recording(inspection.result, subject, decision)
        return subject
    if action is Action.ACCEPT and subject.kind in ("item", "finding"):
        return subject
    if action is Action.CHANGE_STATUS and subject.kind in ("item", "finding"):
        _known_status(subject, decision.status)
        return subject
    if action is Action.PLACE_FINDING and subject.kind == "finding":
        if decision.item not in {item.id for item in inspection.result.items}:
            raise InputError(
                f"The sheet has no item '{decision.item}'", "Use an item id from report.json"
            )
        return subject
    if (action, subject.kind) in ((Action.SHIFT_PHOTOS, "photos"), (Action.PLACE_PHOTO, "photo")):
        return subject
    if action is Action.ADD_NOTE:
        return subject
    if action is Action.REOPEN:
        keys = {one.about.key for one in standing(inspection.log.entries) if one.about}
        if subject.about.key in keys:
            return subject
        raise InputError(
            f"Nothing stands decided on '{decision.subject}'", "See the list: review DIR"
        )
    raise InputError(
        f"{action.value} does not fit '{decision.subject}', which is {_article(subject)}",
        "accept and change_status take an item or a finding, place_finding a finding",
    )


def _article(subject: Subject) -> str:
    return {"item": "an item", "inspection": "the inspection"}.get(
        subject.kind, f"a {subject.kind}"
    )


def _known_status(subject: Subject, status: str | None) -> None:
    known = [one.value for one in (ItemStatus if subject.kind == "item" else Verdict)]
    if status not in known:
        raise InputError(f"There is no status '{status}'", f"Use one of: {', '.join(known)}")


def _fits_recording(result: Result, subject: Subject, decision: Decision) -> None:
    lengths = {one.sha256: one.duration for one in result.recordings}
    length = lengths[subject.about.recording or ""]
    start, end = decision.start, decision.end
    if start is None or end is None or not 0 <= start < end <= length:
        raise InputError(
            "That is no stretch of the recording", f"Give start and end within 0 to {length:g} s"
        )


def _second_of(place: str, result: Result) -> tuple[str, float]:
    """The SHA-256 of the recording and the seconds that RECORDING@SECONDS names."""
    match = PLACE.fullmatch(place)
    number = int(match[1]) - 1 if match else -1
    if match and 0 <= number < len(result.recordings):
        recording, at = result.recordings[number], round(float(match[2]), 2)
        if at <= recording.duration:
            return recording.sha256, at
    raise InputError(f"'{place}' is no second of the recordings", "Write it as 1@95.5")


def _refuse_overlooked(entries: list[Entry], subject: Subject, seen: int | None) -> None:
    if seen is None:
        return
    for entry in entries:
        if entry.number > seen and entry.about and entry.about.key == subject.about.key:
            raise InputError(
                f"{entry.by} has decided on '{subject.id}' meanwhile ({entry.action.value})",
                "Look at it again, then decide",
            )


def _fields(decision: Decision, by: str, subject: Subject, state: Reviewed) -> dict[str, Any]:
    """The fields of the entry; `about` says how the subject stood before the person's eyes."""
    stood = {one.id: one.status.value for one in state.result.items}
    stood |= {one.id: one.verdict.value for one in [*state.result.findings, *state.dismissed]}
    words, recording = decision.words, None
    if decision.action in (Action.CORRECT_WORDS, Action.ADD_NOTE):
        words = one_line(words or "", "text", _LONGEST_TEXT)
    about = subject.about.model_copy(update={"stood": stood.get(subject.id, subject.about.stood)})
    rounded = {
        name: None if value is None else round(value, 2)
        for name, value in (
            ("start", decision.start),
            ("end", decision.end),
            ("seconds", decision.seconds),
        )
    }
    if decision.action is Action.PLACE_PHOTO:
        recording, rounded["start"] = _second_of(decision.place or "", state.result)
    return {
        "at": now(),
        "by": by,
        "action": decision.action,
        "subject": subject.id,
        "why": one_line(decision.why, "reason", _LONGEST_TEXT) if decision.why else None,
        "status": decision.status,
        "item": decision.item,
        "words": words,
        **rounded,
        "recording": recording,
        "about": about,
    }
