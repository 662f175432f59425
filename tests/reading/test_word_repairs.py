"""Words that turn a meaning round: put right only on proof, and always marked to be listened to."""

from __future__ import annotations

from tests.spoken import PACK, spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.models import Proof, Result
from spokenfor.packs.load import load_pack
from spokenfor.packs.turning import TURNING
from spokenfor.reading.pipeline import read


def result_of(text: str, score: float | None) -> Result:
    """The result of one sentence in the hydraulics bay; `score` is the sound's answer for "left" or "no" in
    place of its first word, None where there is no sound."""
    transcript = spoken(f"Hydraulics bay, number one system.\n{text}")
    if score is not None:
        label = "left" if text.startswith("Lift") else "no"
        transcript.proofs = [
            Proof(
                segment=1,
                first=0,
                after=1,
                kind=TURNING,
                label=label,
                plural=False,
                phonetic_score=0.8,
                spelling_score=0.7,
                sound_score=score,
            )
        ]
    return assemble(transcript, read(transcript, PACK), load_pack(PACK))


def test_a_homophone_is_put_right_and_marked() -> None:
    result = result_of("Know leaks on the manifold.", -1.0)
    name = "hydraulics.hydraulic-manifold.number-one"
    (manifold,) = [item for item in result.items if item.id == name]
    assert manifold.status.value == "satisfactory"
    assert manifold.listen
    (repair,) = result.repairs
    assert (repair.heard, repair.became, repair.turns) == ("Know", "no", True)


def test_a_side_is_put_right_only_where_the_sound_bears_it_out() -> None:
    yes, no = result_of("Lift servo is dry.", 1.0), result_of("Lift servo is dry.", -3.0)
    left = "hydraulics.main-rotor-servo.left"
    assert [(item.status.value, item.listen) for item in yes.items if item.id == left] == [
        ("satisfactory", True)
    ]
    assert [item.status.value for item in no.items if item.id == left] == ["not_mentioned"]
    assert no.repairs == []


def test_without_sound_a_homophone_still_counts_and_a_likeness_does_not() -> None:
    assert [one.became for one in result_of("Know leaks on the manifold.", None).repairs] == ["no"]
    assert result_of("Lift servo is dry.", None).repairs == []


def test_the_evidence_shows_both_wordings() -> None:
    (repair,) = result_of("Know leaks on the manifold.", -1.0).repairs
    result = result_of("Know leaks on the manifold.", -1.0)
    (said,) = [one for one in result.statements if one.item]
    assert said.evidence.heard.startswith("Know") and said.evidence.text.startswith("no leaks")
    assert repair.evidence.start >= 0


def test_the_sound_may_be_asked_about_a_word_that_is_passed_over() -> None:
    # Hums, leads and words said twice are not read; a question about one of them turns nothing.
    say = "Okay, um, the the right servo is is dry."
    transcript = spoken(f"Hydraulics bay, number one system.\n{say}")
    asked = [
        Proof(
            segment=1,
            first=at,
            after=at + 1,
            kind=TURNING,
            label="no",
            plural=False,
            phonetic_score=0.8,
            spelling_score=0.7,
            sound_score=-9.0,
        )
        for at in range(len(say.split()))
    ]
    transcript.proofs = asked
    found = assemble(transcript, read(transcript, PACK), load_pack(PACK))
    right = next(one for one in found.items if one.id == "hydraulics.main-rotor-servo.right")
    assert right.status.value == "satisfactory" and found.repairs == []
