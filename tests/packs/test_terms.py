"""The cues that a few words stand for, found without spelling out every phrase."""

from __future__ import annotations

from collections import defaultdict
from itertools import product

import pytest

from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import CueWords, phrase_choices
from spokenfor.packs.wording import words_of

CUES = load_pack("goods-vehicle").cues


def test_asked_or_spelled_out_they_are_the_same() -> None:
    """Reference: every phrase spelled out, of every 97th cue with its neighbours."""
    some = [cue for at, cue in enumerate(CUES) if at % 97 < 3]
    asked = CueWords(some)
    spelled: dict[tuple[str, ...], set[str]] = defaultdict(set)
    for cue in some:
        for chosen in product(*phrase_choices(cue.phrase)):
            if words := tuple(word for word in chosen if word):
                spelled[words].add(cue.phrase)
    assert len(spelled) > 1000
    for words, phrases in spelled.items():
        assert {one.phrase for one in asked.of(words)} == phrases
        assert not asked.of((*words, "gascolator"))


@pytest.mark.parametrize(
    ("said", "category"),
    [
        ("no", CueCategory.ABSENT),
        ("could not look at the", CueCategory.NOT_INSPECTED),
        ("the fan belt", None),
        ("", None),
    ],
)
def test_cues_of_a_phrase(said: str, category: CueCategory | None) -> None:
    found = {cue.category for cue in CueWords(CUES).of(words_of(said))}
    assert (category in found) if category else not found
