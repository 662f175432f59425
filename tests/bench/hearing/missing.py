"""What was spoken and not heard: is any of it called *not mentioned* (promise 3)?"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from tests.bench.hearing.material import Case

from spokenfor.models import ItemStatus, Result, SoundKind, Transcript

MOSTLY = 0.5


@dataclass(frozen=True)
class Missing:
    """Seconds of speech and of unheard sound; lines spoken of in stretches that were mostly unheard and
    nowhere else (`drowned`), and those of them that are called not mentioned."""

    speech: float
    unheard: float
    drowned: int
    lost: list[str]


def missing(case: Case, transcript: Transcript, result: Result, folder: Path) -> Missing:
    """For one narration in one condition; utterance times lie beside its sound."""
    times = case.times(folder)
    unheard = [one for one in transcript.ledger if one.kind is SoundKind.UNHEARD]
    utterances = iter(case.script.utterances)
    drowned: set[str] = set()
    heard: set[str] = set()
    speech = 0.0
    for recording, spans in enumerate(times):
        for begin, end in spans:
            items = set(next(utterances).items)
            speech += end - begin
            inside = sum(
                max(0.0, min(end, one.end) - max(begin, one.start))
                for one in unheard
                if one.recording == recording
            )
            (drowned if inside > MOSTLY * (end - begin) else heard).update(items)
    status = {item.id: item.status for item in result.items}
    only = drowned - heard
    return Missing(
        speech=speech,
        unheard=sum(one.end - one.start for one in unheard),
        drowned=len(only),
        lost=sorted(item for item in only if status[item] is ItemStatus.NOT_MENTIONED),
    )
