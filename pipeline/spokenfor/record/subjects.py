"""What can a decision be about, and is it still the same after more recordings were heard?

Ids of findings and statements count anew in every check, so a decision also keeps what identifies its
subject for good: the SHA-256 of the recording, the seconds, and what was said to be wrong.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, Literal

from spokenfor.errors import InputError
from spokenfor.models import Evidence, Finding, Item, Photo, Result, Segment, Transcript
from spokenfor.record.digests import canonical, sha256_hex
from spokenfor.record.entries import About

INSPECTION, PHOTOS = "inspection", "photos"
PLACE = re.compile(r"(\d{1,4})@(\d{1,6}(?:\.\d{1,3})?)")
Kind = Literal["inspection", "item", "finding", "passage", "photo", "photos"]


@dataclass(frozen=True)
class Subject:
    """What a decision is about: its kind, the id it goes by now, and what identifies it for good. A passage
    is the seconds of sound behind a statement, or any other stretch that was heard."""

    kind: Kind
    id: str
    about: About


class Subjects:
    """Everything in one result (as proposed, not as reviewed) that a decision can be about."""

    def __init__(self, result: Result, transcript: Transcript | None = None) -> None:
        self._result = result
        self._segments = transcript.segments if transcript else []
        self._items = {item.id: item for item in result.items}
        self._findings = {finding.id: finding for finding in result.findings}
        self._photos = {one.id: one for one in result.photos}
        self._statements = {one.id: one for one in result.statements}
        self._by_key: dict[str, list[Subject]] = {}
        for subject in [
            *(self._item(item) for item in result.items),
            *(self._finding(finding) for finding in result.findings),
        ]:
            self._by_key.setdefault(subject.about.key, []).append(subject)

    def named(self, name: str) -> Subject:
        """The item, finding or statement with this id, `inspection`, or RECORDING@SECONDS (recordings count
        from 1) for a passage of the transcript. Raises InputError where there is none."""
        if name == INSPECTION:
            digest = sha256_hex(canonical(self._result.model_dump(mode="json", by_alias=True)))
            label = self._result.inspection.id
            return Subject("inspection", name, About(label=label, key=name, digest=digest))
        if name in self._items:
            return self._item(self._items[name])
        if name in self._findings:
            return self._finding(self._findings[name])
        if name == PHOTOS and self._photos:
            digest = sha256_hex(canonical([one.sha256 for one in self._photos.values()]))
            return Subject(
                "photos", name, About(label="all photos", key="shift_photos", digest=digest)
            )
        if name in self._photos:
            return self._photo(self._photos[name])
        if name in self._statements:
            return self._passage(self._statements[name].evidence, name)
        if match := PLACE.fullmatch(name):
            return self._heard_at(name, int(match[1]) - 1, float(match[2]))
        raise InputError(
            f"The inspection has no item, finding or statement '{name}'",
            "Use an id from report.json, or RECORDING@SECONDS for words that no line rests on",
        )

    def passage_of(self, subject: Subject) -> Subject:
        """The one passage that a subject rests on. Raises InputError where it is not one."""
        if subject.kind == "passage":
            return subject
        if subject.kind == "finding":
            return self._passage(self._findings[subject.id].evidence, subject.id)
        item = self._items.get(subject.id)
        if item is not None and len(item.evidence) == 1:
            return self._passage(item.evidence[0], subject.id)
        ids = ", ".join(item.statements) if item is not None else ""
        raise InputError(
            f"'{subject.id}' rests on {len(item.evidence) if item else 'no'} passages, not on one",
            f"Name the statement: {ids}" if ids else "Name a statement or RECORDING@SECONDS",
        )

    def now(self, about: About, was: str) -> Subject | None:
        """The item or finding that an earlier decision on `was` is about in this result; None where it is
        gone."""
        found = self._by_key.get(about.key, [])
        return next((one for one in found if one.id == was), found[0] if found else None)

    def _item(self, item: Item) -> Subject:
        said = [_said(self._result, one) for one in item.evidence]
        first = item.evidence[0] if item.evidence else None
        proposal = [item.id, item.status.value, item.by_reference, item.note, said]
        return Subject(
            "item",
            item.id,
            self._about(item.label, item.status.value, first, f"item {item.id}", proposal),
        )

    def _finding(self, finding: Finding) -> Subject:
        identity = [
            *_place(self._result, finding.evidence),
            finding.condition,
            finding.component,
            finding.position,
        ]
        said = _said(self._result, finding.evidence)
        proposal = [finding.verdict.value, finding.item, finding.note, identity, said]
        key = sha256_hex(canonical(["finding", *identity]))
        label = " ".join(
            one for one in (finding.position, finding.component, finding.condition) if one
        )
        label = label or "component not named"
        stood = finding.verdict.value
        return Subject(
            "finding", finding.id, self._about(label, stood, finding.evidence, key, proposal)
        )

    def _photo(self, photo: Photo) -> Subject:
        placed = None if photo.recording is None else [photo.recording, photo.at]
        digest = sha256_hex(canonical([photo.sha256, photo.taken, placed]))
        return Subject(
            "photo", photo.id, About(label=photo.file, key=photo_key(photo), digest=digest)
        )

    def _passage(self, evidence: Evidence, name: str) -> Subject:
        key = passage_key(self._result, evidence)
        return Subject("passage", name, self._about("words", None, evidence, key, key))

    def _heard_at(self, name: str, recording: int, seconds: float) -> Subject:
        at = [
            one
            for one in self._segments
            if one.recording == recording and one.start <= seconds <= one.end
        ]
        if not at:
            raise InputError(
                f"Nothing was heard at {seconds:g} s of recording {recording + 1}",
                "Use a time at which transcript.vtt has words",
            )
        return self._passage(_evidence(at[0]), name)

    def _about(
        self, label: str, stood: str | None, evidence: Evidence | None, key: str, proposal: Any
    ) -> About:
        digest = sha256_hex(canonical(proposal))
        if evidence is None:
            return About(label=label, stood=stood, key=key, digest=digest)
        recording, start, end = _place(self._result, evidence)
        return About(
            label=label,
            stood=stood,
            recording=recording,
            start=start,
            end=end,
            heard=evidence.heard,
            key=key,
            digest=digest,
        )


def all_evidence(result: Result) -> list[Evidence]:
    """Every evidence entry of a result, wherever it stands; the same passage stands in several places."""
    found = [one for item in result.items for one in item.evidence]
    rows: list[list[Any]] = [
        list(result.statements),
        list(result.findings),
        list(result.flagged_words),
        list(result.repairs),
    ]
    return found + [one.evidence for row in rows for one in row]


def photo_key(photo: Photo) -> str:
    """What identifies a picture for good."""
    return f"photo {photo.sha256}"


def passage_key(result: Result, evidence: Evidence) -> str:
    """What identifies a passage for good."""
    return sha256_hex(canonical(["passage", *_place(result, evidence)]))


def _place(result: Result, evidence: Evidence) -> tuple[str, float, float]:
    sha256 = result.recordings[evidence.recording].sha256
    return sha256, round(evidence.start, 2), round(evidence.end, 2)


def _said(result: Result, evidence: Evidence) -> list[Any]:
    return [*_place(result, evidence), evidence.heard, evidence.text]


def _evidence(segment: Segment) -> Evidence:
    text = segment.text
    return Evidence(
        recording=segment.recording,
        start=segment.start,
        end=segment.end,
        heard=text,
        text=text,
    )
