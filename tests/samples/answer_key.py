"""What a script says is true: the answer key of a sample, over every line of the sheet."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from audio_samples.script import Said, Script, load_script

from spokenfor.models import FlaggedReading, ItemStatus, Verdict
from spokenfor.packs.load import Pack, load_pack

# Worst first: the worst thing said of an item stands (design, section 3).
WORST_FIRST = (
    ItemStatus.DEFECT,
    ItemStatus.NOT_INSPECTED,
    ItemStatus.NOT_FITTED,
    ItemStatus.REMARK,
    ItemStatus.SATISFACTORY,
    ItemStatus.NAMED,
    ItemStatus.LOOKED_FOR,
)
CLEARING = {"put_right": "found and put right", "inspected_later": "inspected later"}


@dataclass(frozen=True)
class KeyItem:
    """Where a line of the sheet truly stands."""

    status: ItemStatus
    by_reference: bool = False
    note: str | None = None


@dataclass(frozen=True)
class KeyFinding:
    """A defect or remark that was truly spoken; `note` where a later statement cleared it."""

    item: str
    verdict: Verdict
    condition: str | None
    note: str | None = None

    @property
    def component(self) -> str:
        return self.item.split(".")[1]


@dataclass(frozen=True)
class KeyFlagged:
    """A flagged word that was truly spoken, its condition, and how it was meant."""

    word: str
    condition: str
    reading: FlaggedReading


@dataclass(frozen=True)
class AnswerKey:
    """The truth of a sample: every line of the sheet, its findings, its flagged words in order."""

    name: str
    items: dict[str, KeyItem]
    findings: list[KeyFinding]
    flagged: list[KeyFlagged]


def load_key(script_path: Path) -> AnswerKey:
    """The answer key of the script at `script_path`, over every line of its pack's sheet.

    Raises KeyError for an item that is not on the sheet, ValueError for a flagged word that is no
    label of a condition.
    """
    return key_of(load_script(script_path))


def key_of(script: Script) -> AnswerKey:
    """The same of a script at hand."""
    pack = load_pack(script.pack)
    said = _said_of_items(script)
    items = {item.id: KeyItem(ItemStatus.NOT_MENTIONED) for item in pack.items}
    for name, sayings in said.items():
        if name not in items:
            raise KeyError(f"{script.name}: '{name}' is not on the sheet")
        items[name] = standing(sayings)
    return AnswerKey(
        script.name, items, list(_findings(script, said)), list(_flagged(script, pack))
    )


def standing(sayings: list[Said]) -> KeyItem:
    """Where an item stands after `sayings`, in time order: the worst since the last that cleared it."""
    note = None
    since_cleared: list[Said] = []
    for saying in sayings:
        if saying in CLEARING:
            note, since_cleared = CLEARING[saying], ["satisfactory"]
        else:
            since_cleared.append(saying)
    plain = [ItemStatus("satisfactory" if one == "by_reference" else one) for one in since_cleared]
    status = min(plain, key=WORST_FIRST.index)
    by_reference = status is ItemStatus.SATISFACTORY and "satisfactory" not in since_cleared
    return KeyItem(status, by_reference, note)


def condition_of(word: str, pack: Pack) -> str:
    """The condition whose label `word` is, alone or in the plural. Raises ValueError where there is none."""
    for condition in pack.conditions.values():
        for label in condition.labels:
            if re.fullmatch(rf"{re.escape(label)}(s|es)?", word, re.IGNORECASE):
                return condition.id
    raise ValueError(f"'{word}' is no label of a condition")


def _said_of_items(script: Script) -> dict[str, list[Said]]:
    said: dict[str, list[Said]] = {}
    for utterance in script.utterances:
        for item, saying in utterance.items.items():
            said.setdefault(item, []).append(saying)
    return said


def _findings(script: Script, said: dict[str, list[Said]]) -> Iterable[KeyFinding]:
    for utterance in script.utterances:
        for item, condition in utterance.findings.items():
            note = standing(said[item]).note
            yield KeyFinding(item, Verdict(utterance.items[item]), condition, note)


def _flagged(script: Script, pack: Pack) -> Iterable[KeyFlagged]:
    @lru_cache
    def condition(word: str) -> str:
        return condition_of(word, pack)

    for utterance in script.utterances:
        for word, reading in utterance.flagged_words:
            yield KeyFlagged(word, condition(word), FlaggedReading(reading))
