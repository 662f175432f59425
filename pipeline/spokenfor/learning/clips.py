"""The sound behind a proposal, to be listened to before a person says yes."""

from __future__ import annotations

import re
import wave
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.learning.proposals import Passage, Proposal
from spokenfor.reporting.timeline import PAD


def write_clips(
    proposals: Iterable[Proposal], sounds: Mapping[str, Path], folder: Path
) -> dict[str, list[Path]]:
    """Writes the passages of each proposal as WAV files (mono, 16 kHz) to a new folder; the files by proposal.
    `sounds` are the recordings by SHA-256: passages of others (words from captions) have no clip.

    Raises InputError where something is there already, nothing can be written, or a recording cannot be read.
    """
    if folder.exists():
        raise InputError(f"'{folder}' exists already", "Give --clips the name of a new folder")
    wanted: dict[str, list[tuple[str, int, Passage]]] = {}
    for proposal in proposals:
        for number, passage in enumerate(proposal.passages, start=1):
            if passage.recording is not None and passage.recording in sounds:
                wanted.setdefault(passage.recording, []).append((proposal.id, number, passage))
    written: dict[str, list[Path]] = {}
    try:
        folder.mkdir(parents=True)
        for recording, passages in wanted.items():
            for name, path in _cut(sounds[recording], passages, folder):
                written.setdefault(name, []).append(path)
    except OSError as error:
        raise InputError(
            f"Clips cannot be written to '{folder}' ({(error.strerror or str(error)).lower()})",
            "Mend the rights, or give another folder",
        ) from error
    return {name: sorted(paths) for name, paths in written.items()}


def _cut(
    sound: Path, passages: Sequence[tuple[str, int, Passage]], folder: Path
) -> Iterable[tuple[str, Path]]:
    from spokenfor.hearing.decode import RATE, decode

    samples = decode(sound).samples
    for name, number, passage in passages:
        start, end = (
            round(max(0.0, second) * RATE) for second in (passage.start - PAD, passage.end + PAD)
        )
        path = folder / f"{re.sub(r'[^a-z0-9]+', '-', name)}-{number}.wav"
        with wave.open(str(path), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(RATE)
            file.writeframes(samples[start:end].tobytes())
        yield name, path
