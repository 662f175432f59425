"""Results in words that no phrase lists: told by likeness, marked, and never where no result is meant."""

from __future__ import annotations

import numpy as np
import pytest
from sklearn.feature_extraction import DictVectorizer
from tests.bench.clauses.fit import LABELS, as_weights, clauses, model
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, pipeline, said
from tests.spoken import spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.models import Item, Statement, Verdict
from spokenfor.packs.load import load_pack
from spokenfor.reading.clause_weights import NAME, clause_words, features, stem, weights
from spokenfor.reading.pipeline import read

TOLD = [
    (AEROPLANE, "cabin", "The fuel selector turns through all its positions.", "satisfactory"),
    (HELICOPTER, "nose", "The landing light hasn't budged.", "satisfactory"),
    (LORRY, "cab", "I've no complaints about the mirror on the left.", "satisfactory"),
    (HELICOPTER, "nose-gear", "Shimmy damper has red fluid all down one side.", "defect"),
]
NOT_MEANT = [
    "If the nose cone hasn't budged we can go.",
    "Has the nose cone budged?",
    "On our other machine the nose cone hasn't budged.",
    "The nose cone must not budge until the pin is in.",
    "I'm making sure the nose cone hasn't budged.",
    "Nose cone, nose cone.",
    "There's no nose cone on this one.",
]


def statements(text: str) -> list[Statement]:
    return read(spoken(text), HELICOPTER, pipeline(HELICOPTER)).statements


def line(text: str, item: str) -> Item:
    transcript = spoken(text)
    reading = read(transcript, HELICOPTER, pipeline(HELICOPTER))
    result = assemble(transcript, reading, load_pack(HELICOPTER))
    return next(one for one in result.items if one.id == item)


@pytest.mark.parametrize(("pack", "zone", "say", "verdict"), TOLD)
def test_a_result_is_told_by_its_likeness(pack: str, zone: str, say: str, verdict: str) -> None:
    assert set(said(pack, zone, say).values()) == {verdict}


@pytest.mark.parametrize("say", NOT_MEANT)
def test_no_tick_where_no_result_is_meant(say: str) -> None:
    verdicts = {one.verdict for one in statements(f"Now the nose.\n{say}")}
    assert not verdicts & {Verdict.SATISFACTORY, Verdict.DEFECT}


def test_what_was_told_by_likeness_must_be_listened_to() -> None:
    told = line("Now the nose.\nThe landing light hasn't budged.", "nose.landing-light")
    listed = line("Now the nose.\nThe landing light is good.", "nose.landing-light")
    assert told.listen and not listed.listen
    assert told.confidence < listed.confidence


def test_a_listed_result_of_the_same_line_needs_no_listening() -> None:
    said_twice = "Now the nose.\nThe landing light hasn't budged.\nThe landing light is good."
    assert not line(said_twice, "nose.landing-light").listen


def test_words_that_sound_bad_cast_doubt_on_a_tick() -> None:
    ticked = "Now the nose.\nThe nose cone is dry."
    plain = line(ticked, "nose.nose-cone")
    doubted = line(f"{ticked}\nIt's gone all crunchy.", "nose.nose-cone")
    assert plain.status.value == "satisfactory" and not plain.listen
    assert doubted.listen or doubted.status.value == "defect"


@pytest.mark.parametrize("before", ["", "The landing light was knocked about.\n"])
def test_what_was_told_by_likeness_settles_no_defect(before: str) -> None:
    text = f"Now the nose.\n{before}The landing light is cracked.\nThe landing light hasn't budged now."
    assert line(text, "nose.landing-light").status.value == "defect"


def test_why_a_thing_was_not_looked_at_is_no_fault_of_it() -> None:
    text = "Now the nose.\nThe nose cone I can't reach, somebody's got a bucket of sand on it."
    assert {one.verdict for one in statements(text)} == {Verdict.NOT_INSPECTED}


def test_the_words_of_a_clause() -> None:
    assert clause_words("ITEM's in, it hasn't moved") == [NAME, *"is in it has not moved".split()]
    assert stem("turning") == stem("turns") == stem("turned") == "turn"
    assert stem("snapped") == "snap" and stem("is") == "is"
    found = features(clause_words("not a mark"))
    assert {"< not", "not a", "a mark", "mark >", "!mark", "#3"} <= found
    assert "~mark" not in found


def test_the_written_clauses_are_of_every_label() -> None:
    written = clauses()
    assert len(written) > 10_000
    assert {label for label, _ in written} == set(LABELS)


def test_the_weights_give_what_scikit_learn_gives() -> None:
    """Reference: scikit-learn's multinomial logistic regression, on every fortieth of the written clauses."""
    some = clauses()[::40]
    vectors = DictVectorizer()
    values = vectors.fit_transform([dict.fromkeys(features(t.split()), 1.0) for _, t in some])
    fitted = model().fit(values, np.array([label for label, _ in some]))
    ours = as_weights(fitted, list(vectors.get_feature_names_out()), 0.5, 0.9, least=0.0, places=9)
    good, bad = (list(fitted.classes_).index(label) for label in LABELS[:2])
    for (_, text), shares in zip(some[:200], fitted.predict_proba(values[:200]), strict=True):
        lean = ours.lean(text.split())
        assert (lean.good, lean.bad) == pytest.approx((shares[good], shares[bad]), abs=1e-6)


def test_the_weights_that_ship_are_those_of_the_clauses() -> None:
    """Most clauses that lean far one way in the shipped model were written down as such."""
    held, written = weights(), clauses()[::7]
    taken = [label for label, text in written if held.lean(text.split()).good >= 0.9]
    assert len(taken) > 100
    assert sum(label == "g" for label in taken) / len(taken) > 0.97


@pytest.mark.parametrize(
    "say",
    [
        "The landing light comes on, and then it goes out again.",
        "The landing light works, then it flickers and dies.",
        "The landing light holds, but it comes away again.",
    ],
)
def test_what_happens_afterwards_casts_doubt_on_a_tick(say: str) -> None:
    told = line(f"Now the nose.\n{say}", "nose.landing-light")
    assert told.listen or told.status.value == "defect"


@pytest.mark.parametrize(
    "say",
    [
        "The landing light works, then the next one.",
        "The landing light works, and then I move on to the battery.",
        "The landing light works, then it's round to the left side.",
    ],
)
def test_going_on_casts_none(say: str) -> None:
    told = line(f"Now the nose.\n{say}", "nose.landing-light")
    assert told.status.value == "satisfactory"
