"""Which hidden labels are proposed to a pack, how often each was heard, and which must not be taken?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.learning.misheard import Misheard, misheard
from spokenfor.models import Result
from spokenfor.packs.load import Pack
from spokenfor.packs.terms import Term, TermKind, compile_cues, compile_terms
from spokenfor.packs.wording import match_key, words_of
from spokenfor.reading.commonness import word_counts
from spokenfor.record.entries import Action, Entry
from spokenfor.record.folder import open_inspection
from spokenfor.record.reviewed import standing
from spokenfor.record.subjects import passage_key

COMMON_ALONE, COMMON_TOGETHER = 5000, 200
"""A single word among the 5,000 most used, or words that are all among the 200 most used, would be found where
nobody spoke of the component. Our own choice, on the word counts that come with symspellpy."""


@dataclass(frozen=True)
class Proposal:
    """A hidden label for a component: what was heard, what was said, in how many passages; `refused` says why
    it must not be taken. `id` is COMPONENT/HEARD-WORDS."""

    id: str
    component: str
    heard: str
    labels: tuple[str, ...]
    count: int
    refused: str | None


def corrections_of(folders: Sequence[Path]) -> tuple[str, list[tuple[Result, Entry]]]:
    """The name of the pack that the inspections were checked with, and every correction of words that stands.
    Raises InputError where a folder holds no inspection, or they used different packs."""
    found: list[tuple[Result, Entry]] = []
    names: dict[str, Path] = {}
    for folder in folders:
        inspection = open_inspection(folder)
        names.setdefault(inspection.settings.pack.name, folder)
        found += [
            (inspection.result, entry)
            for entry in standing(inspection.log.entries)
            if entry.action is Action.CORRECT_WORDS
        ]
    if len(names) != 1:
        raise InputError(
            f"The inspections were made with different packs: {', '.join(sorted(names))}",
            "Give inspections of one pack",
        )
    return next(iter(names)), found


def proposals(pack: Pack, corrections: Sequence[tuple[Result, Entry]]) -> list[Proposal]:
    """Proposals, the most often heard first; labels that the component has already are left out."""
    terms = compile_terms(pack)
    components = terms[TermKind.COMPONENT]
    counted: Counter[tuple[str, str]] = Counter()
    seen: dict[tuple[str, str], list[Misheard]] = {}
    latest = {(entry.about.key if entry.about else ""): (res, entry) for res, entry in corrections}
    for result, entry in latest.values():
        if entry.about is None or entry.about.heard is None or entry.words is None:
            continue
        known = _component(result, entry.about.key)
        rows = misheard(entry.about.heard, entry.words, components, known)
        for one in dict.fromkeys(rows):
            key = (one.component, match_key(one.heard))
            counted[key] += 1
            seen.setdefault(key, []).append(one)
    made = [
        Proposal(
            id=f"{component}/{'-'.join(rows[0].heard.replace(chr(39), '').split())}",
            component=component,
            heard=rows[0].heard,
            labels=tuple(dict.fromkeys(one.label for one in rows)),
            count=counted[component, key],
            refused=_refused(rows[0].heard, component, pack, terms),
        )
        for (component, key), rows in seen.items()
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
    heard: str, component: str, pack: Pack, terms: dict[TermKind, dict[str, Term]]
) -> str | None:
    key, words = match_key(heard), words_of(heard)
    for kind, of_kind in terms.items():
        if key in of_kind:
            names = " and ".join(dict.fromkeys(of_kind[key].names))
            return f"it is a label of the {kind.value} {names}"
    cues = compile_cues(pack.cues)
    if tuple(words) in cues:
        return f"it is a phrase that speech uses ({cues[tuple(words)][0].category.value})"
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
