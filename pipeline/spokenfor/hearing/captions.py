"""What does a caption file made elsewhere say? WebVTT or SubRip in, Transcript out."""

from __future__ import annotations

import html
import re
from collections.abc import Sequence
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.hearing.decode import RATE, decode, file_sha256
from spokenfor.hearing.ledger import ledger
from spokenfor.models import (
    Recogniser,
    Recording,
    Segment,
    SoundKind,
    SoundStretch,
    Transcript,
    UnheardReason,
    Word,
)

MEND = "Give a WebVTT (.vtt) or SubRip (.srt) file in UTF-8"
Cue = tuple[float, float, str]
"""Start and end in seconds, and the words."""


def caption_transcript(caption_file: Path, paths: Sequence[Path] = ()) -> Transcript:
    """Words and cue times of a WebVTT or SubRip file as a Transcript.

    Word times are spread within each cue by the length of the words; probabilities are 1.0; what stands in
    square brackets is doubtful. With one sound file the ledger is made against its sound. Without, the caption
    file stands for the recording and all that lies outside cues is unheard (`no_sound_given`).
    Raises InputError for what is no caption file, for cues after the end of the sound, or for several
    sound files (cue times then have no single beginning).
    """
    if len(paths) > 1:
        raise InputError(
            "One caption file cannot belong to several recordings",
            "Give one recording with it, or join the recordings first",
        )
    sha256 = file_sha256(caption_file)
    cues = read_cues(caption_file)
    model = Recogniser(name=caption_file.name, sha256="")
    if paths:
        return _with_sound(cues, paths[0], caption_file.name, model)
    duration = round(max(end for _, end, _ in cues), 2)
    segments = [one for cue in cues for one in _segments(cue)]
    recording = Recording(
        file=caption_file.name, sha256=sha256, duration=duration, sample_rate=0, channels=0
    )
    entries = [
        SoundStretch(
            recording=0,
            start=entry.start,
            end=entry.end,
            kind=SoundKind.UNHEARD,
            reason=UnheardReason.NO_SOUND_GIVEN,
        )
        if entry.kind is SoundKind.NO_SPEECH
        else entry
        for entry in ledger(0, duration, segments, [])
    ]
    return Transcript(recordings=[recording], segments=segments, ledger=entries, model=model)


def _with_sound(cues: list[Cue], path: Path, captions: str, model: Recogniser) -> Transcript:
    from spokenfor.hearing.listen import account, find_speech

    sound = decode(path)
    if cues[-1][0] >= sound.duration:
        raise InputError(
            f"{captions} has words after the end of {path.name}",
            "Check that it belongs to this recording",
        )
    segments = [
        one
        for start, end, text in cues
        if start < sound.duration
        for one in _segments((start, min(end, len(sound.samples) // (RATE // 100) / 100), text))
    ]
    recording, entries = account(sound, 0, segments, find_speech(sound))
    return Transcript(recordings=[recording], segments=segments, ledger=entries, model=model)


def read_cues(caption_file: Path) -> list[Cue]:
    """Cues with words in them, in time order; raises InputError where the file is no caption file."""
    import webvtt
    from webvtt.errors import MalformedCaptionError, MalformedFileError

    try:
        text = caption_file.read_text(encoding="utf-8-sig")
        kind = "vtt" if text.lstrip().startswith("WEBVTT") else "srt"
        read = webvtt.WebVTT.from_buffer(text.lstrip().splitlines(keepends=True), format=kind)
    except (UnicodeDecodeError, MalformedFileError, MalformedCaptionError, ValueError) as error:
        raise InputError(f"{caption_file.name} is not a caption file", MEND) from error
    cues = [
        (_seconds(caption.start), _seconds(caption.end), words)
        for caption in read.captions
        if (words := " ".join(html.unescape(re.sub(r"<[^>]*>", "", caption.text)).split()))
    ]
    lasting = sorted(cue for cue in cues if cue[1] > cue[0])
    if not lasting:
        raise InputError(f"{caption_file.name} holds no words", MEND)
    return lasting


def _seconds(timestamp: str) -> float:
    hours, minutes, seconds = timestamp.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + float(seconds)


def _segments(cue: Cue) -> list[Segment]:
    """The words of a cue. What stands in square brackets ("[inaudible]", "[wind]") tells of sound that became
    no words: it is kept as doubtful, so that its time is unheard and not silent."""
    start, end, text = cue
    texts = text.split()
    lengths = [len(word) + 1 for word in texts]
    runs: list[tuple[bool, list[Word]]] = []
    passed, inside = 0, False
    for word, length in zip(texts, lengths, strict=True):
        first = start + (end - start) * passed / sum(lengths)
        passed += length
        last = start + (end - start) * passed / sum(lengths)
        inside = inside or "[" in word
        if not runs or runs[-1][0] != inside:
            runs.append((inside, []))
        runs[-1][1].append(
            Word(text=word, start=round(first, 2), end=round(last, 2), probability=1.0)
        )
        inside = inside and "]" not in word
    return [
        Segment(
            recording=0, start=words[0].start, end=words[-1].end, words=words, doubtful=doubtful
        )
        for doubtful, words in runs
    ]
