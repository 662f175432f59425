"""transcript.vtt, read back by webvtt-py."""

import io

import pytest
import webvtt

from spokenfor.models import SoundKind, Transcript, Word
from spokenfor.reporting.captions_out import transcript_vtt


def read(transcript: Transcript) -> webvtt.WebVTT:
    return webvtt.from_buffer(io.StringIO(transcript_vtt(transcript)))


def test_every_word_heard_comes_back_in_order(transcript: Transcript):
    spoken = [one.text for one in read(transcript) if not one.text.startswith("[unheard")]
    assert spoken == [segment.text for segment in transcript.segments]


def test_recordings_stand_on_one_timeline_with_a_note_each(transcript: Transcript):
    captions = read(transcript)
    first, second = transcript.recordings
    (right,) = [one for one in captions if one.text.startswith("Right side.")]
    assert right.start_in_seconds == pytest.approx(first.duration + 1.0, abs=1)
    assert right.start == "00:03:03.000"
    text = transcript_vtt(transcript)
    assert f"NOTE Recording 1: {first.file}, starts at 00:00:00.000" in text
    assert f"NOTE Recording 2: {second.file}, starts at 00:03:02.000" in text


def test_unheard_stretches_are_cues_with_their_reason(transcript: Transcript):
    unheard = [(one.start, one.text) for one in read(transcript) if "[unheard" in one.text]
    assert unheard == [
        ("00:01:43.000", "[unheard: too noisy]"),
        ("00:02:44.000", "[unheard: speech that did not become words]"),
        ("00:03:26.200", "[unheard: clipped]"),
    ]


def test_silence_is_not_called_unheard(transcript: Transcript):
    for stretch in transcript.ledger:
        stretch.kind = SoundKind.NO_SPEECH
    assert "unheard" not in transcript_vtt(transcript)


def test_doubtful_words_are_kept_and_marked(transcript: Transcript):
    text = transcript_vtt(transcript)
    assert "<c.doubtful>thanks for watching</c>" in text


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("<b>loud</b>", "&lt;b&gt;loud&lt;/b&gt;"),
        ("nuts & bolts", "nuts &amp; bolts"),
        ("10:00 --> 11:00", "10:00 --&gt; 11:00"),
        ("two\n\nlines", "two lines"),
    ],
)
def test_words_cannot_break_out_of_their_cue(transcript: Transcript, said: str, written: str):
    # WebVTT (W3C), cue text: "&" and "<" escaped, no "-->", no blank line.
    before = len(read(transcript))
    transcript.segments[0].words = [Word(text=said, start=1, end=2, probability=1)]
    transcript.recordings[0].file = said
    text = transcript_vtt(transcript)
    assert f"\n{written}\n" in text
    assert text.count("-->") == before == len(read(transcript))


def test_cues_start_in_order_and_end_after_they_start(transcript: Transcript):
    # WebVTT (W3C), cue timings: start not before earlier starts, end greater than start.
    transcript.segments[3].end = transcript.segments[3].start
    cues = [
        line.split(" --> ") for line in transcript_vtt(transcript).splitlines() if "-->" in line
    ]
    assert len(cues) == len(transcript.segments) + len(transcript.ledger)
    assert cues == sorted(cues, key=lambda cue: cue[0])
    assert all(start < end for start, end in cues)


def test_an_hour_and_more_is_written_out(transcript: Transcript):
    transcript.segments[0].start, transcript.segments[0].end = 3725.5, 3729.25
    assert "01:02:05.500 --> 01:02:09.250" in transcript_vtt(transcript)
