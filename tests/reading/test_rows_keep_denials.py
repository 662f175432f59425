"""No phrase of the packs may take away what denies a flagged word that stands right behind it: "this one never
had *any* cracks" says that there are none. The rows are the project's own; ConText (Harkema et al. 2009) lets the
longest phrase win, which is what makes such rows dangerous."""

from __future__ import annotations

import itertools

import pytest
from tests.reading.test_structure import HELICOPTER, pipeline
from tests.spoken import spoken

from spokenfor.models import FlaggedReading
from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import Cue, CueCategory
from spokenfor.packs.terms import phrase_choices
from spokenfor.reading.pipeline import read

# "Nothing" and "none" stand before no noun.
DENIALS = {"no", "any", "without", "not", "never"}
# Rows of these are denials, or make of what follows them something that was not found anyhow.
OTHERS = {
    CueCategory.ABSENT,
    CueCategory.ANY,
    CueCategory.NEGATION,
    CueCategory.DENIED,
    CueCategory.CORRECTION,
}


def ends(cue: Cue) -> list[str]:
    """The wordings of a row that end in a denial: the first choice at each place, each choice at the last."""
    choices = [place for place in phrase_choices(cue.phrase) if place != ["*"]]
    leading = [next(word for word in place if word) for place in choices[:-1]]
    return [" ".join([*leading, last]) for last in choices[-1] if last in DENIALS]


ROWS = [
    phrase
    for cue in load_pack(HELICOPTER).cues
    if cue.category not in OTHERS and "*" not in cue.phrase
    for phrase in ends(cue)
]


def test_there_are_such_rows() -> None:
    assert len(ROWS) > 20


@pytest.mark.parametrize("part", range(4))
def test_a_row_that_ends_in_a_denial_denies(part: int) -> None:
    wrong = []
    for phrase in itertools.islice(ROWS, part, None, 4):
        reading = read(spoken(f"The fin, {phrase} cracks."), HELICOPTER, pipeline(HELICOPTER))
        said = [one.reading for one in reading.flagged_words if one.word == "cracks"]
        if FlaggedReading.PRESENT in said or not said:
            wrong.append((phrase, said))
    assert wrong == []
