"""What was wrong with the sound, and what should the engineer do about it next time?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spokenfor.models import Quality, QualityStretch, SoundFault


@dataclass(frozen=True)
class Limits:
    """Where sound counts as poor (common practice where no source is named).

    Signal-to-noise ratios in dB: at 10 dB base and tiny.en get 8 to 11 % of words wrong, at 3 dB 22 to 25 %
    (measured, docs/design.md, docs/benchmarks.md). Loudness in LUFS, frequency in Hz, shares 0..1, the rest
    in seconds.
    """

    ratio: float = 15.0
    stretch_ratio: float = 10.0
    poor_share: float = 0.1
    upper_hz: int = 5000
    faint: float = -45.0
    silent: float = -60.0
    wind: float = 0.05
    stretch_wind: float = 0.2
    clipped: float = 0.01
    least_clipped: float = 2.0
    stretch_clipped: float = 0.5
    dropouts: int = 3
    missing: float = 0.3


LIMITS = Limits()
NAMED = 2
"""Faults that one sentence names, the weightiest first."""


def stretch_faults(one: QualityStretch) -> list[SoundFault]:
    """What is wrong with ten seconds of sound, in the order of SoundFault."""
    found = {
        SoundFault.DROPOUTS: one.missing_seconds >= LIMITS.missing,
        SoundFault.CLIPPED: one.clipped_seconds >= LIMITS.stretch_clipped,
        SoundFault.WIND: (one.wind or 0.0) >= LIMITS.stretch_wind,
        SoundFault.NOISE: one.snr_db is not None and one.snr_db < LIMITS.stretch_ratio,
        SoundFault.NARROW_BAND: one.upper_hz is not None and one.upper_hz < LIMITS.upper_hz,
    }
    return [fault for fault in SoundFault if found.get(fault)]


def faults(quality: Quality, duration: float) -> list[SoundFault]:
    """What is wrong with a recording of `duration` seconds, in the order of SoundFault, weightiest first."""
    loudness = -200.0 if quality.loudness_lufs is None else quality.loudness_lufs
    speaks = quality.snr_db is not None
    ratio = quality.snr_db if quality.snr_db is not None else 0.0
    found = {
        SoundFault.SILENT: loudness < LIMITS.silent and not speaks,
        SoundFault.DAMAGED: quality.damaged_seconds >= LIMITS.missing,
        SoundFault.DROPOUTS: quality.dropouts >= LIMITS.dropouts
        or quality.dropout_seconds >= LIMITS.missing,
        SoundFault.CLIPPED: quality.clipped_seconds
        >= max(LIMITS.least_clipped, LIMITS.clipped * duration),
        SoundFault.WIND: (quality.wind or 0.0) >= LIMITS.wind,
        SoundFault.NOISE: _noisy(quality) if speaks else loudness > LIMITS.faint,
        SoundFault.NARROW_BAND: quality.upper_hz is not None and quality.upper_hz < LIMITS.upper_hz,
        SoundFault.FAINT: speaks and loudness < LIMITS.faint and ratio >= LIMITS.ratio,
    }
    return [fault for fault in SoundFault if found[fault]]


def _noisy(quality: Quality) -> bool:
    measured = [one.snr_db for one in quality.stretches if one.snr_db is not None]
    poor = sum(ratio < LIMITS.stretch_ratio for ratio in measured)
    return (quality.snr_db or 0.0) < LIMITS.ratio or poor > max(
        1, LIMITS.poor_share * len(measured)
    )


def advice(quality: Quality, found: Sequence[SoundFault]) -> str | None:
    """One sentence on what to do next time, with what was measured; None where nothing is wrong."""
    if not found:
        return None
    return f"Next time {', and '.join(_remedy(quality, fault) for fault in found[:NAMED])}."


def _remedy(quality: Quality, fault: SoundFault) -> str:
    match fault:
        case SoundFault.SILENT:
            return "check that the microphone is switched on and uncovered (nothing was recorded)"
        case SoundFault.DAMAGED:
            return (
                "stop the recorder before copying the file "
                f"({quality.damaged_seconds:.1f} s of sound are missing)"
            )
        case SoundFault.DROPOUTS:
            times = "once" if quality.dropouts == 1 else f"{quality.dropouts} times"
            return f"record on the device itself, not over a wireless link (the sound broke off {times})"
        case SoundFault.CLIPPED:
            return f"set the recording level lower ({quality.clipped_seconds:.0f} s were too loud for it)"
        case SoundFault.WIND:
            return (
                "put a wind shield on the microphone and keep clothing off it "
                f"(wind or rubbing in {100 * (quality.wind or 0.0):.0f} % of the time)"
            )
        case SoundFault.NOISE:
            return f"hold the microphone closer to the mouth ({_how_noisy(quality)})"
        case SoundFault.NARROW_BAND:
            limit = (quality.upper_hz or 0) / 1000
            return (
                "use a sound recorder at 16 kHz or more instead of a phone call "
                f"(the voice stops at {limit:.1f} kHz)"
            )
        case SoundFault.FAINT:
            return (
                "set the recording level higher or hold the microphone closer "
                f"(loudness only {quality.loudness_lufs:.0f} LUFS)"
            )


def _how_noisy(quality: Quality) -> str:
    if quality.snr_db is None:
        return "no speech stood out from the noise"
    if quality.snr_db < LIMITS.ratio:
        return f"the voice was only {quality.snr_db:.0f} dB above the noise"
    poor = sum(SoundFault.NOISE in one.faults for one in quality.stretches)
    return (
        f"the noise was nearly as loud as the voice in {poor} of {len(quality.stretches)} stretches"
    )
