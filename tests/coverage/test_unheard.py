"""Promise 3: what was not heard is never called silent."""

from __future__ import annotations

import pytest
from tests.spoken import PACK, spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.coverage.walked import unheard_stretches
from spokenfor.models import (
    ItemStatus,
    Result,
    SoundKind,
    SoundStretch,
    Transcript,
    UnheardReason,
    ZoneStay,
)
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import build, read

NLP = build(PACK)
WALK = "Starting at the nose. Nose cone is good.\nNose gear now. Nose tyre is good.\nNose wheel, no cracks."


def result_of(transcript: Transcript) -> Result:
    return assemble(transcript, read(transcript, PACK, NLP), load_pack(PACK))


def with_gap(start: float, end: float, reason: UnheardReason, pause: float = 0.6) -> Transcript:
    """The walk with one unheard stretch; `start` counts from the end of the words where it is >= 100."""
    transcript = spoken(WALK, pause)
    duration = transcript.recordings[0].duration
    if start >= 100:
        start, end = duration + start - 100, duration + end - 100
        transcript.recordings[0].duration = end
    transcript.ledger = [
        SoundStretch(recording=0, start=0.0, end=start, kind=SoundKind.WORDS),
        SoundStretch(recording=0, start=start, end=end, kind=SoundKind.UNHEARD, reason=reason),
    ]
    if end < duration:
        transcript.ledger.append(
            SoundStretch(recording=0, start=end, end=duration, kind=SoundKind.WORDS)
        )
    return transcript


def test_the_zone_walked_then_is_unheard_not_silent() -> None:
    result = result_of(with_gap(0.5, 2.0, UnheardReason.SPEECH_WITHOUT_WORDS))
    by_zone = {item.zone: set() for item in result.items}
    for item in result.items:
        if not item.statements:
            by_zone[item.zone].add(item.status)
    assert by_zone["nose"] == {ItemStatus.UNHEARD}
    assert by_zone["tail-rotor"] == {ItemStatus.NOT_MENTIONED}
    assert [stretch.reason for stretch in result.unheard] == [UnheardReason.SPEECH_WITHOUT_WORDS]


def test_a_long_unheard_end_hides_the_zones_that_would_have_followed() -> None:
    result = result_of(with_gap(100, 130, UnheardReason.TOO_NOISY, pause=60.0))
    hidden = {item.zone for item in result.items if item.status is ItemStatus.UNHEARD}
    zones = [zone.id for zone in load_pack(PACK).zones]
    at = zones.index("nose-gear")
    assert hidden == set(zones[: at + 6])


def test_the_longer_a_stretch_the_more_zones_beside_it_are_hidden() -> None:
    """A change of zone may have been announced in it, or misheard before it."""
    hidden = {
        seconds: set(
            result_of(with_gap(0.5, 0.5 + seconds, UnheardReason.SPEECH_WITHOUT_WORDS, pause=30.0))
            .unheard[0]
            .zones
        )
        for seconds in (0.9, 2.0, 3.0)
    }
    zones = [zone.id for zone in load_pack(PACK).zones]
    at = zones.index("nose")
    assert hidden[0.9] == set()
    assert hidden[2.0] == set(zones[: at + 2])
    assert hidden[3.0] == set(zones[: at + 3])


def test_zones_passed_over_around_an_unheard_stretch_are_hidden() -> None:
    """A zone that was announced there may have been taken for another ("left side of the tail boom", "... the
    trailer")."""
    zones = [zone.id for zone in load_pack(PACK).zones]
    stays = [
        ("main-gearbox", 0.0, 40.0),
        ("left-cabin-side", 40.0, 70.0),
        ("tail-rotor", 70.0, 99.0),
    ]
    walk = [ZoneStay(recording=0, zone=zone, start=a, end=b) for zone, a, b in stays]

    def hidden(start: float, end: float) -> set[str]:
        ledger = [
            SoundStretch(recording=0, start=0.0, end=start, kind=SoundKind.WORDS),
            SoundStretch(recording=0, start=start, end=end, kind=SoundKind.UNHEARD),
            SoundStretch(recording=0, start=end, end=99.0, kind=SoundKind.WORDS),
        ]
        recordings = spoken("").recordings
        return set(unheard_stretches(recordings, ledger, walk, zones)[0].zones)

    passed_over = {"rotor-head", "tail-boom-left", "stabiliser"}
    assert passed_over <= hidden(50.0, 53.0)
    assert not passed_over & hidden(50.0, 52.0)
    assert "baggage-bay" not in hidden(50.0, 53.0)
    # Behind the last zone that was told, any that was not may have been walked.
    assert {"baggage-bay", "number-two-engine"} <= hidden(80.0, 83.0)
    assert not {"baggage-bay", "number-two-engine"} & hidden(80.0, 82.0)


def test_where_much_was_unheard_nothing_is_called_not_mentioned() -> None:
    result = result_of(with_gap(100, 130, UnheardReason.TOO_NOISY))
    silent = {item.status for item in result.items if not item.statements}
    assert silent == {ItemStatus.UNHEARD}


def test_a_click_hides_nothing_but_is_listed() -> None:
    result = result_of(with_gap(0.5, 0.8, UnheardReason.CLIPPED))
    assert len(result.unheard) == 1
    assert result.unheard[0].zones == []


def test_when_nothing_was_heard_everything_is_unheard() -> None:
    transcript = spoken("")
    transcript.recordings[0].duration = 60.0
    transcript.ledger = [
        SoundStretch(
            recording=0, start=0.0, end=60.0, kind=SoundKind.UNHEARD, reason=UnheardReason.TOO_NOISY
        )
    ]
    result = result_of(transcript)
    assert {item.status for item in result.items} == {ItemStatus.UNHEARD}
    assert result.coverage.required_covered == 0


def test_doubtful_words_give_no_tick_but_lose_no_flagged_word() -> None:
    transcript = spoken("Nose cone is good, no cracks.")
    transcript.segments[0].doubtful = True
    result = result_of(transcript)
    assert result.coverage.required_covered == 0
    assert [(word.word, word.reading.value) for word in result.flagged_words] == [
        ("cracks", "unclear")
    ]


@pytest.mark.parametrize("said", ["", "Good morning.", "Okay. Right. Good."])
def test_talk_that_names_nothing_covers_nothing(said: str) -> None:
    result = result_of(spoken(said))
    assert {item.status for item in result.items} == {ItemStatus.NOT_MENTIONED}


def test_counts_add_up() -> None:
    coverage = result_of(spoken(WALK)).coverage
    assert sum(coverage.by_status.values()) + coverage.by_reference == coverage.total
    assert coverage.required_covered == 3
