"""A pack compiled for matching: every label of every concept with its key and its phones."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache

from spokenfor.packs.load import Pack
from spokenfor.packs.phones import phrase_phones
from spokenfor.packs.schema import Cue, Labelled
from spokenfor.packs.variants import Variants, same_words, zone_words
from spokenfor.packs.wording import match_key, normal, words_of


class TermKind(StrEnum):
    """What a matched term names."""

    COMPONENT = "component"
    CONDITION = "condition"
    ZONE = "zone"
    POSITION = "position"
    STATE = "state"
    ASPECT = "aspect"


@dataclass(frozen=True)
class Term:
    """One label: what it names, its words, its phones. Terms of several concepts may share a label;
    then `concepts` names them all, in the order of the pack."""

    kind: TermKind
    label: str
    key: str
    phones: str
    concepts: tuple[str, ...]
    names: tuple[str, ...]
    hidden: bool


@dataclass
class _Gathered:
    label: str
    phones: str
    hidden: bool
    concepts: list[str] = field(default_factory=list)
    names: list[str] = field(default_factory=list)


@lru_cache(maxsize=8)
def compile_terms(pack: Pack) -> Mapping[TermKind, Mapping[str, Term]]:
    """Terms of a pack by kind and match key: every label, and what it is also called by the rows of
    same-words.yaml. Worked out once for each pack; most components of reading ask for it."""
    variants = same_words(pack.same_words)
    zones = zone_words(pack.same_words, pack.positions.values(), pack.head.meant)
    groups: dict[TermKind, Iterable[Labelled]] = {
        TermKind.COMPONENT: pack.components.values(),
        TermKind.CONDITION: pack.conditions.values(),
        TermKind.ZONE: pack.zones,
        TermKind.POSITION: pack.positions.values(),
        TermKind.ASPECT: pack.aspects.values(),
    }
    terms = {
        kind: _gather(kind, concepts, zones if kind is TermKind.ZONE else variants)
        for kind, concepts in groups.items()
    }
    written = {match_key(label) for zone in pack.zones for label in zone.labels}
    for key in terms[TermKind.POSITION].keys() - written:
        terms[TermKind.ZONE].pop(key, None)
    terms[TermKind.STATE] = _states(pack)
    return terms


def _gather(kind: TermKind, concepts: Iterable[Labelled], variants: Variants) -> dict[str, Term]:
    gathered: dict[str, _Gathered] = {}
    for concept in concepts:
        shown = [concept.prefLabel, *concept.altLabel]
        also = [one for label in shown for one in variants.of(label)]
        for label in (*concept.labels, *also):
            hidden = label in concept.hiddenLabel
            entry = gathered.setdefault(
                match_key(label),
                _Gathered(label, phrase_phones(label, concept.say.get(label)), hidden),
            )
            if concept.id not in entry.concepts:
                entry.concepts.append(concept.id)
                entry.names.append(concept.prefLabel)
    return _terms(kind, gathered)


def _states(pack: Pack) -> dict[str, Term]:
    """State words, as "component:expected" or "component:adverse"."""
    gathered: dict[str, _Gathered] = {}
    for component in pack.components.values():
        for side in ("expected", "adverse"):
            for label in getattr(component.states, side):
                entry = gathered.setdefault(
                    match_key(label), _Gathered(label, phrase_phones(label), False)
                )
                entry.concepts.append(f"{component.id}:{side}")
                entry.names.append(component.prefLabel)
    return _terms(TermKind.STATE, gathered)


def _terms(kind: TermKind, gathered: dict[str, _Gathered]) -> dict[str, Term]:
    return {
        key: Term(
            kind=kind,
            label=entry.label,
            key=key,
            phones=entry.phones,
            concepts=tuple(entry.concepts),
            names=tuple(entry.names),
            hidden=entry.hidden,
        )
        for key, entry in gathered.items()
    }


class CueWords:
    """Cues by the words that they can begin with, to be asked about a few phrases without spelling all out."""

    def __init__(self, cues: Iterable[Cue]) -> None:
        self._by_first: dict[str, list[tuple[Cue, list[list[str]]]]] = defaultdict(list)
        for cue in cues:
            places = phrase_choices(cue.phrase)
            for choices in places:
                for word in choices:
                    self._by_first[word].append((cue, places))
                if "" not in choices:
                    break

    def of(self, words: Sequence[str]) -> list[Cue]:
        """The cues whose phrase stands for these words, and no more."""
        found = []
        for cue, places in self._by_first.get(words[0], ()) if words else ():
            reached = {0}
            for choices in places:
                further = {at + 1 for at in reached if at < len(words) and words[at] in choices}
                reached = further | reached if "" in choices else further
            if len(words) in reached and cue not in found:
                found.append(cue)
        return found


def phrase_choices(phrase: str) -> list[list[str]]:
    """The normal words that may stand at each place of a cue phrase, "" where the place may be left out."""
    places = []
    for part in phrase.split():
        words = [normal(word) for word in part.rstrip("?").split("|")]
        places.append([*words, ""] if part.endswith("?") else words)
    return places


def label_words(term: Term) -> int:
    """How many words the label has."""
    return len(words_of(term.label))
