"""What coverage hands on: the Result, everything a report is made from."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from pydantic import ConfigDict, Field

from spokenfor.models.base import Model, Score, Seconds
from spokenfor.models.photos import Photo, PhotoClock
from spokenfor.models.reading import (
    Evidence,
    FlaggedWord,
    Quantity,
    Repair,
    Statement,
    Verdict,
    Visit,
)
from spokenfor.models.sound import Recogniser, Recording, UnheardReason


class ItemStatus(StrEnum):
    """Where a line of the sheet stands: a verdict, or nothing said, or not heard."""

    SATISFACTORY = "satisfactory"
    REMARK = "remark"
    DEFECT = "defect"
    NOT_INSPECTED = "not_inspected"
    NOT_FITTED = "not_fitted"
    LOOKED_FOR = "looked_for"
    NAMED = "named"
    NOT_MENTIONED = "not_mentioned"
    UNHEARD = "unheard"


class ZoneWalk(Model):
    """A zone of the pack and when it was walked. `expected_order` counts from 1 in the sheet's order,
    `walked_order` from 1 in the order of first visits (None where never visited); `side_sure` is False
    where it was not said which side was walked, this zone's or its twin's."""

    id: str
    name: str
    expected_order: int
    walked_order: int | None
    visits: list[Visit]
    seconds: Seconds
    side_sure: bool = True


class AspectStated(Model):
    """An aspect to be stated of an item and whether it was."""

    name: str
    stated: bool


class Item(Model):
    """A line of the sheet and where it stands. `note` is "found and put right", "inspected later" or
    None; `statements` are ids of everything said about it, in time order, nothing erased. `confidence` is
    the probability that the status is what the speaker said; `listen` where that is low or a word that
    turns the meaning was repaired: a person must listen before relying on it."""

    id: str
    zone: str
    component: str
    position: str | None
    label: str
    required: bool
    ata: str | None = None
    status: ItemStatus
    confidence: Score
    by_reference: bool = False
    note: str | None = None
    aspects: list[AspectStated]
    evidence: list[Evidence]
    statements: list[str] = Field(default_factory=list)
    listen: bool = False


class Finding(Model):
    """A defect or remark, placed on an item where possible; `note`, `confidence`, `listen` as in Item."""

    id: str
    verdict: Verdict
    condition: str | None
    component: str | None
    position: str | None
    item: str | None
    note: str | None = None
    quantities: list[Quantity]
    evidence: Evidence
    confidence: Score
    listen: bool = False


class Unheard(Model):
    """A stretch that counts as unheard, why, and the zones that may have been walked in it."""

    recording: int
    start: Seconds
    end: Seconds
    reason: UnheardReason
    zones: list[str] = Field(default_factory=list)


class Coverage(Model):
    """Counts by status over all items (a by-reference item is counted under `by_reference` only), and
    how many required items are covered: satisfactory, remark, defect or not_fitted, not by reference."""

    by_status: dict[str, int]
    by_reference: int
    total: int
    required_total: int
    required_covered: int


class PackIdentity(Model):
    """Which pack was used; sha256 over its files and those of common/."""

    name: str
    title: str
    version: str
    sha256: str


class Inspection(Model):
    """One check of one asset. `started` is the UTC date and time of the run, ISO 8601."""

    id: str
    asset: str | None
    pack: PackIdentity
    by: str | None
    started: str
    software: str
    model: Recogniser


class Result(Model):
    """Everything a report is made from; serialised as report.json. `photo_clock` is None without photos."""

    schema_: Literal["spokenfor/report/1"] = Field("spokenfor/report/1", alias="schema")
    cautions: list[str]
    inspection: Inspection
    recordings: list[Recording]
    items: list[Item]
    findings: list[Finding]
    flagged_words: list[FlaggedWord]
    statements: list[Statement]
    zones: list[ZoneWalk]
    repairs: list[Repair]
    unheard: list[Unheard]
    coverage: Coverage
    photos: list[Photo] = Field(default_factory=list)
    photo_clock: PhotoClock | None = None

    model_config = ConfigDict(extra="forbid", populate_by_name=True)
