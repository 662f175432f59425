"""A Transcript made of written lines, for tests of what follows hearing: a line is a breath, 0.35 s a word."""

from __future__ import annotations

from spokenfor.models import (
    Recogniser,
    Recording,
    Segment,
    SoundKind,
    SoundStretch,
    Transcript,
    Word,
)

PACK = "helicopter-light-twin"


def spoken(text: str, pause: float = 0.6) -> Transcript:
    """Words of `text` at a steady pace; `pause` seconds between lines."""
    now, segments = 0.0, []
    for line in text.strip().splitlines():
        words = []
        for word in line.split():
            words.append(Word(text=word, start=now, end=now + 0.3, probability=0.95))
            now += 0.35
        if words:
            segments.append(
                Segment(recording=0, start=words[0].start, end=words[-1].end, words=words)
            )
        now += pause
    return Transcript(
        recordings=[
            Recording(file="walk.wav", sha256="0" * 64, duration=now, sample_rate=16000, channels=1)
        ],
        segments=segments,
        ledger=[SoundStretch(recording=0, start=0.0, end=now, kind=SoundKind.WORDS)],
        model=Recogniser(name="written", sha256=""),
    )
