"""Which names of a pack can be taken for another name, or for something that is no name?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations

from spokenfor.packs.faults import Fault
from spokenfor.packs.load import Pack
from spokenfor.packs.schema import CueCategory, Labelled
from spokenfor.packs.terms import Term, TermKind, compile_cues
from spokenfor.packs.wording import match_key, words_of
from spokenfor.packs.yaml_lines import Place

Terms = dict[str, Term]
Compiled = dict[TermKind, Terms]
# Cues that give way to a name of the same words ("skin", "lights") and lose nothing else by it.
_GIVE_WAY = (CueCategory.PART, CueCategory.SATISFACTORY)
_KINDS = (TermKind.COMPONENT, TermKind.CONDITION, TermKind.POSITION, TermKind.ZONE)


def zones_of(pack: Pack) -> dict[str, set[str]]:
    """The zones in which each component has a line."""
    zones: dict[str, set[str]] = defaultdict(set)
    for item in pack.items:
        zones[item.component].add(item.zone)
    return zones


def label_place(pack: Pack, kind: str, concept: Labelled, key: str) -> Place:
    """Where a concept's label of this match key stands; the concept itself for one understood by rule."""
    for field in ("prefLabel", "altLabel", "hiddenLabel"):
        written = getattr(concept, field)
        if isinstance(written, str) and match_key(written) == key:
            return pack.sources.place(kind, concept.id, field)
        for index, label in enumerate(written if isinstance(written, list) else ()):
            if match_key(label) == key:
                return pack.sources.place(kind, concept.id, field, index)
    return pack.sources.place(kind, concept.id)


def term_place(pack: Pack, term: Term) -> Place:
    """Where the label of a term stands, in the last concept that has it."""
    concepts: dict[TermKind, dict[str, Labelled]] = {
        TermKind.COMPONENT: dict(pack.components),
        TermKind.CONDITION: dict(pack.conditions),
        TermKind.POSITION: dict(pack.positions),
        TermKind.ZONE: {zone.id: zone for zone in pack.zones},
    }
    return label_place(pack, term.kind.value, concepts[term.kind][term.concepts[-1]], term.key)


def shared_labels(pack: Pack, terms: Compiled) -> Iterator[Fault]:
    """Labels that name two components of one zone."""
    zones = zones_of(pack)
    for term in terms[TermKind.COMPONENT].values():
        for one, other in combinations(term.concepts, 2):
            shared = zones[one] & zones[other]
            if shared:
                yield Fault(
                    label_place(pack, "component", pack.components[other], term.key),
                    f"label '{term.label}' names both '{one}' and '{other}' in zone "
                    f"'{min(shared)}': neither will be ticked by it",
                    "Take it from one of them, or say more in it",
                )


def two_kinds(pack: Pack, terms: Compiled) -> Iterator[Fault]:
    """Labels that name a component and something else."""
    for one, other in combinations(_KINDS, 2):
        for key in sorted(terms[one].keys() & terms[other].keys()):
            term = terms[one][key]
            yield Fault(
                term_place(pack, terms[other][key] if other is TermKind.ZONE else term),
                f"label '{term.label}' is both a {one} and a {other}",
                f"Say more in it, so that it is only the {one} or only the {other}",
            )


def cue_phrases(pack: Pack, terms: Compiled) -> Iterator[Fault]:
    """Names that are a cue phrase of speech.yaml word for word, and would be read as one; those of parts
    and good results give way to a name."""
    cues = compile_cues(pack.cues)
    for kind in (TermKind.COMPONENT, TermKind.ZONE):
        for term in terms[kind].values():
            rows = [
                cue
                for cue in cues.get(tuple(words_of(term.label)), ())
                if cue.category not in _GIVE_WAY
            ]
            if rows:
                yield Fault(
                    term_place(pack, term),
                    f"label '{term.label}' is also a cue phrase ({rows[0].category.value})",
                    "Say more in it, so that it is only a name",
                )


def repeated_labels(pack: Pack, _terms: Compiled) -> Iterator[Fault]:
    """Mis-hearings that are a name already, and names written twice in one component."""
    for kind, concepts in (("component", pack.components.values()), ("zone", pack.zones)):
        for concept in concepts:
            seen: dict[str, str] = {}
            for label in concept.labels:
                key = match_key(label)
                if key in seen and label in concept.hiddenLabel:
                    yield Fault(
                        pack.sources.place(kind, concept.id, "hiddenLabel"),
                        f"mis-hearing '{label}' of '{concept.id}' is matched as its name '{seen[key]}'",
                        "Take it out; plural, case, hyphen and space do not matter",
                    )
                seen.setdefault(key, label)
