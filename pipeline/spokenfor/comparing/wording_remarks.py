"""What was put into words so that nobody can tell what was found?"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files

import yaml

from spokenfor.comparing.sheet import CommonSheet
from spokenfor.comparing.walks import Walk
from spokenfor.models import Evidence, Item, ItemStatus, Statement, Verdict
from spokenfor.reporting.deciding import deciding_evidence
from spokenfor.reporting.gaps import is_covered
from spokenfor.reporting.wording import listed, plain

_RESULTS = {Verdict.SATISFACTORY, Verdict.REMARK, Verdict.DEFECT}
_WORD = re.compile(r"[a-z0-9]+(?:['\u2019][a-z]+)?")
_SENTENCE_ENDS = (".", "?", "!")


class Habit(StrEnum):
    """A habit of wording that a trainer works on."""

    NAMED = "named"
    LOOKED_FOR = "looked_for"
    BY_REFERENCE = "by_reference"
    NO_COMPONENT = "no_component"
    VAGUE_PRAISE = "vague_praise"


HABIT_WORDS = {
    Habit.NAMED: "Named, no result stated",
    Habit.LOOKED_FOR: "Looked for, no result stated",
    Habit.BY_REFERENCE: "By reference to another",
    Habit.NO_COMPONENT: "A result of nothing named",
    Habit.VAGUE_PRAISE: "Praise that says no more",
}
ADVICE = {
    Habit.NAMED: "Name it, then say what you found.",
    Habit.LOOKED_FOR: "After what you look for, say what you saw, even when it is nothing: none seen.",
    Habit.BY_REFERENCE: "Say the result of this one too; each side is a line of its own.",
    Habit.NO_COMPONENT: "Name the part first, then its result.",
    Habit.VAGUE_PRAISE: "Say what is good about it.",
}


@dataclass(frozen=True)
class WordingRemark:
    """One thing that could have been said better: of what, in which zone (None: of no line of the sheet), the
    words (None where a person decided so without any), and the aspects that the sheet asks for."""

    habit: Habit
    thing: str
    item: str | None
    zone: str | None
    said: Evidence | None
    aspects: list[str]

    @property
    def advice(self) -> str:
        """What to say next time."""
        asked = listed([plain(one) for one in self.aspects])
        return f"{ADVICE[self.habit]}" + (f" The sheet asks for {asked}." if asked else "")


def wording_remarks(sheet: CommonSheet, walk: Walk) -> list[WordingRemark]:
    """The remarks on one walk, by habit, then in the sheet's order, then as said."""
    statements = {one.id: one for one in walk.result.statements}
    found = [
        WordingRemark(
            habit,
            line.label,
            line.id,
            zone.name,
            deciding_evidence(item, statements),
            [one.name for one in item.aspects],
        )
        for zone in sheet.zones
        for line in zone.items
        if (habit := _habit(item := walk.items[line.id], statements)) is not None
    ]
    found += [
        WordingRemark(Habit.NO_COMPONENT, "A result", None, None, one.evidence, [])
        for one in walk.result.statements
        if one.component is None and one.verdict in _RESULTS
    ]
    found += [
        WordingRemark(Habit.VAGUE_PRAISE, "Nothing named", None, None, one, [])
        for one in _of_nothing(walk)
    ]
    return sorted(found, key=lambda one: list(Habit).index(one.habit))


def _habit(item: Item, statements: dict[str, Statement]) -> Habit | None:
    if item.by_reference:
        return Habit.BY_REFERENCE
    if item.status is ItemStatus.NAMED:
        return Habit.NAMED
    if item.status is ItemStatus.LOOKED_FOR:
        return Habit.LOOKED_FOR
    bare = item.aspects and not any(one.stated for one in item.aspects)
    if item.status is ItemStatus.SATISFACTORY and bare:
        said = deciding_evidence(item, statements)
        if said is not None and _holds(said.text, _vague("of_an_item")):
            return Habit.VAGUE_PRAISE
    return None


def _of_nothing(walk: Walk) -> Iterator[Evidence]:
    """Sentences that praise, during which nothing was said of any part; needs the transcript."""
    spoken = [one.evidence for one in walk.result.statements]
    for sentence in _sentences(walk):
        if _holds(sentence.text, _vague("of_nothing")) and not any(
            one.recording == sentence.recording
            and one.start < sentence.end
            and sentence.start < one.end
            for one in spoken
        ):
            yield sentence


def _sentences(walk: Walk) -> Iterator[Evidence]:
    for segment in walk.transcript.segments if walk.transcript else ():
        first = 0
        for at, word in enumerate(segment.words):
            if not word.text.endswith(_SENTENCE_ENDS) and at + 1 < len(segment.words):
                continue
            words, first = segment.words[first : at + 1], at + 1
            text = " ".join(one.text for one in words)
            yield Evidence(
                recording=segment.recording,
                start=words[0].start,
                end=words[-1].end,
                heard=text,
                text=text,
            )


@cache
def _vague(of: str) -> tuple[str, ...]:
    text = files("spokenfor.comparing").joinpath("vague_praise.yaml").read_text(encoding="utf-8")
    return tuple(f" {one} " for one in yaml.safe_load(text)[of])


def _holds(text: str, phrases: Sequence[str]) -> bool:
    words = _WORD.findall(text.casefold().replace("\u2019", "'"))
    return any(one in f" {' '.join(words)} " for one in phrases)


@dataclass(frozen=True)
class AspectCount:
    """An aspect that the sheet asks for: stated on `stated` of the `asked` lines that have a result; `unsaid`
    are the labels of the others."""

    name: str
    stated: int
    asked: int
    unsaid: list[str]


def aspect_counts(sheet: CommonSheet, walk: Walk) -> list[AspectCount]:
    """How often each aspect was stated where a result was; the one most often left unsaid first."""
    asked: dict[str, list[tuple[bool, str]]] = {}
    for line in sheet.items:
        item = walk.items[line.id]
        if is_covered(item) and item.status is not ItemStatus.NOT_FITTED:
            for aspect in item.aspects:
                asked.setdefault(aspect.name, []).append((aspect.stated, line.label))
    counts = [
        AspectCount(
            plain(name),
            sum(stated for stated, _ in rows),
            len(rows),
            [label for stated, label in rows if not stated],
        )
        for name, rows in asked.items()
    ]
    return sorted(counts, key=lambda one: (-len(one.unsaid), one.name))
