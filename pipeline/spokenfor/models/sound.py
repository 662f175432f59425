"""What hearing hands on: words as first heard, and the sound ledger."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from spokenfor.models.base import Model, Score, Seconds


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


class SoundFault(StrEnum):
    """What makes sound poor, weightiest first."""

    SILENT = "silent"
    DAMAGED = "damaged"
    NOISE = "noise"
    WIND = "wind"
    CLIPPED = "clipped"
    DROPOUTS = "dropouts"
    NARROW_BAND = "narrow_band"
    FAINT = "faint"


class QualityStretch(Model):
    """Sound quality of about ten seconds: signal-to-noise ratio in dB and the frequency in Hz at which the
    voice stops (None where there is too little speech), seconds clipped and missing, share of the time with
    wind 0..1 (None where speech leaves no pause to tell it in)."""

    start: Seconds
    end: Seconds
    snr_db: Score | None
    upper_hz: int | None
    clipped_seconds: Seconds
    missing_seconds: Seconds
    wind: Score | None
    faults: list[SoundFault] = Field(default_factory=list)


class Quality(Model):
    """Sound quality of a recording: signal-to-noise ratio in dB (None when there is no speech to
    measure), share of clipped samples 0..1, seconds of speech found; loudness in LUFS (ITU-R BS.1770, of
    the sound as one channel at 16 kHz; None where it is silent), the frequency in Hz at which the voice
    stops, seconds heavily clipped, seconds a damaged file lacks, number and seconds of dropouts, share of
    the time with wind or rubbing 0..1 (None where speech leaves no pause to tell it in). `advice` is one
    sentence on what to do next time, None where nothing is wrong."""

    snr_db: Score | None
    clipped: Score
    speech_seconds: Seconds
    loudness_lufs: Score | None = None
    upper_hz: int | None = None
    clipped_seconds: Seconds = 0.0
    damaged_seconds: Seconds = 0.0
    dropouts: int = 0
    dropout_seconds: Seconds = 0.0
    wind: Score | None = None
    faults: list[SoundFault] = Field(default_factory=list)
    advice: str | None = None
    stretches: list[QualityStretch] = Field(default_factory=list)


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


class Proof(Model):
    """What the sound says of one possible repair: words `first` up to `after` (not included) of segment number
    `segment` against `label` of a pack term of `kind`. `sound_score` is in nats: the log probability of
    the segment with the label in it, less that of the words as heard (0 = equally likely). `primed` is how
    probable the label's words were to a hearer who was told the names that belong there: 0 where they were
    not what that one heard, None where nobody was told."""

    segment: int
    first: int
    after: int
    kind: str
    label: str
    plural: bool
    phonetic_score: Score
    spelling_score: Score
    sound_score: Score
    primed: Score | None = None


class Transcript(Model):
    """Everything hearing hands on: the words as first heard, in time order, the sound ledger, and what
    the sound says of possible repairs (None where the sound was not asked)."""

    recordings: list[Recording]
    segments: list[Segment]
    ledger: list[SoundStretch]
    model: Recogniser
    proofs: list[Proof] | None = None
