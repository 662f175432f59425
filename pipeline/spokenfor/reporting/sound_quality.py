"""What is said of the sound of each recording, where in it the sound was poor, and what to do next time?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from spokenfor.models import Quality, QualityStretch, Recording, Result, SoundFault
from spokenfor.reporting.timeline import Passage, Timeline
from spokenfor.reporting.wording import counted, duration

_BY_WEIGHT = list(SoundFault)


@dataclass(frozen=True)
class PoorSound:
    """Stretches in a row with the same faults: where, and in words what was wrong."""

    recording: int
    start: float
    end: float
    words: str


@dataclass(frozen=True)
class SoundLine:
    """The sound of one recording: measures in words, advice (None where it is good), poor passages."""

    measures: str
    advice: str | None
    poor: list[tuple[Passage, str]]


def sound_lines(recordings: Sequence[Recording], timeline: Timeline) -> list[SoundLine | None]:
    """A line for each recording, None for one without sound."""
    return [
        SoundLine(
            _measures(one.quality),
            one.quality.advice,
            [(timeline.passage(run), run.words) for run in _poor(number, one.quality)],
        )
        if one.quality
        else None
        for number, one in enumerate(recordings)
    ]


def advice_lines(result: Result) -> list[str]:
    """The weightiest advice in one line for the terminal; none where all sound was good."""
    given = [
        (_BY_WEIGHT.index(one.quality.faults[0]), number, one.quality.advice)
        for number, one in enumerate(result.recordings)
        if one.quality and one.quality.advice and one.quality.faults
    ]
    if not given:
        return []
    _, number, advice = min(given)
    which = f" of rec {number + 1}" if len(result.recordings) > 1 else ""
    more = f" (advice on {len(given) - 1} more in the report)" if len(given) > 1 else ""
    return [f"Sound{which}: {advice}{more}"]


def _measures(quality: Quality) -> str:
    ratio = "not measurable" if quality.snr_db is None else f"{quality.snr_db:.1f} dB"
    said = [
        f"speech {duration(quality.speech_seconds)}",
        f"signal to noise {ratio}",
        f"clipped {quality.clipped:.2%}".replace("%", " %"),
    ]
    if quality.loudness_lufs is not None:
        said.append(f"loudness {quality.loudness_lufs:.1f} LUFS")
    if quality.upper_hz is not None:
        said.append(f"voice up to {quality.upper_hz / 1000:.1f} kHz")
    if quality.wind:
        said.append(f"wind or rubbing {quality.wind:.0%} of the time".replace("%", " %"))
    if quality.dropouts:
        said.append(counted(quality.dropouts, "dropout"))
    if quality.damaged_seconds:
        said.append(f"{quality.damaged_seconds:.1f} s missing from the file")
    return ", ".join(said)


def _poor(number: int, quality: Quality) -> list[PoorSound]:
    """A fault of the whole recording that time does not change (a narrow band) is not said again."""
    always = {SoundFault.NARROW_BAND} & set(quality.faults)

    def faults(one: QualityStretch) -> list[SoundFault]:
        return [fault for fault in one.faults if fault not in always]

    found = []
    for faulty, run in groupby(quality.stretches, faults):
        stretches = list(run)
        if faulty:
            words = ", ".join(_fault_words(fault, stretches) for fault in faulty)
            found.append(PoorSound(number, stretches[0].start, stretches[-1].end, words))
    return found


def _fault_words(fault: SoundFault, stretches: Sequence[QualityStretch]) -> str:
    match fault:
        case SoundFault.NOISE:
            ratio = min(one.snr_db for one in stretches if one.snr_db is not None)
            if ratio <= 0:
                return "noise as loud as the voice"
            return f"voice only {ratio:.0f} dB above the noise"
        case SoundFault.CLIPPED:
            return f"clipped {sum(one.clipped_seconds for one in stretches):.1f} s"
        case SoundFault.WIND:
            return "wind or rubbing on the microphone"
        case SoundFault.NARROW_BAND:
            limit = min(one.upper_hz for one in stretches if one.upper_hz is not None)
            return f"voice stops at {limit / 1000:.1f} kHz"
        case _:
            return f"{sum(one.missing_seconds for one in stretches):.1f} s missing"
