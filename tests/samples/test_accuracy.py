"""The main job on the bundled recordings, against their keys: the bars of the project.

The recordings are of synthetic voices and were used while the program was made; docs/accuracy.md gives what
recordings that were not used gave.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from audio_samples.script import load_script
from tests.samples.scoring import SampleScore, load_key, score

from spokenfor.check import Request, check
from spokenfor.hearing.weights import DEFAULT_MODEL, MODEL_SET
from spokenfor.models import Result
from spokenfor.samples import sample_sounds, samples_folder

QUIET, NOISE = 0.97, 0.90
SAMPLES = {
    "thorough-walk": QUIET,
    "skipped-zone": QUIET,
    "trainee": QUIET,
    "hangar-noise": NOISE,
    "two-parts": QUIET,
    "preflight": QUIET,
    "yard-check": QUIET,
}


@pytest.fixture(scope="module", params=SAMPLES)
def checked(request: pytest.FixtureRequest) -> tuple[str, Result, SampleScore]:
    """One sample, checked and scored."""
    name = request.param
    script = samples_folder() / "scripts" / f"{name}.yaml"
    result, _ = check(Request(sounds=sample_sounds(name), pack=load_script(script).pack))
    key = load_key(script)
    return name, result, score(result, key)


def test_the_demo_with_the_weights_it_takes_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """The other tests hear with tiny.en; the program hears with base."""
    monkeypatch.delenv(MODEL_SET)
    name = "skipped-zone"
    script = samples_folder() / "scripts" / f"{name}.yaml"
    result, _ = check(Request(sounds=sample_sounds(name), pack=load_script(script).pack))
    found = score(result, load_key(script))
    assert result.inspection.model.name == DEFAULT_MODEL
    assert found.invented == found.invented_by_reference == []
    assert found.defects.missed == found.defects.false == []
    assert found.item_accuracy >= QUIET


def test_item_statuses_reach_the_bar(checked: tuple[str, Result, SampleScore]) -> None:
    name, _, found = checked
    assert found.item_accuracy >= SAMPLES[name], [
        (one.item, one.expected.status.value, one.got.status.value) for one in found.wrong
    ]


def test_no_coverage_is_invented(checked: tuple[str, Result, SampleScore]) -> None:
    _, _, found = checked
    assert found.invented == []
    assert found.invented_by_reference == []


def test_every_defect_is_found(checked: tuple[str, Result, SampleScore]) -> None:
    _, _, found = checked
    assert found.defects.missed == []


def test_every_flagged_word_of_the_transcript_is_listed(
    checked: tuple[str, Result, SampleScore],
) -> None:
    """Each word that the words as read hold and that is a condition's label stands in the list."""
    _, result, found = checked
    assert found.flagged_misread == []
    for finding in result.findings:
        if finding.condition is not None:
            times = [
                (word.evidence.recording, word.evidence.start, word.evidence.end)
                for word in result.flagged_words
                if word.condition == finding.condition
            ]
            inside = finding.evidence
            assert any(
                recording == inside.recording and start < inside.end and inside.start < end
                for recording, start, end in times
            ), finding


def test_every_second_of_sound_is_accounted_for(checked: tuple[str, Result, SampleScore]) -> None:
    _, result, _ = checked
    for stretch in result.unheard:
        assert (
            0 <= stretch.start < stretch.end <= result.recordings[stretch.recording].duration + 0.01
        )


def test_the_scripts_are_those_of_the_recordings() -> None:
    names = {path.stem for path in Path(samples_folder() / "scripts").glob("*.yaml")}
    assert names == set(SAMPLES)
