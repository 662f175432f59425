"""Labelled sentences and how well reading agrees with them (the form is explained in labelled/*.yaml)."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml
from pydantic import BaseModel, ConfigDict, Field
from spacy.language import Language
from tests.spoken import PACK, spoken

from spokenfor.coverage.statuses import standing
from spokenfor.models import FlaggedReading, ItemStatus, Reading, Statement, Verdict
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import read

FOLDER = Path(__file__).parent / "labelled"
COVERED = {"satisfactory", "remark", "not_fitted", "put_right", "inspected_later"}


class Expected(BaseModel):
    """A number said: `unit` as pint spells it, `within` the pack's example limit (None: no limit)."""

    model_config = ConfigDict(extra="forbid")
    value: float
    unit: str
    within: bool | None = None


class Labelled(BaseModel):
    """One labelled stretch of speech; `zone` is being walked, `before` was said just before."""

    model_config = ConfigDict(extra="forbid")
    pack: str = PACK
    zone: str
    before: str | None = None
    say: str
    kind: str
    items: dict[str, str]
    flagged: list[dict[str, FlaggedReading]] = Field(default_factory=list)
    findings: dict[str, str | None] = Field(default_factory=dict)
    quantities: list[Expected] = Field(default_factory=list)
    unplaced: list[dict[str, Any]] = Field(default_factory=list)


def labelled(half: str) -> list[Labelled]:
    """All entries of one half, "dev" or "test", or of one file ("dev-7")."""
    entries: list[Labelled] = []
    for path in sorted(FOLDER.glob(f"{half}.yaml" if "-" in half else f"{half}-*.yaml")):
        entries += [Labelled(**one) for one in yaml.safe_load(path.read_text("utf-8"))]
    return entries


_OPEN = (ItemStatus.DEFECT, ItemStatus.NOT_INSPECTED)


def verdict_of(statements: list[Statement]) -> str:
    """What the statements of one item come to, in the words of the labels."""
    stands = standing(statements)
    # What was settled once and found again stands, whatever note the line carries.
    if stands.note is not None and stands.status not in _OPEN:
        return "put_right" if stands.note.startswith("found") else "inspected_later"
    if any(one.by_reference for one in statements) and stands.by_reference:
        return "by_reference"
    return stands.status.value


@dataclass
class Got:
    """What reading made of one entry."""

    entry: Labelled
    items: dict[str, str]
    flagged: list[tuple[str, FlaggedReading]]
    quantities: list[tuple[float, str, bool | None]]
    defects: set[str | None]
    components: dict[str, set[str]]


def got(entry: Labelled, nlp: Language) -> Got:
    """Reads an entry in its zone, and takes what came of `say` alone."""
    zone = next(one for one in load_pack(entry.pack).zones if one.id == entry.zone)
    lines = [f"Now the {zone.prefLabel}.", *([entry.before] if entry.before else []), entry.say]
    transcript = spoken("\n".join(line.replace("\n", " ") for line in lines))
    start = transcript.segments[-1].start
    reading: Reading = read(transcript, entry.pack, nlp)
    said = [one for one in reading.statements if one.evidence.end > start]
    by_item: dict[str, list[Statement]] = {}
    for one in said:
        if one.item is not None:
            by_item.setdefault(one.item, []).append(one)
    components: dict[str, set[str]] = {}
    for one in said:
        if one.component is not None:
            components.setdefault(one.component, set()).add(one.item or "")
    # What settles an earlier statement is judged together with it.
    stands = {
        item: [one for one in reading.statements if one.item == item]
        if any(one.clears for one in ones)
        else ones
        for item, ones in by_item.items()
    }
    settled = {name for ones in stands.values() for name in standing(ones).settled}
    return Got(
        entry=entry,
        items={item: verdict_of(ones) for item, ones in stands.items()},
        flagged=[
            (word.word.lower(), word.reading)
            for word in reading.flagged_words
            if word.evidence.end > start
        ],
        quantities=[(q.value, q.unit, q.within) for one in said for q in one.quantities],
        defects={
            one.item for one in said if one.verdict is Verdict.DEFECT and one.id not in settled
        },
        components=components,
    )


@dataclass
class Score:
    """Counts over many entries; the properties give the shares the bars are set on (0..1)."""

    right: Counter[str] = field(default_factory=Counter)
    said: Counter[str] = field(default_factory=Counter)
    given: Counter[str] = field(default_factory=Counter)
    confusion: Counter[tuple[str, str]] = field(default_factory=Counter)
    flagged: int = 0
    flagged_right: int = 0
    words: int = 0
    defects: int = 0
    missed_defects: list[str] = field(default_factory=list)
    false_defects: list[str] = field(default_factory=list)
    invented: list[str] = field(default_factory=list)
    quantities: int = 0
    quantities_right: int = 0
    placed: int = 0
    placed_right: int = 0
    wrong: list[tuple[int, str]] = field(default_factory=list)

    @property
    def f1(self) -> dict[str, float]:
        return {
            verdict: 2 * self.right[verdict] / (self.said[verdict] + self.given[verdict])
            for verdict in sorted(self.said)
            if self.said[verdict]
        }

    @property
    def macro_f1(self) -> float:
        return sum(self.f1.values()) / len(self.f1)

    @property
    def flagged_accuracy(self) -> float:
        return self.flagged_right / max(1, self.flagged)

    @property
    def false_per_thousand(self) -> float:
        return 1000 * len(self.false_defects) / max(1, self.words)

    def add(self, one: Got) -> None:
        entry, faults = one.entry, 0
        for item in sorted({*entry.items, *one.items}):
            truth, made = entry.items.get(item, "nothing"), one.items.get(item, "nothing")
            self.confusion[truth, made] += 1
            self.said[truth] += truth != "nothing"
            self.given[made] += made != "nothing"
            self.right[truth] += truth == made
            faults += truth != made
            if made in COVERED and truth not in {*COVERED, "defect"}:
                self.invented.append(f"{item} {truth} -> {made}: {entry.say}")
                faults += 3
        faults += self._flags(one)
        self._defects(one)
        self._numbers(one)
        self._places(one)
        self.words += len(entry.say.split())
        if faults:
            self.wrong.append((faults, entry.say))

    def _flags(self, one: Got) -> int:
        left = list(one.flagged)
        wrong = 0
        for expected in one.entry.flagged:
            for word, reading in expected.items():
                self.flagged += 1
                at = next((i for i, (w, _) in enumerate(left) if _same(w, word)), None)
                found = left.pop(at)[1] if at is not None else None
                self.flagged_right += found is reading
                wrong += found is not reading
        return wrong

    def _defects(self, one: Got) -> None:
        entry = one.entry
        wanted: set[str | None] = {i for i, said in entry.items.items() if said == "defect"}
        wanted |= {None for other in entry.unplaced if other["verdict"] == "defect"}
        self.defects += len(wanted)
        for item in wanted - one.defects:
            if not one.defects - wanted:
                self.missed_defects.append(f"{item}: {entry.say}")
        for item in one.defects - wanted:
            if not wanted - one.defects:
                self.false_defects.append(f"{item}: {entry.say}")

    def _numbers(self, one: Got) -> None:
        left = list(one.quantities)
        for q in one.entry.quantities:
            self.quantities += 1
            match = next((g for g in left if abs(g[0] - q.value) < 1e-6 and g[1] == q.unit), None)
            if match is not None:
                left.remove(match)
                self.quantities_right += match[2] == q.within

    def _places(self, one: Got) -> None:
        for item in one.entry.items:
            component = item.split(".")[1]
            if component in one.components:
                self.placed += 1
                self.placed_right += item in one.components[component]


def _same(found: str, word: str) -> bool:
    found, word = found.rstrip("s"), word.lower().rstrip("s")
    return found == word or found.endswith(f" {word}")
