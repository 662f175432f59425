"""What reading hands on: statements, flagged words, repairs, the walk."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from spokenfor.models.base import Model, Score, Seconds


class Verdict(StrEnum):
    """What a statement says of its component (design, section 3)."""

    SATISFACTORY = "satisfactory"
    REMARK = "remark"
    DEFECT = "defect"
    NOT_INSPECTED = "not_inspected"
    NOT_FITTED = "not_fitted"
    LOOKED_FOR = "looked_for"
    NAMED = "named"


class FlaggedReading(StrEnum):
    """How a flagged word was read."""

    PRESENT = "present"
    ABSENT = "absent"
    LOOKED_FOR = "looked_for"
    SUPPOSED = "supposed"
    WITHIN_LIMITS = "within_limits"
    UNCLEAR = "unclear"


class Evidence(Model):
    """The seconds of sound behind a line: words as first heard, and as repaired."""

    recording: int
    start: Seconds
    end: Seconds
    heard: str
    text: str


class Repair(Model):
    """A change of wording: what was heard, what it became, how alike they sound (0..1; 1 = same phones)
    and, where the sound was asked, the sound score in nats and the `probability` (0..1) that this was said,
    all in all. `turns`: it turns a meaning round (no or not
    put in, left for right, another number), so what rests on it must be listened to."""

    heard: str
    became: str
    evidence: Evidence
    phonetic_score: Score
    spelling_score: Score
    sound_score: Score | None = None
    probability: Score | None = None
    why: str
    turns: bool = False


class Quantity(Model):
    """A number that was said: value in `unit` ("" for a bare count), the limit it was held against in
    words, and whether it is within it (None where the pack gives no limit, or what was said does not decide
    it); `on_limit`: within, and equal to a bound."""

    text: str
    value: float
    unit: str
    limit: str | None = None
    within: bool | None = None
    on_limit: bool = False


class Statement(Model):
    """One thing said about one component. `item` is None where no single line of the sheet fits;
    `clears` says that it settles an earlier statement (put right, or inspected later). `unlisted` is how
    probable (0..1) its result is where no phrase that is listed states it and the words were told by
    their likeness to others: a person must listen."""

    id: str
    item: str | None
    component: str | None
    position: str | None
    zone: str | None
    verdict: Verdict
    conditions: list[str] = Field(default_factory=list)
    aspects: list[str] = Field(default_factory=list)
    quantities: list[Quantity] = Field(default_factory=list)
    by_reference: bool = False
    clears: bool = False
    unlisted: Score | None = None
    evidence: Evidence
    confidence: Score


class FlaggedWord(Model):
    """A flagged word in the transcript and how it was read (promise 2)."""

    word: str
    condition: str
    reading: FlaggedReading
    item: str | None = None
    evidence: Evidence


class Visit(Model):
    """One stay in a zone."""

    recording: int
    start: Seconds
    end: Seconds


class ZoneStay(Visit):
    """A visit and the zone it was in."""

    zone: str


class Reading(Model):
    """Everything reading hands on, in time order; `unsure_zones` were walked, at least in part, without its
    being said on which side, or may have been."""

    statements: list[Statement]
    flagged_words: list[FlaggedWord]
    repairs: list[Repair]
    walk: list[ZoneStay]
    unsure_zones: list[str] = Field(default_factory=list)
