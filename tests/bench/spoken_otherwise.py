"""The same narrations as others would say or write them down: the table of docs/benchmarks.md.

python -m tests.bench.spoken_otherwise [dev|test]

Each way changes every sentence of the hearing bench's narrations (as written, no sound) without changing what it says;
chance is seeded. What marks do is measured by tests/bench/sentence_ends/measure.py.
"""

from __future__ import annotations

import random
import re
from typing import Annotated

import typer
from audio_samples.script import load_script
from tests.bench.hearing.material import Half, narrations
from tests.retold import (
    Way,
    as_written,
    dots,
    hums,
    hums_with_commas,
    led_into,
    one_word_twice,
    retold,
    rounded_off,
)

from spokenfor.reading.pipeline import build


def _leads(lead: str) -> Way:
    return lambda line, _: led_into(line, lead)


def _ends(behind: str) -> Way:
    return lambda line, _: rounded_off(line, behind) if line.endswith(".") else line


def _with(pattern: str, by: str) -> Way:
    return lambda line, _: re.sub(pattern, by, line)


def _two_words_twice(line: str, chance: random.Random) -> str:
    words, said = line.split(), list[str]()
    for word, after in zip(words, [*words[1:], ""], strict=True):
        stammers = chance.random() < 0.04 and word[-1].isalpha() and after[-1:].isalpha()
        said += [word, after, word] if stammers else [word]
    return " ".join(said)


_LOOKS = r" is (?=good|clean|secure|dry|clear|free)"
WAYS: dict[str, Way] = {
    "as written": as_written,
    "lower case": lambda line, _: line.lower(),
    "capitals": lambda line, _: line.upper(),
    "no apostrophes": lambda line, _: line.replace("'", ""),
    "um, er before one word in twelve": hums,
    "the same with commas": hums_with_commas,
    "dots for commas": dots,
    "one word in sixteen twice": one_word_twice,
    "two words twice, one in 25": _two_words_twice,
    **{
        f'"{lead}" before each sentence': _leads(lead)
        for lead in ("So", "Okay", "Well,", "Yeah,", "Moving on,", "Right, so", "Right,", "Good,")
    },
    **{
        f'"{end.strip(", ")}" behind each': _ends(end)
        for end in (", mate", ", I think", " now", " today", " again", " too", " as well", ", okay")
    },
    '"looking good" for "is good"': _with(_LOOKS, " is looking "),
    "no verb before a result": _with(_LOOKS, " "),
    '"and" for commas': _with(", ", " and "),
    "full stops for commas": lambda line, _: re.sub(
        r", (\w)", lambda found: ". " + found[1].upper(), line
    ),
    "no commas": _with(",", ""),
    "American spelling": lambda line, _: re.sub("([Tt])yre", r"\1ire", line),
}


def main(half: Annotated[str, typer.Argument(help="dev or test")] = "dev") -> None:
    chosen: Half = "test" if half == "test" else "dev"
    scripts = [load_script(path) for path in narrations(chosen)]
    built = {pack: build(pack) for pack in {script.pack for script in scripts}}
    print("| said or written | lines spoken of right | invented | defects missed | false |")
    print("| --- | --- | --- | --- | --- |")
    for name, way in WAYS.items():
        chance = random.Random(1)
        found = [retold(script, way, built[script.pack], chance) for script in scripts]
        right, spoken_of = (
            sum(one.spoken_right for one in found),
            sum(one.spoken for one in found),
        )
        print(
            f"| {name} | {right} of {spoken_of} | {sum(len(one.invented) for one in found)} "
            f"| {sum(len(one.defects.missed) for one in found)} "
            f"| {sum(len(one.defects.false) for one in found)} |"
        )


if __name__ == "__main__":
    typer.run(main)
