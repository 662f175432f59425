"""Which labels are proposed to a pack, how often each was heard, and which must not be taken?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.learning.misheard import Misheard, misheard
from spokenfor.learning.other_names import other_name
from spokenfor.models import Result
from spokenfor.packs.commonness import word_counts
from spokenfor.packs.load import Pack
from spokenfor.packs.terms import CueWords, Term, TermKind, compile_terms
from spokenfor.packs.wording import match_key, words_of
from spokenfor.record.entries import Action, Entry
from spokenfor.record.folder import open_inspection
from spokenfor.record.reviewed import standing
from spokenfor.record.subjects import passage_key

COMMON_ALONE, COMMON_TOGETHER = 5000, 200
"""A single word among the 5,000 most used, or words that are all among the 200 most used, would be found where
nobody spoke of the component. Our own choice, on the word counts that come with symspellpy."""


@dataclass(frozen=True)
class Passage:
    """Where words were heard: SHA-256 of the recording, and seconds in it."""

    recording: str | None
    start: float
    end: float


@dataclass(frozen=True)
class Proposal:
    """A label for a component: the words heard, the names that were said, and where; `refused` says why it must
    not be taken. `field` is hiddenLabel for a mis-hearing (a person corrected the words), altLabel for another
    name (a person placed what was found). `id` is COMPONENT/HEARD-WORDS."""

    id: str
    component: str
    field: str
    heard: str
    labels: tuple[str, ...]
    passages: tuple[Passage, ...]
    refused: str | None

    @property
    def count(self) -> int:
        return len(self.passages)


@dataclass(frozen=True)
class Decided:
    """A decision of a reviewer that may teach something, and the result it was about."""

    result: Result
    entry: Entry


def decided_in(folders: Sequence[Path]) -> tuple[str, list[Decided], dict[str, Path]]:
    """The name of the pack that the inspections were checked with, every correction of words and placing of a
    finding that stands, and their recordings by SHA-256.

    Raises InputError where a folder holds no inspection, or they used different packs.
    """
    found: list[Decided] = []
    sounds: dict[str, Path] = {}
    names: dict[str, Path] = {}
    for folder in folders:
        inspection = open_inspection(folder)
        names.setdefault(inspection.settings.pack.name, folder)
        sounds |= {one.sha256: folder / one.path for one in inspection.settings.recordings}
        found += [
            Decided(inspection.result, entry)
            for entry in standing(inspection.log.entries)
            if entry.action in (Action.CORRECT_WORDS, Action.PLACE_FINDING)
        ]
    if len(names) != 1:
        raise InputError(
            f"The inspections were made with different packs: {', '.join(sorted(names))}",
            "Give inspections of one pack",
        )
    return next(iter(names)), found, sounds


def proposals(pack: Pack, decided: Sequence[Decided]) -> list[Proposal]:
    """Proposals, the most often heard first; labels that the component has already are left out."""
    terms = compile_terms(pack)
    components = terms[TermKind.COMPONENT]
    cues = CueWords(pack.cues)
    items = {item.id: item.component for item in pack.items}
    seen: dict[tuple[str, str, str], list[tuple[Misheard, Passage]]] = {}
    latest = {(one.entry.about.key if one.entry.about else ""): one for one in decided}
    for one in latest.values():
        entry, about = one.entry, one.entry.about
        if about is None or about.heard is None:
            continue
        rows: list[Misheard] = []
        if entry.words is not None:
            field, known = "hiddenLabel", _component(one.result, about.key)
            rows = misheard(about.heard, entry.words, components, known)
        elif entry.item in items:
            field, name = "altLabel", other_name(about.heard, terms, cues)
            component = items[entry.item]
            label = pack.components[component].prefLabel
            rows = [Misheard(component, label, name)] if name else []
        passage = Passage(about.recording, about.start or 0.0, about.end or 0.0)
        for row in dict.fromkeys(rows):
            key = (row.component, field, match_key(row.heard))
            seen.setdefault(key, []).append((row, passage))
    made = [
        Proposal(
            id=f"{component}/{'-'.join(rows[0][0].heard.replace(chr(39), '').split())}",
            component=component,
            field=field,
            heard=rows[0][0].heard,
            labels=tuple(dict.fromkeys(row.label for row, _ in rows)),
            passages=tuple(passage for _, passage in rows),
            refused=_refused(rows[0][0].heard, component, pack, terms, cues),
        )
        for (component, field, key), rows in seen.items()
        if component not in _concepts(components.get(key))
    ]
    return sorted(made, key=lambda one: (-one.count, one.id))


def _concepts(term: Term | None) -> tuple[str, ...]:
    return term.concepts if term else ()


def _component(result: Result, key: str) -> str | None:
    """The component that a passage speaks of, where it is one."""
    named = {
        one.component
        for one in result.statements
        if one.component and passage_key(result, one.evidence) == key
    }
    return named.pop() if len(named) == 1 else None


def _refused(
    heard: str,
    component: str,
    pack: Pack,
    terms: Mapping[TermKind, Mapping[str, Term]],
    cues: CueWords,
) -> str | None:
    key, words = match_key(heard), words_of(heard)
    for kind, of_kind in terms.items():
        if key in of_kind:
            names = " and ".join(dict.fromkeys(of_kind[key].names))
            return f"it is a label of the {kind.value} {names}"
    if phrases := cues.of(words):
        return f"it is a phrase that speech uses ({phrases[0].category.value})"
    for word in words:
        position = terms[TermKind.POSITION].get(match_key(word))
        if position is not None and word not in words_of(pack.components[component].prefLabel):
            return f"it holds a word that says which one ({position.label})"
    ranks = [_ranks().get(word, len(_ranks())) for word in words]
    if len(words) == 1 and ranks[0] < COMMON_ALONE:
        return "it is a common word"
    if max(ranks) < COMMON_TOGETHER:
        return "all its words are common"
    return None


@lru_cache(maxsize=1)
def _ranks() -> dict[str, int]:
    """The rank of each English word by how often it is used, from 0."""
    counts = word_counts()
    return {word: rank for rank, word in enumerate(sorted(counts, key=counts.__getitem__)[::-1])}
