"""Which names of a pack may be misheard?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache
from itertools import combinations

from spokenfor.packs.commonness import word_counts
from spokenfor.packs.faults import Fault
from spokenfor.packs.lint_names import Compiled, term_place, zones_of
from spokenfor.packs.load import Pack
from spokenfor.packs.phones import in_dictionary, is_spelled_out, likeness, word_phones
from spokenfor.packs.terms import Term, TermKind
from spokenfor.packs.wording import match_key, normal, singular, split_tokens, words_of

# Two names that sound more alike than this are likely to be taken for one another (common practice).
TOO_ALIKE = 0.88
# Words so common that a recogniser writes them before a rarer word that sounds the same (common practice).
EVERYDAY = 4000
# No edit costs less than this, save one phone taken for a very like one (phones.py).
_SHORTEST = 3


def _kept(pack: Pack) -> set[frozenset[str]]:
    return {frozenset((match_key(one), match_key(other))) for one, other in pack.head.sounds_kept}


def alike(pack: Pack, terms: Compiled) -> Iterator[Fault]:
    """Names of different components of one zone that sound alike."""
    zones = zones_of(pack)
    kept = _kept(pack)
    by_zone: dict[str, list[Term]] = defaultdict(list)
    for term in terms[TermKind.COMPONENT].values():
        if not term.hidden:
            for zone in set().union(*(zones[name] for name in term.concepts)):
                by_zone[zone].append(term)
    told: set[tuple[str, str]] = set()
    for names in by_zone.values():
        for one, other in combinations(names, 2):
            pair = (one.key, other.key)
            if pair in told or set(one.concepts) & set(other.concepts):
                continue
            sounds = 0.0 if _far(one.phones, other.phones) else likeness(one.phones, other.phones)
            if sounds >= TOO_ALIKE and frozenset(pair) not in kept:
                told.add(pair)
                yield Fault(
                    term_place(pack, other),
                    f"'{one.label}' and '{other.label}' sound alike ({sounds:.2f}) in one zone",
                    _mend(one, other),
                )


def _far(one: str, other: str) -> bool:
    """Whether two phone strings differ so much in length that they cannot be too alike: a phone too many
    costs at least 0.6 (phones.py)."""
    longest = max(len(one), len(other))
    return abs(len(one) - len(other)) * 0.6 > (1.0 - TOO_ALIKE) * longest


def _mend(one: Term, other: Term) -> str:
    """What to call the two instead: the word that is in one only, moved apart or said more of."""
    words = [set(words_of(term.label)) for term in (one, other)]
    own = sorted(words[1] - words[0])
    by_name = [term.names[0] for term in (one, other)]
    if {one.label, other.label} != set(by_name):
        return f"Call them '{by_name[0]}' and '{by_name[1]}', or name the pair in sounds_kept"
    if own:
        return f"Say more than '{own[0]}' in '{other.label}', or name the pair in sounds_kept"
    return "Give one of them another name, or name the pair in sounds_kept"


@lru_cache(maxsize=1)
def _everyday_by_phones() -> dict[str, list[str]]:
    """Everyday words by how they sound, commonest first."""
    commonest = sorted(word_counts().items(), key=lambda pair: -pair[1])[:EVERYDAY]
    found: dict[str, list[str]] = defaultdict(list)
    for word, _ in commonest:
        if len(word) > 1 and in_dictionary(word):
            found[word_phones(word)].append(word)
    return found


def everyday_words(pack: Pack, terms: Compiled) -> Iterator[Fault]:
    """Names of one word that sound the same as an everyday word which no mis-hearing of the pack lists."""
    kept = _kept(pack)
    known = {key for kind in TermKind for key in terms[kind]}
    for term in terms[TermKind.COMPONENT].values():
        words = words_of(term.label)
        if term.hidden or len(words) != 1 or len(term.phones) < _SHORTEST - 1:
            continue
        for word in _everyday_by_phones().get(term.phones, ()):
            stem = singular(normal(word))
            if stem != term.key and stem not in known and frozenset((term.key, stem)) not in kept:
                yield Fault(
                    term_place(pack, term),
                    f"'{term.label}' sounds like the everyday word '{word}'",
                    f"Add '{word}' to hiddenLabel if it is never said for itself, name it in two words, or "
                    "name the pair in sounds_kept",
                )


def unpronounced(pack: Pack, _terms: Compiled) -> Iterator[Fault]:
    """Names with a word that no dictionary pronounces and no `say` does."""
    for kind, concepts in (("component", pack.components.values()), ("zone", pack.zones)):
        for concept in concepts:
            for index, label in enumerate([concept.prefLabel, *concept.altLabel]):
                unknown = [
                    token
                    for token in split_tokens(label)
                    if token[0].isalnum()
                    and not is_spelled_out(token)
                    and not in_dictionary(normal(token))
                ]
                if unknown and label not in concept.say:
                    inside = ("altLabel", index - 1) if index else ("prefLabel",)
                    yield Fault(
                        pack.sources.place(kind, concept.id, *inside),
                        f"{kind} '{concept.id}': '{' '.join(unknown)}' in '{label}' is spelled out by rule",
                        f"Give its phones in say, as in say: {{{label}: ...}}, if it sounds otherwise",
                    )
