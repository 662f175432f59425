"""What was said on these recordings, and what of them is unheard? Sound in, Transcript out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.hearing.decode import RATE, Sound, decode, file_sha256
from spokenfor.hearing.gaps import hear_gaps
from spokenfor.hearing.ledger import Span, ledger
from spokenfor.hearing.quality import dropouts, drowned, measure, quality
from spokenfor.hearing.second_hearing import second_hearing
from spokenfor.hearing.segments import looped
from spokenfor.hearing.segments import segments as split
from spokenfor.hearing.transcribe import Recogniser
from spokenfor.hearing.voice import (
    Stretch,
    VoiceSettings,
    speech_probability,
    speech_stretches,
    working_gain,
)
from spokenfor.hearing.weights import resolve
from spokenfor.hearing.windows import windows
from spokenfor.models import Proof, Recording, Segment, SoundStretch, Transcript
from spokenfor.models import Recogniser as Identity
from spokenfor.packs.candidates import Candidates
from spokenfor.packs.load import Pack

Progress = Callable[[str, float, float], None]
"""Told what is being done, seconds of sound done, and seconds in all."""


def hear(
    paths: Sequence[Path],
    model: str | None = None,
    *,
    pack: Pack | None = None,
    allow_network: bool = False,
    progress: Progress | None = None,
) -> Transcript:
    """Decode sound files, transcribe them, and account for every second of them; with a `pack`, also
    ask the sound where its terms may have been misheard (second hearing).

    The files are only read. Raises InputError where a file holds no usable sound or the weights are
    not at hand. The same sound and weights give the same transcript.
    """
    if not paths:
        raise InputError("No sound was given", "Name at least one sound file")
    for path in paths:
        file_sha256(path)
    tell = progress or _silent
    weights = resolve(model, allow_network=allow_network)
    recogniser: Recogniser | None = None
    recordings: list[Recording] = []
    heard: list[Segment] = []
    entries: list[SoundStretch] = []
    proofs: list[Proof] = []
    terms = Candidates(pack) if pack is not None else None
    for index, path in enumerate(paths):
        tell(f"Reading {path.name}", 0.0, 1.0)
        sound = decode(path)
        recogniser = recogniser or Recogniser(weights)
        recording, found, accounted = hear_one(recogniser, sound, index, tell)
        recordings.append(recording)
        if terms is not None:
            asked = hear_terms(recogniser, sound, found, terms, tell)
            proofs += [
                one.model_copy(update={"segment": one.segment + len(heard)}) for one in asked
            ]
        heard += found
        entries += accounted
    return Transcript(
        recordings=recordings,
        segments=heard,
        ledger=entries,
        model=Identity(name=weights.name, sha256=weights.sha256),
        proofs=proofs if terms is not None else None,
    )


def hear_terms(
    recogniser: Recogniser,
    sound: Sound,
    found: Sequence[Segment],
    terms: Candidates,
    progress: Progress,
) -> list[Proof]:
    """What the sound says of possible repairs of one recording; segments are numbered within it."""
    stage = f"Hearing {sound.file} again"
    progress(stage, 0.0, sound.duration)
    proofs = second_hearing(
        recogniser.scorer(),
        sound.samples,
        working_gain(sound.samples),
        found,
        terms,
        lambda seconds: progress(stage, seconds, sound.duration),
    )
    progress(stage, sound.duration, sound.duration)
    return proofs


def hear_one(
    recogniser: Recogniser, sound: Sound, index: int, progress: Progress
) -> tuple[Recording, list[Segment], list[SoundStretch]]:
    """Transcribe and account for one decoded recording, number `index` of its inspection."""
    gain, speech, grouped = _speech(sound)
    total = sum(end - start for window in grouped for start, end in window) / RATE
    done = [0.0]
    for window in grouped:
        done.append(done[-1] + sum(end - start for start, end in window) / RATE)
    stage = f"Hearing {sound.file}"
    progress(stage, 0.0, total)
    found: list[Segment] = []
    loops: list[Span] = []
    for window, heard in zip(
        grouped,
        recogniser.hear(
            sound.samples, grouped, gain, lambda count: progress(stage, done[count], total)
        ),
        strict=True,
    ):
        found += split(index, heard)
        loops += [(start / RATE, end / RATE) for start, end in window if looped(heard)]
    spans = [(start / RATE, end / RATE) for start, end in speech]
    found = hear_gaps(recogniser, sound.samples, gain, index, found, spans, loops)
    progress(stage, total, total)
    recording, entries = account(sound, index, found, speech)
    return recording, found, entries


def account(
    sound: Sound, index: int, found: list[Segment], speech: list[Stretch]
) -> tuple[Recording, list[SoundStretch]]:
    """The recording's entry and its sound ledger, given the words and the speech found in it."""
    levels = measure(sound, speech)
    recording = Recording(
        file=sound.file,
        sha256=sound.sha256,
        duration=round(sound.duration, 2),
        sample_rate=sound.sample_rate,
        channels=sound.channels,
        quality=quality(sound, levels, speech),
    )
    entries = ledger(
        index,
        recording.duration,
        found,
        [(start / RATE, end / RATE) for start, end in speech],
        drowned(levels),
        sound.clipped,
        sound.missing + dropouts(sound.samples),
    )
    return recording, entries


def find_speech(sound: Sound) -> list[Stretch]:
    """Stretches of speech in a recording, in samples at 16 kHz."""
    return _speech(sound)[1]


def _speech(sound: Sound) -> tuple[float, list[Stretch], list[list[Stretch]]]:
    settings = VoiceSettings()
    gain = working_gain(sound.samples)
    probability = speech_probability(sound.samples, gain)
    length = len(sound.samples)
    speech = speech_stretches(probability, length, settings)
    return gain, speech, windows(speech, probability, length, settings.padding)


def _silent(stage: str, done: float, total: float) -> None:
    """Progress that nobody watches."""
