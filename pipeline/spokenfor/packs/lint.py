"""What a pack author should look at in a pack that loads: names that may be mistaken or misheard."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations

from spokenfor.packs.load import Pack
from spokenfor.packs.phones import in_dictionary, likeness
from spokenfor.packs.terms import Term, TermKind, compile_terms
from spokenfor.packs.wording import words_of

# Two names that sound more alike than this are likely to be taken for one another (common practice).
_TOO_ALIKE = 0.88


def lint(pack: Pack) -> list[str]:
    """One line for each remark; none where there is nothing to look at. Errors are raised on loading."""
    terms = compile_terms(pack)
    return [
        *_unused(pack),
        *_ambiguous(pack, terms[TermKind.COMPONENT]),
        *_two_kinds(terms),
        *_alike(pack, terms[TermKind.COMPONENT]),
        *_unpronounced(pack),
    ]


def _unused(pack: Pack) -> Iterator[str]:
    used = {item.component for item in pack.items}
    for name in pack.components:
        if name not in used:
            yield f"component '{name}' is on no line of the sheet"
    walked = {item.zone for item in pack.items}
    for zone in pack.zones:
        if zone.id not in walked:
            yield f"zone '{zone.id}' has no line on the sheet"


def _zones_of(pack: Pack) -> dict[str, set[str]]:
    zones: dict[str, set[str]] = defaultdict(set)
    for item in pack.items:
        zones[item.component].add(item.zone)
    return zones


def _ambiguous(pack: Pack, components: dict[str, Term]) -> Iterator[str]:
    zones = _zones_of(pack)
    for term in components.values():
        for one, other in combinations(term.concepts, 2):
            shared = zones[one] & zones[other]
            if shared:
                yield (
                    f"label '{term.label}' names both '{one}' and '{other}' in zone "
                    f"'{min(shared)}': neither will be ticked by it"
                )


def _two_kinds(terms: dict[TermKind, dict[str, Term]]) -> Iterator[str]:
    kinds = (TermKind.COMPONENT, TermKind.CONDITION, TermKind.POSITION)
    for one, other in combinations(kinds, 2):
        for key in sorted(terms[one].keys() & terms[other].keys()):
            yield f"label '{terms[one][key].label}' is both a {one} and a {other}"


def _alike(pack: Pack, components: dict[str, Term]) -> Iterator[str]:
    zones = _zones_of(pack)
    names = [term for term in components.values() if not term.hidden]
    for one, other in combinations(names, 2):
        if set(one.concepts) & set(other.concepts):
            continue
        places = [set().union(*(zones[name] for name in term.concepts)) for term in (one, other)]
        alike = likeness(one.phones, other.phones)
        if places[0] & places[1] and alike >= _TOO_ALIKE:
            yield f"'{one.label}' and '{other.label}' sound alike ({alike:.2f}) in one zone"


def _unpronounced(pack: Pack) -> Iterator[str]:
    for component in pack.components.values():
        shown = [component.prefLabel, *component.altLabel]
        for label in shown:
            unknown = [word for word in words_of(label) if not in_dictionary(word)]
            if unknown and label not in component.say:
                yield (
                    f"component '{component.id}': '{' '.join(unknown)}' in '{label}' is spelled out by "
                    "rule; give `say` if that is not how it sounds"
                )
