"""The models that pass between stages, and nothing else.

Times are seconds from the start of one recording; probabilities and confidences are 0..1.
`recording` is always an index into `recordings` of the same transcript or result.
"""

from spokenfor.models.base import Model, Score, Seconds
from spokenfor.models.photos import ClockSource, NotPlaced, Photo, PhotoClock, RecordingClock
from spokenfor.models.reading import (
    Evidence,
    FlaggedReading,
    FlaggedWord,
    Quantity,
    Reading,
    Repair,
    Statement,
    Verdict,
    Visit,
    ZoneStay,
)
from spokenfor.models.result import (
    AspectStated,
    Coverage,
    Finding,
    Inspection,
    Item,
    ItemStatus,
    PackIdentity,
    Result,
    Unheard,
    ZoneWalk,
)
from spokenfor.models.sound import (
    Proof,
    Quality,
    QualityStretch,
    Recogniser,
    Recording,
    Segment,
    SoundFault,
    SoundKind,
    SoundStretch,
    Transcript,
    UnheardReason,
    Word,
)

__all__ = [
    "AspectStated",
    "ClockSource",
    "Coverage",
    "Evidence",
    "Finding",
    "FlaggedReading",
    "FlaggedWord",
    "Inspection",
    "Item",
    "ItemStatus",
    "Model",
    "NotPlaced",
    "PackIdentity",
    "Photo",
    "PhotoClock",
    "Proof",
    "Quality",
    "QualityStretch",
    "Quantity",
    "Reading",
    "Recogniser",
    "Recording",
    "RecordingClock",
    "Repair",
    "Result",
    "Score",
    "Seconds",
    "Segment",
    "SoundFault",
    "SoundKind",
    "SoundStretch",
    "Statement",
    "Transcript",
    "Unheard",
    "UnheardReason",
    "Verdict",
    "Visit",
    "Word",
    "ZoneStay",
    "ZoneWalk",
]
