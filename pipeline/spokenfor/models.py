"""The models that pass between stages, and nothing else.

Times are seconds from the start of one recording; probabilities and confidences are 0..1.
`recording` is always an index into `recordings` of the same transcript or result.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, PlainSerializer

Seconds = Annotated[float, PlainSerializer(lambda value: round(value, 2), return_type=float)]
Score = Annotated[float, PlainSerializer(lambda value: round(value, 3), return_type=float)]


class Model(BaseModel):
    """Base of every model here: unknown fields are refused."""

    model_config = ConfigDict(extra="forbid")


class Verdict(StrEnum):
    """What a statement says of its component (design, section 3)."""

    SATISFACTORY = "satisfactory"
    REMARK = "remark"
    DEFECT = "defect"
    NOT_INSPECTED = "not_inspected"
    NOT_FITTED = "not_fitted"
    LOOKED_FOR = "looked_for"
    NAMED = "named"


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


class FlaggedReading(StrEnum):
    """How a flagged word was read."""

    PRESENT = "present"
    ABSENT = "absent"
    LOOKED_FOR = "looked_for"
    SUPPOSED = "supposed"
    WITHIN_LIMITS = "within_limits"
    UNCLEAR = "unclear"


class SoundKind(StrEnum):
    """What one stretch of sound was (promise 3): every second is exactly one of these."""

    WORDS = "words"
    UNHEARD = "unheard"
    NO_SPEECH = "no_speech"


class UnheardReason(StrEnum):
    """Why a stretch counts as unheard."""

    SPEECH_WITHOUT_WORDS = "speech_without_words"
    TOO_NOISY = "too_noisy"
    CLIPPED = "clipped"
    MISSING_SOUND = "missing_sound"
    DOUBTFUL_WORDS = "doubtful_words"
    NO_SOUND_GIVEN = "no_sound_given"


class Word(Model):
    """One word as first heard. `text` carries its punctuation and no surrounding space."""

    text: str
    start: Seconds
    end: Seconds
    probability: Score


class Segment(Model):
    """A run of words the recogniser gave as one; `doubtful` words are kept but never read for ticks."""

    recording: int
    start: Seconds
    end: Seconds
    words: list[Word]
    doubtful: bool = False

    @property
    def text(self) -> str:
        return " ".join(word.text for word in self.words)


class SoundStretch(Model):
    """One entry of the sound ledger; the entries of a recording cover it without gap or overlap."""

    recording: int
    start: Seconds
    end: Seconds
    kind: SoundKind
    reason: UnheardReason | None = None


class Quality(Model):
    """Sound quality of a recording: signal-to-noise ratio in dB (None when there is no speech to
    measure), share of clipped samples 0..1, seconds of speech found."""

    snr_db: Score | None
    clipped: Score
    speech_seconds: Seconds


class Recording(Model):
    """One sound file of an inspection. `file` is its base name; duration in seconds, rate in Hz.
    For a transcript made elsewhere without sound, `sample_rate` and `channels` are 0 and `quality` None."""

    file: str
    sha256: str
    duration: Seconds
    sample_rate: int
    channels: int
    quality: Quality | None = None


class Recogniser(Model):
    """The weights that made a transcript. `sha256` is that of model.bin, "" where words came from outside."""

    name: str
    sha256: str


class Transcript(Model):
    """Everything hearing hands on: the words as first heard, in time order, and the sound ledger."""

    recordings: list[Recording]
    segments: list[Segment]
    ledger: list[SoundStretch]
    model: Recogniser


class Evidence(Model):
    """The seconds of sound behind a line: words as first heard, and as repaired."""

    recording: int
    start: Seconds
    end: Seconds
    heard: str
    text: str


class Repair(Model):
    """A change of wording: what was heard, what it became, how alike they sound (0..1; 1 = same phones)
    and, where the sound was asked, the sound score in nats."""

    heard: str
    became: str
    evidence: Evidence
    phonetic_score: Score
    spelling_score: Score
    sound_score: Score | None = None
    why: str


class Quantity(Model):
    """A number that was said: value in `unit` ("" for a bare count), the limit it was held against in
    words, and whether it is within it (None where the pack gives no limit)."""

    text: str
    value: float
    unit: str
    limit: str | None = None
    within: bool | None = None


class Statement(Model):
    """One thing said about one component. `item` is None where no single line of the sheet fits;
    `clears` says that it settles an earlier statement (put right, or inspected later)."""

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
    """Everything reading hands on, in time order."""

    statements: list[Statement]
    flagged_words: list[FlaggedWord]
    repairs: list[Repair]
    walk: list[ZoneStay]


class ZoneWalk(Model):
    """A zone of the pack and when it was walked. `expected_order` counts from 1 in the sheet's order,
    `walked_order` from 1 in the order of first visits (None where never visited)."""

    id: str
    name: str
    expected_order: int
    walked_order: int | None
    visits: list[Visit]
    seconds: Seconds


class AspectStated(Model):
    """An aspect to be stated of an item and whether it was."""

    name: str
    stated: bool


class Item(Model):
    """A line of the sheet and where it stands. `note` is "found and put right", "inspected later" or
    None; `statements` are ids of everything said about it, in time order, nothing erased."""

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


class Finding(Model):
    """A defect or remark, placed on an item where possible; `note` as in Item."""

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
    """Everything a report is made from; serialised as report.json."""

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

    model_config = ConfigDict(extra="forbid", populate_by_name=True)
