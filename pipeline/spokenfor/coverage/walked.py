"""When each zone was walked, and which zones an unheard stretch may belong to."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from spokenfor.models import (
    Recording,
    SoundKind,
    SoundStretch,
    Unheard,
    UnheardReason,
    Visit,
    ZoneStay,
    ZoneWalk,
)
from spokenfor.packs.schema import Zone

# An unheard stretch shorter than this is listed but hides no zone: nothing can be said in it.
SHORTEST_SECONDS = 1.0
# A walk through a zone takes at least about this long (common practice); a longer unheard stretch may
# hide the zones that follow.
SECONDS_PER_ZONE = 8.0
# Where more of the speech than this was not heard, where the walk went is itself in doubt: nothing can be
# called not mentioned (common practice).
MOSTLY_UNHEARD = 0.25


def zone_walks(
    zones: Sequence[Zone], walk: Sequence[ZoneStay], unsure: Collection[str] = ()
) -> list[ZoneWalk]:
    """Every zone of the pack in walking order, with its visits; `unsure` are those of no sure side."""
    first_visits = list(dict.fromkeys(stay.zone for stay in walk))
    return [
        ZoneWalk(
            id=zone.id,
            name=zone.prefLabel,
            expected_order=order,
            walked_order=first_visits.index(zone.id) + 1 if zone.id in first_visits else None,
            visits=[
                Visit(recording=stay.recording, start=stay.start, end=stay.end)
                for stay in walk
                if stay.zone == zone.id
            ],
            seconds=sum(stay.end - stay.start for stay in walk if stay.zone == zone.id),
            side_sure=zone.id not in unsure,
        )
        for order, zone in enumerate(zones, start=1)
    ]


def unheard_stretches(
    recordings: Sequence[Recording],
    ledger: Sequence[SoundStretch],
    walk: Sequence[ZoneStay],
    zones: Sequence[str],
) -> list[Unheard]:
    """The unheard stretches of the ledger with the zones that may have been walked in them, in walking
    order; all zones where too much was unheard to say where the walk went."""
    seconds = dict.fromkeys(SoundKind, 0.0)
    for stretch in ledger:
        seconds[stretch.kind] += stretch.end - stretch.start
    lost = seconds[SoundKind.UNHEARD]
    adrift = lost > MOSTLY_UNHEARD * (lost + seconds[SoundKind.WORDS])
    return [
        Unheard(
            recording=stretch.recording,
            start=stretch.start,
            end=stretch.end,
            reason=stretch.reason or UnheardReason.SPEECH_WITHOUT_WORDS,
            zones=list(zones)
            if adrift and stretch.end - stretch.start >= SHORTEST_SECONDS
            else _zones_hidden(stretch, walk, zones),
        )
        for stretch in ledger
        if stretch.kind is SoundKind.UNHEARD
    ]


def _zones_hidden(
    stretch: SoundStretch, walk: Sequence[ZoneStay], zones: Sequence[str]
) -> list[str]:
    seconds = stretch.end - stretch.start
    if seconds < SHORTEST_SECONDS:
        return []
    own = [stay for stay in walk if stay.recording == stretch.recording]
    if not own:
        return list(zones)
    inside = [stay for stay in own if stay.start <= stretch.start and stretch.end <= stay.end]
    if inside:
        return [inside[0].zone]
    before = [stay for stay in own if stay.start <= stretch.start]
    after = [stay for stay in own if stay.end >= stretch.end and stay.start > stretch.start]
    further = int(seconds / SECONDS_PER_ZONE)
    if before and after:
        first, last = zones.index(before[-1].zone), zones.index(after[0].zone)
        ends = {first, last}
        passed = set(range(min(ends), max(ends) + 1))
        hidden = passed if len(passed) - 2 <= further else ends
    elif before:
        first = zones.index(before[-1].zone)
        hidden = set(range(first, min(first + further, len(zones) - 1) + 1))
    else:
        last = zones.index(after[0].zone)
        hidden = set(range(max(0, last - further), last + 1))
    return [zone for order, zone in enumerate(zones) if order in hidden]
