"""What the page and the terminal say of poor sound, and what to do next time."""

import json
from collections.abc import Sequence

import pytest
from jsonschema import Draft202012Validator
from tests.reporting.test_report_page import Page

from spokenfor.models import Quality, QualityStretch, Result, SoundFault, Transcript
from spokenfor.reporting.json_form import report_json, report_schema
from spokenfor.reporting.page import report_html
from spokenfor.reporting.sound_quality import sound_lines
from spokenfor.reporting.summary import summary_lines
from spokenfor.reporting.timeline import Timeline

CLOSER = (
    "Next time hold the microphone closer to the mouth (the voice was only 9 dB above the noise)."
)
LOWER = "Next time set the recording level lower (14 s were too loud for it)."


def stretches(ratios: Sequence[float | None], **changed: list[float]) -> list[QualityStretch]:
    """Ten seconds each; under 10 dB is noise. `changed` gives other measures, stretch by stretch."""
    found = []
    for number, ratio in enumerate(ratios):
        one = {name: values[number] for name, values in changed.items()}
        measures = {"clipped_seconds": 0.0, "missing_seconds": 0.0, "wind": None, **one}
        faults = {
            SoundFault.NOISE: ratio is not None and ratio < 10,
            SoundFault.WIND: measures["wind"],
            SoundFault.CLIPPED: measures["clipped_seconds"],
            SoundFault.DROPOUTS: measures["missing_seconds"],
        }
        found.append(
            QualityStretch(
                start=number * 10,
                end=number * 10 + 10,
                snr_db=ratio,
                upper_hz=7900,
                faults=[fault for fault, poor in faults.items() if poor],
                **measures,
            )
        )
    return found


def noisy() -> Quality:
    return Quality(
        snr_db=9.4,
        clipped=0.0,
        speech_seconds=90,
        loudness_lufs=-31.46,
        upper_hz=7900,
        wind=0.234,
        dropouts=2,
        dropout_seconds=1.5,
        faults=[SoundFault.NOISE],
        advice=CLOSER,
        stretches=stretches(
            [30, 8.2, 6.1, None, 30, 9, -3],
            missing_seconds=[0, 0, 0, 1.5, 0, 0, 0],
            clipped_seconds=[0, 0, 0, 0, 0, 2.5, 0],
            wind=[None, None, None, None, 0.4, 0.0, 0.0],
        ),
    )


def clipped() -> Quality:
    return Quality(
        snr_db=30,
        clipped=0.03,
        speech_seconds=50,
        clipped_seconds=14.2,
        faults=[SoundFault.CLIPPED],
        advice=LOWER,
    )


@pytest.fixture
def poor(result: Result) -> Result:
    result.recordings[1].quality = noisy()
    return result


def test_the_advice_stands_with_its_recording(poor: Result, transcript: Transcript):
    record = Page(report_html(poor, transcript, {})).text("record")
    assert record.index(CLOSER) > record.index("Recording 2")
    assert record.count("Next time") == 1
    for said in (
        "loudness -31.5 LUFS",
        "voice up to 7.9 kHz",
        "wind or rubbing 23 % of",
        "2 dropouts",
    ):
        assert said in record


def test_good_sound_gets_neither_advice_nor_passages(result: Result, transcript: Transcript):
    record = Page(report_html(result, transcript, {})).text("record")
    assert "Next time" not in record and "Where the sound was poor" not in record


def test_stretches_with_the_same_faults_are_one_passage(poor: Result):
    (_, line) = sound_lines(poor.recordings, Timeline(poor.recordings, [1]))
    assert line is not None
    assert [(passage.span, words) for passage, words in line.poor] == [
        ("rec 2, 0:10 to 0:30", "voice only 6 dB above the noise"),
        ("rec 2, 0:30 to 0:40", "1.5 s missing"),
        ("rec 2, 0:40 to 0:50", "wind or rubbing on the microphone"),
        ("rec 2, 0:50 to 1:00", "voice only 9 dB above the noise, clipped 2.5 s"),
        ("rec 2, 1:00 to 1:10", "noise as loud as the voice"),
    ]


def test_a_poor_passage_can_be_played(poor: Result, transcript: Transcript):
    page = Page(report_html(poor, transcript, {1: "right.wav"}))
    played = [
        (attrs["data-r"], attrs["data-s"], attrs["data-e"])
        for tag, attrs in page.tags
        if tag == "button" and "data-s" in attrs
    ]
    assert ("1", "10.0", "30.0") in played


def test_a_narrow_band_all_through_is_said_once(result: Result):
    narrow = noisy().model_copy(update={"faults": [SoundFault.NARROW_BAND]})
    one = narrow.stretches[0].model_copy(
        update={"upper_hz": 3400, "faults": [SoundFault.NARROW_BAND]}
    )
    narrow.stretches = [one]
    result.recordings[0].quality = narrow
    line = sound_lines(result.recordings, Timeline(result.recordings, []))[0]
    assert line is not None and line.poor == []
    narrow.faults = []
    line = sound_lines(result.recordings, Timeline(result.recordings, []))[0]
    assert line is not None and [words for _, words in line.poor] == ["voice stops at 3.4 kHz"]


def test_a_recording_without_sound_has_no_line(result: Result, transcript: Transcript):
    result.recordings[0].quality = None
    first, second = sound_lines(result.recordings, Timeline(result.recordings, []))
    assert first is None and second is not None
    assert "signal to noise" in Page(report_html(result, transcript, {})).text("record")


def test_the_terminal_ends_with_the_advice_within_ten_lines(poor: Result):
    lines = summary_lines(poor)
    assert lines[-1] == f"Sound of rec 2: {CLOSER}"
    assert lines[-2].startswith("Unheard: ")
    assert len(lines) <= 10


def test_of_several_the_weightiest_is_said(poor: Result):
    poor.recordings[0].quality = clipped()
    assert summary_lines(poor)[-1] == f"Sound of rec 2: {CLOSER} (advice on 1 more in the report)"


def test_with_one_recording_its_number_is_not_said(poor: Result):
    poor.recordings = poor.recordings[1:]
    poor.findings, poor.unheard = [], []
    assert summary_lines(poor)[-1] == f"Sound: {CLOSER}"


def test_the_report_holds_it_all_and_keeps_to_its_schema(poor: Result):
    report = json.loads(report_json(poor))
    assert list(Draft202012Validator(report_schema()).iter_errors(report)) == []
    quality = report["recordings"][1]["quality"]
    assert (quality["advice"], quality["faults"]) == (CLOSER, ["noise"])
    assert quality["stretches"][5]["faults"] == ["noise", "clipped"]
    assert report["recordings"][0]["quality"]["advice"] is None
