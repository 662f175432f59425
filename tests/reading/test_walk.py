"""Where the speaker is, held against what is true of whole narrations."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import numpy as np
import pytest
from audio_samples.script import load_script
from tests.reading.walk_narrations import (
    NARRATIONS,
    SCRIPTS,
    pipeline,
    sentences_of,
    walk_of,
    walked,
    written,
    zones_of,
)
from tests.spoken import PACK, spoken

from spokenfor.packs.load import load_pack
from spokenfor.reading.hidden_states import viterbi
from spokenfor.reading.pipeline import read
from spokenfor.reading.walk import Following
from spokenfor.reading.walk_model import Says

BAR = 0.95  # share of the seconds spoken


@pytest.mark.parametrize("path", SCRIPTS, ids=[path.stem for path in SCRIPTS])
def test_zone_per_second_of_a_sample(path: Path) -> None:
    script = load_script(path)
    transcript, zones = written(script)
    stays = read(transcript, script.pack, pipeline(script.pack)).walk
    spoken_seconds = right = 0.0
    for segment, zone in zip(transcript.segments, zones, strict=True):
        spoken_seconds += segment.end - segment.start
        right += sum(
            max(0.0, min(segment.end, stay.end) - max(segment.start, stay.start))
            for stay in stays
            if stay.recording == segment.recording and stay.zone == zone
        )
    assert right / spoken_seconds >= BAR


@pytest.mark.parametrize("narration", NARRATIONS.values(), ids=NARRATIONS)
def test_zone_of_each_sentence(narration: str) -> None:
    said = sentences_of(narration)
    found = zones_of("\n".join(sentence for _, sentence in said))
    wrong = [(one, zone) for one, zone in zip(said, found, strict=True) if one[0] != zone]
    assert wrong == []


def test_the_same_model_walks_another_trade() -> None:
    said = (
        "Left wing. Aileron is free. Fuel cap is secure.\n"
        "Propeller area. Spinner is secure.\n"
        "Right wing. Aileron is free. Flap is good."
    )
    zones = zones_of(said, "aeroplane-piston-single")
    assert zones == ["left-wing"] * 3 + ["propeller"] * 2 + ["right-wing"] * 3


def test_a_long_silence_makes_a_move_likely() -> None:
    walk = walk_of()
    chances = [
        walk.model.by_zone(np.exp(walk.model.transition(seconds)[0])) for seconds in (0.5, 10, 60)
    ]
    stays = [float(one[walk.model.states[0].zone]) for one in chances]
    assert stays[0] > 0.9 > stays[1] > stays[2]


def test_another_recording_may_begin_anywhere() -> None:
    walk = walk_of()
    again = walk.model.by_zone(np.exp(walk.model.restart()))
    assert again.min() > 0.01
    assert np.allclose(again.sum(axis=1), 1)


def test_rows_of_the_model_are_probabilities() -> None:
    model = walk_of().model
    assert np.exp(model.start()).sum() == pytest.approx(1)
    for silence, says in product((0, 3, 30, 1e4), Says):
        assert np.allclose(np.exp(model.transition(silence, says)).sum(axis=1), 1)


SIDES = [
    ("Starting at the nose. On the left. Wiper is good.", "left"),
    ("Starting at the nose. Left windscreen is clean. Nose cone is good.", None),
    ("Starting at the nose. Now the right side. Wiper is good.", "right"),
    ("Starting at the nose. Nose cone is good.", None),
    ("Onto the hydraulics. Number two system. Reservoir is good.", "right"),
    ("Left main gear. Tyre is good.", "left"),
    ("Starting at the nose. Left side. Wiper is good. Right side. Wiper is good.", "right"),
]


@pytest.mark.parametrize(("said", "side"), SIDES)
def test_side_of_the_last_sentence(said: str, side: str | None) -> None:
    assert walked(said)._.sides[-1] == side


def test_live_it_is_known_after_each_sentence_what_was_known_then() -> None:
    """`Following`, given one sentence after the other, says what the forward pass over all of them says."""
    text = "\n".join(sentence for _, sentence in sentences_of(NARRATIONS["there and back"]))
    doc, walk = walked(text), walk_of()
    following = Following(walk)
    live = [following.hear(doc, sentence) for sentence in doc.sents]
    together = walk.zone_probabilities(doc)
    assert np.allclose([list(one.values()) for one in live], together)
    assert np.allclose(together.sum(axis=1), 1)


def test_live_the_zone_is_known_once_something_there_is_named() -> None:
    said = sentences_of(NARRATIONS["back to front"])
    doc, walk = walked("\n".join(sentence for _, sentence in said)), walk_of()
    likeliest = walk.zone_probabilities(doc).argmax(axis=1)
    assert [walk.zones[index] for index in likeliest] == [zone for zone, _ in said]


def test_live_what_is_said_later_changes_nothing_before() -> None:
    walk = walk_of()
    first = "Nose cone is good. Chin windows are clean."
    alone = walk.zone_probabilities(walked(first))
    more = walk.zone_probabilities(walked(first + " Number two engine. Intake is clear."))
    assert np.allclose(more[: len(alone)], alone)


def test_nothing_said_is_no_walk() -> None:
    assert viterbi(np.zeros(2), np.zeros((2, 2)), np.zeros((0, 2))) == []
    assert read(spoken(""), PACK, pipeline(PACK)).walk == []


def test_zones_come_from_the_pack() -> None:
    assert walk_of().zones == [zone.id for zone in load_pack(PACK).zones]
