"""How long a pack takes to load, to compile and to be matched, by how many items it has.

python -m pytest tests/bench/test_pack_speed.py -q -s -o addopts="--import-mode=importlib"
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.spoken import spoken

from spokenfor.packs.candidates import Candidates, Phrase
from spokenfor.packs.lint import lint
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.schema import Component, PackHead, SheetLine, SheetZone, Zone
from spokenfor.packs.terms import compile_terms
from spokenfor.packs.wording import words_of
from spokenfor.packs.write_pack import PackParts, write_pack
from spokenfor.reading.pipeline import build, read

SIZES = (130, 500, 2000)
A_ZONE = 15
FIRST = "fuel oil air water brake drive steam slurry coolant grease signal heating cooling feed return".split()
SECOND = "inlet outlet upper lower transfer booster standby relief bypass mixing metering primary".split()
THIRD = "pump valve hose filter bearing bracket flange gasket sensor coupling damper guard clamp motor".split()


def made_pack(items: int, folder: Path) -> str:
    """A pack of so many items: two labels each, names of three words, fifteen to a zone."""
    names = [f"{one} {two} {three}" for two in SECOND for three in THIRD for one in FIRST][:items]
    components = [
        Component(
            id=name.replace(" ", "-"),
            prefLabel=name,
            altLabel=[" ".join(name.split()[:2]) + " unit " + str(at)],
            aspects=["condition", "leaks"],
        )
        for at, name in enumerate(names)
    ]
    groups = [components[at : at + A_ZONE] for at in range(0, items, A_ZONE)]
    zones = [Zone(id=f"bay-{at}", prefLabel=f"bay {at}") for at in range(len(groups))]
    sheet = [
        SheetZone(zone=zone.id, lines=[SheetLine(component=one.id) for one in group])
        for zone, group in zip(zones, groups, strict=True)
    ]
    head = PackHead(
        name=f"made-{items}", title="Made", version="1.0.0", description="Made.", caution="Made."
    )
    write_pack(PackParts(head, zones, components, sheet), folder / head.name)
    return str(folder / head.name)


def narration(pack: Pack, sentences: int) -> str:
    """So many sentences about lines spread evenly over the sheet, in the order of the walk."""
    step = max(1, len(pack.items) // sentences)
    lines, zone = [], ""
    for item in pack.items[::step][:sentences]:
        if item.zone != zone:
            zone = item.zone
            lines.append(f"Now {zone.replace('-', ' ')}.")
        lines.append(f"The {pack.components[item.component].prefLabel} is secure, no leaks.")
    return "\n".join(lines)


def _freshly(name: str) -> Pack:
    """The pack, read anew."""
    head = Path(name) / "pack.yaml"
    head.write_text(head.read_text() + "# again\n")
    return load_pack(name)


def seconds(work: Callable[[], object]) -> float:
    """Processor time of the best of three runs."""
    found = []
    for _ in range(3):
        started = time.process_time()
        work()
        found.append(time.process_time() - started)
    return min(found)


def test_table(tmp_path: Path) -> None:
    rows = []
    load_pack("goods-vehicle")
    compile_terms(load_pack("goods-vehicle"))  # the dictionary is read once, whatever the pack
    for size in SIZES:
        name = made_pack(size, tmp_path)
        load = seconds(lambda name=name: _freshly(name))
        pack = load_pack(name)
        assert len(pack.items) == size
        compiled = seconds(lambda pack=pack: compile_terms.__wrapped__(pack))
        linted = seconds(lambda pack=pack: lint(pack))
        transcript = spoken(narration(pack, 120))
        nlp = build(name)
        reading = seconds(
            lambda name=name, nlp=nlp, transcript=transcript: read(transcript, name, nlp)
        )
        candidates = Candidates(pack)
        words = [
            word
            for segment in transcript.segments
            for token in segment.words
            for word in words_of(token.text)
        ]
        phrases = [
            Phrase(at, tuple(words[at : at + length]))
            for at in range(300)
            for length in (1, 2, 3, 4, 5)
        ]
        search = seconds(lambda c=candidates, p=phrases: c.search(p, 0.68))
        rows.append((size, load, compiled, load + compiled, reading, search, linted))
    print(
        "\n| items | load | compile | both | reading 120 sentences | 1,500 phrases by sound | lint |"
    )
    print("| --- | --- | --- | --- | --- | --- | --- |")
    for size, *times in rows:
        print(f"| {size} | " + " | ".join(f"{value:.2f} s" for value in times) + " |")
    assert rows[-1][3] <= 1.0
    growth = SIZES[-1] / SIZES[0]
    for column, what in ((4, "reading"), (5, "search")):
        assert rows[-1][column] <= 1.2 * growth * rows[0][column], what


if __name__ == "__main__":
    raise SystemExit(pytest.main([__file__, "-q", "-s"]))
