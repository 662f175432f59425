"""The narrations of scripts as somebody would write them down who sets no full stops, and what is read of them."""

from __future__ import annotations

import re

from audio_samples.script import Script
from spacy.language import Language
from tests.samples.answer_key import key_of
from tests.samples.scoring import SampleScore, score
from tests.spoken import spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.models import Transcript
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import read

CAPTION = 14
"""Words of a caption."""

WAYS = (
    "as written",
    "no marks, a pause behind each sentence",
    "no marks, captions of 14 words",
    "commas for all marks",
)


def written(script: Script, way: str) -> Transcript:
    """What a script says, its marks as one of WAYS has them."""
    lines = [part for one in script.utterances for part in one.sentences]
    if way == WAYS[0]:
        return spoken("\n".join(lines))
    if way == WAYS[3]:
        return spoken("\n".join(re.sub(r"[.?!;:]", ",", line.lower()) for line in lines), 0.05)
    bare = [re.sub(r"[.,?!;:]", " ", line.lower()) for line in lines]
    if way == WAYS[1]:
        return spoken("\n".join(bare))
    words = " ".join(bare).split()
    captions = [words[at : at + CAPTION] for at in range(0, len(words), CAPTION)]
    return spoken("\n".join(map(" ".join, captions)), 0.05)


def read_as(script: Script, way: str, nlp: Language) -> SampleScore:
    """How what is read of a script, its marks as one of WAYS has them, agrees with its key."""
    return scored(script, written(script, way), nlp)


def scored(script: Script, transcript: Transcript, nlp: Language) -> SampleScore:
    """How what is read of a transcript agrees with the key of the script that was spoken."""
    result = assemble(transcript, read(transcript, script.pack, nlp), load_pack(script.pack))
    return score(result, key_of(script))
