"""Cue phrases found in words, with the cues that each stands for in the order of the pack."""

from __future__ import annotations

import pytest

from spokenfor.packs.schema import Cue
from spokenfor.reading.phrases import Phrases

ROWS = {
    "no leak": "no leak|leaks",
    "not": "is|was not",
    "isn't": "isn't",
    "gap": "leave * for? now",
    "hum": "in good nick|order",
    "again": "no leaks",
    "nothing": "at? all?",
}


@pytest.fixture(scope="module")
def phrases() -> Phrases:
    cues = [
        Cue(phrase=phrase, category="absent", direction="forward", source=name)
        for name, phrase in ROWS.items()
    ]
    return Phrases(cues, lambda cue: "all")


@pytest.mark.parametrize(
    ("said", "stands"),
    [
        ("no leaks there", {"no leaks": ["no leak", "again"]}),
        ("no leak", {"no leak": ["no leak"]}),
        ("it isn't", {"isn't": ["not", "isn't"]}),
        ("it was not", {"was not": ["not"]}),
        ("leave the mast cap for now", {"for now": ["gap"], "now": ["gap"]}),
        ("leave the mast cap now", {"now": ["gap"]}),
        ("in er good nick", {"in er good nick": ["hum"]}),
        ("at all", {"at": ["nothing"], "at all": ["nothing"], "all": ["nothing"]}),
        ("in good", {}),
    ],
)
def test_phrases_stand_where_they_were_said(
    phrases: Phrases, said: str, stands: dict[str, list[str]]
):
    keys = said.split()
    found = {
        " ".join(keys[start:end]): [cue.source for cue in cues["all"]]
        for start, end, cues in phrases.matches(keys, 0, len(keys))
    }
    assert found == stands
