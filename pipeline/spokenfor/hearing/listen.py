"""What was said on these recordings, and what of them is unheard? Sound in, Transcript out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.hearing.decode import RATE, Sound, decode, file_sha256
from spokenfor.hearing.dropouts import dropouts
from spokenfor.hearing.gaps import Understanding, Understood, hear_gaps
from spokenfor.hearing.ledger import ledger
from spokenfor.hearing.levels import drowned, measure
from spokenfor.hearing.memory import give_back_memory
from spokenfor.hearing.quality import quality
from spokenfor.hearing.questions import Terms
from spokenfor.hearing.second_hearing import SecondHearing, as_proofs
from spokenfor.hearing.transcribe import Recogniser, batches_at_once
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
from spokenfor.packs.load import Pack

Progress = Callable[[str, float, float], None]
"""Told what is being done, seconds of sound done, and seconds in all."""
SoFar = Callable[[Transcript], None]
"""Given the words so far, while the rest is still being heard: without ledger, proofs and sound quality."""


def hear(
    paths: Sequence[Path],
    model: str | None = None,
    *,
    pack: Pack | None = None,
    allow_network: bool = False,
    progress: Progress | None = None,
    so_far: SoFar | None = None,
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
    give_back_memory()
    tell = progress or _silent
    weights = resolve(model, allow_network=allow_network)
    identity = Identity(name=weights.name, sha256=weights.sha256)
    recogniser: Recogniser | None = None
    recordings: list[Recording] = []
    heard: list[Segment] = []
    entries: list[SoundStretch] = []
    proofs: list[Proof] = []
    terms = Terms(pack) if pack is not None else None
    for index, path in enumerate(paths):
        tell(f"Reading {path.name}", 0.0, 1.0)
        sound = decode(path)
        at_once = batches_at_once(len(sound.samples))
        if recogniser is None or recogniser.at_once != at_once:
            recogniser = Recogniser(weights, at_once)
        before = Transcript(
            recordings=[*recordings, _described(sound)],
            segments=heard,
            ledger=[],
            model=identity,
        )
        one = hear_one(recogniser, sound, index, tell, terms, _on_top_of(before, so_far))
        recordings.append(one.recording)
        proofs += [
            proof.model_copy(update={"segment": proof.segment + len(heard)}) for proof in one.proofs
        ]
        heard += one.segments
        entries += one.ledger
    return Transcript(
        recordings=recordings,
        segments=heard,
        ledger=entries,
        model=identity,
        proofs=proofs if terms is not None else None,
    )


@dataclass(frozen=True)
class OneRecording:
    """What one recording gave; proofs number its segments from 0."""

    recording: Recording
    segments: list[Segment]
    ledger: list[SoundStretch]
    proofs: list[Proof]


def hear_one(
    recogniser: Recogniser,
    sound: Sound,
    index: int,
    progress: Progress,
    terms: Terms | None = None,
    words: Callable[[list[Segment]], None] | None = None,
) -> OneRecording:
    """Transcribe and account for one decoded recording, number `index` of its inspection; with `terms`,
    ask the sound about them. `words` is given all segments found so far, window by window."""
    gain, speech, grouped = _speech(sound)
    total = sum(end - start for window in grouped for start, end in window) / RATE
    done = [0.0]
    for window in grouped:
        done.append(done[-1] + sum(end - start for start, end in window) / RATE)
    stage = f"Hearing {sound.file}"
    progress(stage, 0.0, total)
    second = SecondHearing(recogniser.scorer(), terms) if terms is not None else None
    understand = Understanding(index, second)
    heard: list[Understood] = []
    for understood in recogniser.hear(
        sound.samples,
        grouped,
        gain,
        understand,
        lambda count: progress(stage, done[count], total),
        understand.names,
    ):
        heard.append(understood)
        if words is not None:
            words([segment for one in heard for segment in one.segments])
    loops = [
        (start / RATE, end / RATE)
        for window, one in zip(grouped, heard, strict=True)
        for start, end in window
        if one.looped
    ]
    spans = [(start / RATE, end / RATE) for start, end in speech]
    found, asked = hear_gaps(recogniser, sound.samples, gain, understand, heard, spans, loops)
    progress(stage, total, total)
    recording, entries = account(sound, index, found, speech)
    return OneRecording(recording, found, entries, as_proofs(asked, found))


def account(
    sound: Sound, index: int, found: list[Segment], speech: list[Stretch]
) -> tuple[Recording, list[SoundStretch]]:
    """The recording's entry and its sound ledger, given the words and the speech found in it."""
    silent = dropouts(sound.samples)
    levels = measure(sound, speech, sound.missing + silent)
    recording = _described(sound)
    recording.quality = quality(sound, levels, speech, silent)
    entries = ledger(
        index,
        recording.duration,
        found,
        [(start / RATE, end / RATE) for start, end in speech],
        drowned(levels),
        sound.clipped,
        sound.missing + silent,
    )
    return recording, entries


def _on_top_of(before: Transcript, so_far: SoFar | None) -> Callable[[list[Segment]], None] | None:
    """Tells the segments of the recording being heard after those of the ones before it."""
    if so_far is None:
        return None
    segments = list(before.segments)
    return lambda found: so_far(before.model_copy(update={"segments": [*segments, *found]}))


def _described(sound: Sound) -> Recording:
    return Recording(
        file=sound.file,
        sha256=sound.sha256,
        duration=round(sound.duration, 2),
        sample_rate=sound.sample_rate,
        channels=sound.channels,
    )


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
