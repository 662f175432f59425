"""What a reviewed inspection consists of: reviewed.json."""

from __future__ import annotations

from typing import Literal

from pydantic import ConfigDict, Field

from spokenfor.models import Finding, Model, Result, Seconds
from spokenfor.record.entries import Entry


class Change(Model):
    """A status that a person changed: what was proposed, what it became, and by which entry of the log."""

    subject: str
    label: str
    proposed: str
    became: str
    by: str
    at: str
    why: str | None
    entry: int


class Correction(Model):
    """Words or times of a passage that a person corrected; `heard` stays as it was first heard (promise 4)."""

    recording: str
    start: Seconds
    end: Seconds
    heard: str
    words: str | None = None
    new_start: Seconds | None = None
    new_end: Seconds | None = None
    by: str
    at: str
    why: str | None
    entry: int


class Note(Model):
    """What a person added."""

    subject: str
    text: str
    by: str
    at: str
    entry: int


class PhotoMove(Model):
    """A picture that a person moved: recording (index) and seconds before and after, None where not placed."""

    subject: str
    before: tuple[int, Seconds] | None
    after: tuple[int, Seconds] | None
    by: str
    at: str
    why: str | None
    entry: int


class OpenPoint(Model):
    """What a person must still decide before the inspection is sealed, and why."""

    subject: str
    label: str
    why: str


class Reviewed(Model):
    """The reviewed result. `result` is the proposal with the standing decisions laid over it; `dismissed` are
    findings that a person said are none; `decided` names for each subject (ids of this result) the entries
    that stand; `overtaken` the entries whose subject changed when more was heard; `sealed` the seal, if it
    stands; `entries` and `head` the length of the log and the SHA-256 of its last entry."""

    schema_: Literal["spokenfor/reviewed/1"] = Field("spokenfor/reviewed/1", alias="schema")
    result: Result
    decided: dict[str, list[int]]
    changes: list[Change]
    corrections: list[Correction]
    notes: list[Note]
    photo_moves: list[PhotoMove] = Field(default_factory=list)
    dismissed: list[Finding]
    overtaken: list[int]
    open: list[OpenPoint]
    sealed: Entry | None
    entries: int
    head: str

    model_config = ConfigDict(extra="forbid", populate_by_name=True)
