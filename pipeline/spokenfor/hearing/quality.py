"""How good is the sound of a recording, as a whole and along time?"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from spokenfor.hearing.advice import advice, faults, stretch_faults
from spokenfor.hearing.bandwidth import upper_frequency
from spokenfor.hearing.decode import RATE, Sound
from spokenfor.hearing.dropouts import breaks
from spokenfor.hearing.filtered import filtered_powers
from spokenfor.hearing.levels import Levels, ratio_db, ratios
from spokenfor.hearing.loudness import integrated, k_weighting
from spokenfor.hearing.voice import Stretch
from spokenfor.hearing.wind import Wind, find_wind, rumble_band
from spokenfor.models import Quality, QualityStretch

Span = tuple[float, float]
"""Start and end in seconds of the recording."""


def quality(
    sound: Sound, levels: Levels, speech: list[Stretch], dropouts: Iterable[Span] = ()
) -> Quality:
    """Everything measured of a recording's sound, rounded as it is written, with advice where it is poor.

    `dropouts` are stretches of silence where sound should be; what a damaged file lacks and short
    breaks are added to them.
    """
    weighted, rumble = filtered_powers(sound.samples, (k_weighting, rumble_band))
    loudness, wind = integrated(weighted), find_wind(rumble, levels)
    broken = [*dropouts, *breaks(sound.samples)]
    ratio = ratio_db(levels.speech, levels.noise) if levels.speech is not None else None
    whole = Quality(
        snr_db=None if ratio is None else round(ratio, 1),
        clipped=sound.clipped_share,
        speech_seconds=sum(end - start for start, end in speech) / RATE,
        loudness_lufs=None if loudness is None else round(loudness, 1),
        upper_hz=upper_frequency(levels.spectra.sum(axis=0), int(levels.spoken.sum())),
        clipped_seconds=_inside(sound.clipped, 0.0, sound.duration),
        damaged_seconds=_inside(sound.missing, 0.0, sound.duration),
        dropouts=len(broken),
        dropout_seconds=_inside(broken, 0.0, sound.duration),
        wind=wind.share(0.0, sound.duration),
        stretches=_stretches(sound, levels, broken, wind),
    )
    found = faults(whole, sound.duration)
    return whole.model_copy(update={"faults": found, "advice": advice(whole, found)})


def _stretches(
    sound: Sound, levels: Levels, broken: list[Span], wind: Wind
) -> list[QualityStretch]:
    found = []
    each = zip(
        pairwise(levels.bounds),
        pairwise(levels.firsts),
        ratios(levels),
        levels.spectra,
        strict=True,
    )
    for (start, end), (first, after), ratio, spectrum in each:
        one = QualityStretch(
            start=round(start, 2),
            end=round(end, 2),
            snr_db=None if ratio is None else round(ratio, 1),
            upper_hz=upper_frequency(spectrum, int(levels.spoken[first:after].sum())),
            clipped_seconds=_inside(sound.clipped, start, end),
            missing_seconds=_inside([*sound.missing, *broken], start, end),
            wind=wind.share(start, end),
        )
        found.append(one.model_copy(update={"faults": stretch_faults(one)}))
    return found


def _inside(spans: Iterable[Span], start: float, end: float) -> float:
    """Seconds of the spans that lie between start and end."""
    return round(sum(max(0.0, min(end, last) - max(start, first)) for first, last in spans), 2)
