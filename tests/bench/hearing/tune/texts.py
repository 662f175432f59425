"""What is said for tuning: development sentences, names of every pack with clauses about them, ordinary prose.

    python -m tests.bench.hearing.tune.texts WORK

Writes WORK/texts.json: a list of {pack, zone, text}. Nothing of the test half is in it, and no narration of the
hearing bench. The prose is what the Debian packages fortunes and fortune-mod hold.
"""

from __future__ import annotations

import json
import random
import re
from pathlib import Path
from typing import Annotated

import typer
from tests.bench.clauses.fit import HERE as CLAUSES
from tests.reading.labelled_sentences import labelled

from spokenfor.packs.load import load_pack, pack_names

FORTUNES = Path("/usr/share/games/fortunes")
BOOKS = ("fortunes", "literature", "science", "people", "work", "wisdom", "education")
PROSE = 1300
PLACES = (
    "left",
    "right",
    "number one",
    "number two",
    "front",
    "rear",
    "nearside",
    "offside",
    "upper",
    "lower",
    "forward",
    "aft",
)
PLAIN = re.compile(r"[A-Za-z ,.;'!?-]+")

Text = dict[str, str]


def _clauses() -> list[str]:
    lines = (
        line for path in sorted(CLAUSES.glob("*.txt")) for line in path.read_text().splitlines()
    )
    return [line.split("|", 1)[1].strip() for line in lines if "|" in line and line[0] != "#"]


def _names(pack: str) -> list[tuple[str, str]]:
    """Zone and name of every line of a sheet, the usual name twice, then the others."""
    held = load_pack(pack)
    return [
        (zone.zone, name)
        for zone in held.sheet
        for line in zone.lines
        for component in [held.components[line.component]]
        for name in dict.fromkeys([component.prefLabel, *component.altLabel])
    ]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def composed(pack: str, chance: random.Random, clauses: list[str]) -> list[Text]:
    """Each name twice, with a clause about it, a clause behind it, or in a list."""
    named = [one for one in clauses if "ITEM" in one]
    free = [one for one in clauses if "ITEM" not in one]
    names, made = _names(pack), []
    for zone, name in [*names, *names]:
        said = f"{chance.choice(PLACES)} {name}" if chance.random() < 0.25 else name
        kind = chance.random()
        if kind < 0.35:
            whole = ("the " if chance.random() < 0.3 else "") + said
            text = _capital(chance.choice(named).replace("ITEM", whole)) + "."
        elif kind < 0.8:
            clause, mark = chance.choice(free), chance.choice([", ", ". ", ", ", ": "])
            text = _capital(said) + mark + (_capital(clause) if mark == ". " else clause) + "."
            if chance.random() < 0.4:
                text += f" {_capital(chance.choice(free))}."
        else:
            here = [other for at, other in names if at == zone and other != name]
            listed = [said, *chance.sample(here, min(len(here), 2))]
            text = _capital(", ".join([*listed, chance.choice(free)])) + "."
        made.append({"pack": pack, "zone": zone, "text": text})
    return made


def prose() -> list[Text]:
    """Sentences of 6 to 40 plain words."""
    found = []
    for book in BOOKS:
        for one in (FORTUNES / book).read_text(errors="ignore").split("\n%\n"):
            text = re.sub(r"\s+", " ", re.split(r"\n\s*--", one)[0]).strip()
            if PLAIN.fullmatch(text) and 6 <= len(text.split()) <= 40 and not text.isupper():
                found.append({"pack": "", "zone": "", "text": text})
    return found


def main(work: Annotated[Path, typer.Argument(help="Folder for what is made")]) -> None:
    chance = random.Random(5)
    said = [{"pack": one.pack, "zone": one.zone, "text": one.say} for one in labelled("dev")]
    clauses = _clauses()
    for pack in pack_names():
        said += composed(pack, chance, clauses)
    ordinary = prose()
    chance.shuffle(ordinary)
    said += ordinary[:PROSE]
    chance.shuffle(said)
    work.mkdir(parents=True, exist_ok=True)
    (work / "texts.json").write_text(json.dumps(said))
    print(f"{len(said)} texts, {sum(len(one['text'].split()) for one in said)} words")


if __name__ == "__main__":
    typer.run(main)
