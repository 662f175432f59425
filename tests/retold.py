"""The narrations of scripts as others would say them or write them down, and what is read of them."""

from __future__ import annotations

import random
import re
from collections.abc import Callable

from audio_samples.script import Script
from spacy.language import Language
from tests.samples.answer_key import key_of
from tests.samples.scoring import SampleScore, score
from tests.spoken import spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.models import Transcript
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import read

Way = Callable[[str, random.Random], str]
"""Says a sentence so that it means the same."""

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


def retold(script: Script, way: Way, nlp: Language, chance: random.Random) -> SampleScore:
    """How what is read of a script agrees with its key, each sentence said another way."""
    lines = [way(part, chance) for one in script.utterances for part in one.sentences]
    return scored(script, spoken("\n".join(lines)), nlp)


def as_written(line: str, chance: random.Random) -> str:
    return line


def hums(line: str, chance: random.Random) -> str:
    words = line.split()
    return " ".join(
        f"{chance.choice(['um', 'er', 'uh', 'erm'])} {word}"
        if at and chance.random() < 0.08
        else word
        for at, word in enumerate(words)
    )


def hums_with_commas(line: str, chance: random.Random) -> str:
    return re.sub(r"\b(um|er|uh|erm) ", r"\1, ", hums(line, chance))


def dots(line: str, chance: random.Random) -> str:
    return line.replace(",", "...")


def one_word_twice(line: str, chance: random.Random) -> str:
    return " ".join(
        f"{word} {word}" if word[-1].isalpha() and chance.random() < 0.06 else word
        for word in line.split()
    )


def led_into(line: str, lead: str) -> str:
    """A line behind words that lead into it, its first letter small unless it is a name of letters."""
    opens = line[:2].isupper() or line.startswith(("I ", "I'"))
    return f"{lead} {line if opens else line[0].lower() + line[1:]}" if lead else line


def rounded_off(line: str, behind: str) -> str:
    """A line with words before its full stop."""
    return f"{line[:-1]}{behind}." if line.endswith(".") else line + behind
