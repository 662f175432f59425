"""Speaking the terms of a pack with a synthetic voice and hearing them: which are heard, and which are not."""

from __future__ import annotations

import csv
import io
import tempfile
import wave
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from spokenfor.errors import InputError
from spokenfor.packs.heard import FILE, Heard, HeardTerm
from spokenfor.packs.variants import Variants, same_words
from spokenfor.packs.wording import match_key, normal, singular, split_tokens

if TYPE_CHECKING:
    from spokenfor.models import Result, Transcript
    from spokenfor.packs.load import Pack
    from spokenfor.packs.schema import Component
    from spokenfor.voices import Sound, Voice

BETWEEN, AT_A_ZONE = 0.5, 1.2
"""Seconds of silence behind a sentence, and behind the last of a zone."""
MINUTES = 10
"""Recordings of at most so many minutes are heard at once."""
Progress = Callable[[str, float, float], None]


@dataclass(frozen=True)
class _Saying:
    """One sentence: the zone it is said in, the component and label in it (none where it names the zone)."""

    text: str
    component: str = ""
    label: str = ""
    last: bool = False


def say_terms(
    pack: Pack,
    voice: Voice,
    *,
    every_label: bool = False,
    model: str | None = None,
    progress: Progress | None = None,
) -> list[HeardTerm]:
    """Each name of the pack as it was heard, in walking order, from a sentence of its own ("The nose cone is
    good."), zone by zone. Labels of `altLabel` are said too where asked for.

    Raises InputError where the voice is not installed or the weights are not at hand.
    """
    from spokenfor.voices import installed
    from spokenfor.voices import voice as make_voice

    if not installed(voice.engine):
        raise InputError(
            f"The voice '{voice.engine}' is not installed",
            "Install hibari-tts or piper-tts (PyPI) or espeak-ng (Debian), or name another with --voice",
        )
    speak = make_voice(voice, {})
    heard: list[HeardTerm] = []
    sayings = list(_sayings(pack, every_label))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "terms.wav"
        for part in _parts(sayings):
            times = _record(part, speak, path)
            heard += _hear(pack, part, times, path, model, progress)
    return heard


def _sayings(pack: Pack, every_label: bool) -> Iterable[_Saying]:
    said: set[str] = set()
    zones = {zone.id: zone.prefLabel for zone in pack.zones}
    for part in pack.sheet:
        names = [
            (line.component, label)
            for line in part.lines
            for label in _labels(pack, line.component, every_label)
        ]
        fresh = [pair for pair in dict.fromkeys(names) if f"{pair[0]}.{pair[1]}" not in said]
        said |= {f"{name}.{label}" for name, label in fresh}
        if fresh:
            yield _Saying(f"Now the {zones[part.zone]}.")
        for at, (name, label) in enumerate(fresh, start=1):
            verb = "are" if label.endswith("s") and not label.endswith("ss") else "is"
            yield _Saying(f"The {label} {verb} good.", name, label, at == len(fresh))


def _labels(pack: Pack, name: str, every_label: bool) -> list[str]:
    component = pack.components[name]
    return [component.prefLabel, *(component.altLabel if every_label else ())]


def _parts(sayings: Sequence[_Saying]) -> Iterable[list[_Saying]]:
    """So many sentences as fill about one recording (a sentence and its silence take about two seconds)."""
    most = MINUTES * 60 // 2
    for at in range(0, len(sayings), most):
        yield list(sayings[at : at + most])


def _record(
    sayings: Sequence[_Saying], speak: Callable[[str], Sound], path: Path
) -> list[tuple[float, float]]:
    """Writes the sentences with their silences as a wav file; when each begins and ends, in seconds."""
    import numpy as np

    from spokenfor.voices import RATE

    pieces: list[Sound] = [np.zeros(RATE, np.float32)]
    times, now = [], 1.0
    for saying in sayings:
        sound = speak(saying.text)
        silence = np.zeros(round(RATE * (AT_A_ZONE if saying.last else BETWEEN)), np.float32)
        times.append((now, now + sound.size / RATE))
        now += (sound.size + silence.size) / RATE
        pieces += [sound, silence]
    whole = np.clip(np.concatenate(pieces) * 32767, -32768, 32767).astype("<i2")
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(whole.tobytes())
    return times


def _hear(
    pack: Pack,
    sayings: Sequence[_Saying],
    times: Sequence[tuple[float, float]],
    path: Path,
    model: str | None,
    progress: Progress | None,
) -> Iterable[HeardTerm]:
    from spokenfor.check import Request, check

    request = Request(sounds=[path], pack=str(pack.folder), model=model)
    result, transcript = check(request, progress)
    variants = same_words(pack.same_words)
    known = {
        (one.component, one.label): _keys(pack.components[one.component], one.label, variants)
        for one in sayings
        if one.label
    }
    for saying, (start, end) in zip(sayings, times, strict=True):
        if saying.label:
            words = _words(transcript, start, end)
            how = _how(known[saying.component, saying.label], words, result, start, end)
            yield HeardTerm(saying.component, saying.label, how, " ".join(words))


def _words(transcript: Transcript, start: float, end: float) -> list[str]:
    """The words whose middle lies between two times, as first heard."""
    return [
        word.text.strip()
        for segment in transcript.segments
        for word in segment.words
        if start <= (word.start + word.end) / 2 <= end + BETWEEN / 2
    ]


def _keys(component: Component, label: str, variants: Variants) -> set[str]:
    """Match keys under which a label is heard: its own, those of the same words, and the component's known
    mis-hearings."""
    return {match_key(one) for one in (label, *variants.of(label), *component.hiddenLabel)}


def _how(wanted: set[str], words: Sequence[str], result: Result, start: float, end: float) -> Heard:
    stems = [
        singular(normal(token))
        for word in words
        for token in split_tokens(word)
        if token[0].isalnum()
    ]
    runs = {
        "".join(stems[first:after])
        for first in range(len(stems))
        for after in range(first + 1, len(stems) + 1)
    }
    if wanted & runs:
        return Heard.AT_ONCE
    for repair in result.repairs:
        there = repair.evidence.start < end and start < repair.evidence.end
        if there and match_key(repair.became) in wanted:
            return Heard.SECOND
    return Heard.NOT


def write_heard(
    pack: Pack, heard: Sequence[HeardTerm], voice: str, path: Path | None = None
) -> Path:
    """Writes what was heard beside the pack (or to `path`), where `pack lint` finds it."""
    to = path or pack.folder / FILE
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(["component", "label", "heard", "words", "voice", "pack sha256"])
    writer.writerows(
        [one.component, one.label, one.how.value, one.words, voice, pack.sha256] for one in heard
    )
    to.write_text(out.getvalue(), encoding="utf-8", newline="")
    return to
