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
# Unheard stretches with no more seconds than this between them count together.
HARD_BY = 1.0
# A walk through a zone takes at least about this long (common practice); a longer unheard stretch may
# hide the zones that follow.
SECONDS_PER_ZONE = 8.0
# Where more of the speech than this was not heard, and many seconds or half of it, where the walk went is
# itself in doubt: nothing can be called not mentioned (common practice).
MOSTLY_UNHEARD = 0.15
MUCH_SECONDS = 10.0
HALF = 0.5
# Where a zone's beginning was announced may itself be unheard or misheard, so the zones beside the one
# walked are hidden too; in so many seconds, also the ones next to those and those walked before and after
# (common practice, set on development narrations).
MAY_HAVE_MOVED = 2.5


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
    total = dict.fromkeys(SoundKind, 0.0)
    for stretch in ledger:
        total[stretch.kind] += stretch.end - stretch.start
    lost = total[SoundKind.UNHEARD]
    share = lost / max(lost + total[SoundKind.WORDS], 1e-9)
    adrift = share > MOSTLY_UNHEARD and (lost >= MUCH_SECONDS or share > HALF)
    return [
        Unheard(
            recording=stretch.recording,
            start=stretch.start,
            end=stretch.end,
            reason=stretch.reason or UnheardReason.SPEECH_WITHOUT_WORDS,
            zones=_zones_of(stretch, seconds, adrift, walk, zones),
        )
        for stretch, seconds in _with_neighbours(ledger)
    ]


def _with_neighbours(ledger: Sequence[SoundStretch]) -> list[tuple[SoundStretch, float]]:
    """The unheard stretches, each with the seconds unheard in it and in those hard by: what was said in
    pieces was said."""
    lost = [one for one in ledger if one.kind is SoundKind.UNHEARD]
    groups: list[list[SoundStretch]] = []
    for one in lost:
        last = groups[-1][-1] if groups else None
        near = last is not None and last.recording == one.recording
        if last is not None and near and one.start - last.end <= HARD_BY:
            groups[-1].append(one)
        else:
            groups.append([one])
    return [(one, sum(o.end - o.start for o in group)) for group in groups for one in group]


def _zones_of(
    stretch: SoundStretch,
    seconds: float,
    adrift: bool,
    walk: Sequence[ZoneStay],
    zones: Sequence[str],
) -> list[str]:
    if seconds < SHORTEST_SECONDS:
        return []
    if adrift:
        return list(zones)
    hidden = _orders_hidden(stretch, walk, zones)
    reach = 1 if seconds < MAY_HAVE_MOVED else 2
    near = {order + step for order in hidden for step in range(-reach, reach + 1)}
    passed = _walked_around(stretch, walk) if seconds >= MAY_HAVE_MOVED else set()
    near |= _passed_over(stretch, walk, zones) if seconds >= MAY_HAVE_MOVED else set()
    return [zone for order, zone in enumerate(zones) if order in near or zone in passed]


def _walked_around(stretch: SoundStretch, walk: Sequence[ZoneStay]) -> set[str]:
    """The zones walked just before and after a stretch, on the recordings beside it too."""
    begins, ends = (stretch.recording, stretch.start), (stretch.recording, stretch.end)
    before = [stay.zone for stay in walk if (stay.recording, stay.end) <= begins][-1:]
    after = [stay.zone for stay in walk if (stay.recording, stay.start) >= ends][:1]
    return {*before, *after}


def _passed_over(stretch: SoundStretch, walk: Sequence[ZoneStay], zones: Sequence[str]) -> set[int]:
    """Places on the sheet of the zones that were never walked and lie between those walked before and after
    the stay that a stretch is in (before the second stay, behind the last but one): one of them may have been
    announced and taken for another."""
    begins, ends = (stretch.recording, stretch.start), (stretch.recording, stretch.end)
    at = [
        number
        for number, stay in enumerate(walk)
        if (stay.recording, stay.start) <= ends and begins <= (stay.recording, stay.end)
    ]
    if not at or len(walk) < 2:
        return set()
    first = zones.index(walk[at[0] - 1].zone) if at[0] else -1
    last = zones.index(walk[at[-1] + 1].zone) if at[-1] + 1 < len(walk) else len(zones)
    walked = {stay.zone for stay in walk}
    return {order for order in range(first + 1, last) if zones[order] not in walked}


def _orders_hidden(
    stretch: SoundStretch, walk: Sequence[ZoneStay], zones: Sequence[str]
) -> set[int]:
    """Places on the sheet (from 0) of the zones that may have been walked in a stretch."""
    seconds = stretch.end - stretch.start
    own = [stay for stay in walk if stay.recording == stretch.recording]
    if not own:
        return set(range(len(zones)))
    inside = [stay for stay in own if stay.start <= stretch.start and stretch.end <= stay.end]
    if inside:
        return {zones.index(inside[0].zone)}
    before = [stay for stay in own if stay.start <= stretch.start]
    after = [stay for stay in own if stay.end >= stretch.end and stay.start > stretch.start]
    further = int(seconds / SECONDS_PER_ZONE)
    if before and after:
        first, last = zones.index(before[-1].zone), zones.index(after[0].zone)
        ends = {first, last}
        passed = set(range(min(ends), max(ends) + 1))
        return passed if len(passed) - 2 <= further else ends
    if before:
        first = zones.index(before[-1].zone)
        return set(range(first, min(first + further, len(zones) - 1) + 1))
    last = zones.index(after[0].zone)
    return set(range(max(0, last - further), last + 1))
