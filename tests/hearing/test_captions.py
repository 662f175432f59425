"""Captions made elsewhere become a transcript, with the sound or without."""

from __future__ import annotations

import pytest

from spokenfor.errors import InputError
from spokenfor.hearing.captions import caption_transcript

VTT = """WEBVTT

NOTE made elsewhere

00:01.000 --> 00:03.000
<v Speaker>Nose cone</v> secure.

2
00:00:05.000 --> 00:00:06.000 align:left
Pitot cover &amp; pin
removed.
"""
SRT = """1
00:00:01,000 --> 00:00:03,000
<i>Nose cone</i> secure.

2
00:00:05,000 --> 00:00:06,000
Pitot cover &amp; pin
removed.
"""


@pytest.mark.parametrize("name, text", [("words.vtt", VTT), ("words.srt", SRT), ("bom.srt", SRT)])
def test_both_kinds_without_sound(tmp_path, name, text):
    path = tmp_path / name
    path.write_text(text, encoding="utf-8-sig" if name.startswith("bom") else "utf-8")
    transcript = caption_transcript(path)
    assert [s.text for s in transcript.segments] == [
        "Nose cone secure.",
        "Pitot cover & pin removed.",
    ]
    first = transcript.segments[0].words
    assert (first[0].start, first[-1].end) == (1.0, 3.0)
    assert first[2].end - first[2].start > first[0].end - first[0].start
    assert {word.probability for word in first} == {1.0}
    (recording,) = transcript.recordings
    assert (recording.file, recording.duration, recording.sample_rate) == (name, 6.0, 0)
    assert recording.quality is None and len(recording.sha256) == 64
    assert [(e.start, e.end, e.reason or e.kind) for e in transcript.ledger] == [
        (0.0, 1.0, "no_sound_given"),
        (1.0, 3.0, "words"),
        (3.0, 5.0, "no_sound_given"),
        (5.0, 6.0, "words"),
    ]
    assert transcript.model.sha256 == ""


def test_with_sound_what_the_captions_leave_out_is_unheard(tmp_path, speech, save):
    start, end = speech.spans[0]
    captions = tmp_path / "first.srt"
    times = [f"00:00:{second:06.3f}".replace(".", ",") for second in (start, end)]
    captions.write_text(f"1\n{times[0]} --> {times[1]}\n{speech.sentences[0]}\n")
    transcript = caption_transcript(captions, [save(tmp_path / "all.wav", speech.samples)])
    assert transcript.recordings[0].file == "all.wav"
    assert transcript.recordings[0].quality.snr_db > 10
    for span in speech.spans[1:]:
        middle = sum(span) / 2
        (there,) = [e for e in transcript.ledger if e.start <= middle < e.end]
        assert there.reason == "speech_without_words"


BAD = {
    "not.vtt": b"just text\n",
    "binary.srt": bytes(range(256)),
    "empty.vtt": b"",
    "wordless.vtt": b"WEBVTT\n\n00:01.000 --> 00:02.000\n\n",
    "torn.srt": b"1\n00:00:xx --> 00:00:02,000\nhello\n",
}


@pytest.mark.parametrize("name, data", BAD.items())
def test_what_is_no_caption_file_is_refused(tmp_path, name, data):
    (tmp_path / name).write_bytes(data)
    with pytest.raises(InputError, match=name):
        caption_transcript(tmp_path / name)


def test_captions_of_another_recording_are_refused(tmp_path, speech, save):
    (tmp_path / "other.srt").write_text("1\n01:00:00,000 --> 01:00:02,000\nNose cone secure.\n")
    with pytest.raises(InputError, match="after the end"):
        caption_transcript(tmp_path / "other.srt", [save(tmp_path / "a.wav", speech.samples)])


def test_what_brackets_tell_of_is_unheard_and_not_read(tmp_path):
    path = tmp_path / "words.srt"
    path.write_text(
        "1\n00:00:00,000 --> 00:00:06,000\nNose cone is good. [inaudible, wind] Pitot cover off.\n"
        "\n2\n00:00:06,000 --> 00:00:08,000\n[speaks over the radio]\n"
    )
    transcript = caption_transcript(path)
    assert [(one.text, one.doubtful) for one in transcript.segments] == [
        ("Nose cone is good.", False),
        ("[inaudible, wind]", True),
        ("Pitot cover off.", False),
        ("[speaks over the radio]", True),
    ]
    unheard = [one for one in transcript.ledger if one.reason == "doubtful_words"]
    assert len(unheard) == 2 and unheard[-1].end == 8.0
    assert sum(one.end - one.start for one in unheard) > 3
