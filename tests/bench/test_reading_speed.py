"""How long all stages after hearing take on 60 minutes of narration (9,000 words). Bar: 3 s."""

from __future__ import annotations

import time

from audio_samples.script import load_script
from tests.spoken import PACK, spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.models import Segment, Transcript, Word
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import build, read
from spokenfor.reporting.json_form import report_json
from spokenfor.samples import samples_folder

WORDS = 9_000


def narration() -> Transcript:
    """The thorough walk as written, over and over, up to 9,000 words."""
    script = load_script(samples_folder() / "scripts" / "thorough-walk.yaml")
    once = spoken("\n".join(one.say for one in script.utterances))
    segments: list[Segment] = []
    shift, count = 0.0, 0
    while count < WORDS:
        for segment in once.segments:
            words = [
                Word(text=one.text, start=one.start + shift, end=one.end + shift, probability=0.95)
                for one in segment.words
            ]
            segments.append(
                Segment(recording=0, start=words[0].start, end=words[-1].end, words=words)
            )
            count += len(words)
        shift += once.recordings[0].duration
    once.recordings[0].duration = shift
    return once.model_copy(update={"segments": segments, "ledger": []})


def test_an_hour_of_narration() -> None:
    transcript, pack = narration(), load_pack(PACK)
    nlp = build(PACK)
    read(spoken("Nose cone is good."), PACK, nlp)
    started = time.perf_counter()
    reading = read(transcript, PACK, nlp)
    middle = time.perf_counter()
    report_json(assemble(transcript, reading, pack))
    print(
        f"reading {middle - started:.2f} s, the rest {time.perf_counter() - middle:.2f} s (bar 3 s)"
    )
