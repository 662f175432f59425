"""Which names of a pack can be taken for another name, or for something that is no name?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import combinations

from spokenfor.packs.faults import Fault
from spokenfor.packs.load import Pack
from spokenfor.packs.schema import CueCategory, Labelled
from spokenfor.packs.terms import CueWords, Term, TermKind
from spokenfor.packs.variants import repeats, same_words, zone_words
from spokenfor.packs.wording import match_key, words_of
from spokenfor.packs.yaml_lines import Place

Terms = Mapping[str, Term]
Compiled = Mapping[TermKind, Terms]
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


def concepts_of(pack: Pack) -> dict[TermKind, dict[str, Labelled]]:
    """What a pack and its common folder name, by kind and id."""
    return {
        TermKind.COMPONENT: dict(pack.components),
        TermKind.CONDITION: dict(pack.conditions),
        TermKind.POSITION: dict(pack.positions),
        TermKind.ZONE: {zone.id: zone for zone in pack.zones},
        TermKind.ASPECT: dict(pack.aspects),
    }


def term_place(pack: Pack, term: Term) -> Place:
    """Where the label of a term stands, in the last concept that has it."""
    concept = concepts_of(pack)[term.kind][term.concepts[-1]]
    return label_place(pack, term.kind.value, concept, term.key)


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
    cues = CueWords(cue for cue in pack.cues if cue.category not in _GIVE_WAY)
    for kind in (TermKind.COMPONENT, TermKind.ZONE):
        for term in terms[kind].values():
            rows = cues.of(words_of(term.label))
            if rows:
                yield Fault(
                    term_place(pack, term),
                    f"label '{term.label}' is also a cue phrase ({rows[0].category.value})",
                    "Say more in it, so that it is only a name",
                )


def repeated_labels(pack: Pack, _terms: Compiled) -> Iterator[Fault]:
    """Labels that are matched without being written: as another label of the same concept, by plural, case,
    hyphen or space, or by a row of same-words.yaml (and what a side is called, in the name of a zone)."""
    words = same_words(pack.same_words)
    of_zones = zone_words(pack.same_words, pack.positions.values(), pack.head.meant)
    for kind, concepts in concepts_of(pack).items():
        for concept in concepts.values():
            for one in repeats(concept, of_zones if kind is TermKind.ZONE else words):
                inside = (one.field,) if one.field == "prefLabel" else (one.field, one.index)
                what = "mis-hearing" if one.field == "hiddenLabel" else "label"
                yield Fault(
                    pack.sources.place(kind.value, concept.id, *inside),
                    f"{what} '{one.label}' of '{concept.id}' is understood already, as '{one.by}'",
                    "Take it out; same-words.yaml says which words mean the same"
                    if one.by_words
                    else "Take it out; plural, case, hyphen and space do not matter",
                )
