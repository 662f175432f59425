"""Trade words that were misheard: near spellings and phrases that sound like a term of the pack.

Every non-exact match becomes a Repair with its scores. Methods: phone strings compared by weighted edit
distance (packs/phones.py), spellings by RapidFuzz; how common a word is, from the word counts that come
with symspellpy. A repair never swallows a cue ("no", "not", "good") or a position.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np
from rapidfuzz import fuzz, process
from rapidfuzz.distance import Levenshtein
from spacy.lang.en.stop_words import STOP_WORDS
from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.models import Repair
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.phones import likeness, phrase_phones, word_phones
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import Term, TermKind, compile_terms
from spokenfor.reading.commonness import word_counts
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    evidence,
    mentions_by_token,
    set_spans,
    within,
)
from spokenfor.reading.mentions import mention_span, word_windows
from spokenfor.reading.walk import Walk

_REPAIRED = (TermKind.COMPONENT, TermKind.CONDITION, TermKind.ZONE)
# Cues whose words a repair must leave alone.
_KEPT = {category.value for category in CueCategory} - {"part", "group", "pseudo", "termination"}
_RESULTS = {"satisfactory", "unsatisfactory", "absent", "within_limits", "not_inspected"}
# Words that no repair begins or ends with, but those that name a place on a thing.
_EDGES = STOP_WORDS - {"side", "top", "bottom", "front", "back"} | {"it's", "that's", "i'm"}


@dataclass(frozen=True)
class RepairSettings:
    """When a phrase is taken for a term it resembles. Scores 0..1; counts are of the English word list.

    `sounds` is needed of words that are rare or unknown, `common_sounds` where every heard word is common;
    `near_bonus` is taken off for a component of the zone being walked or one beside it; terms of up to
    `short_phones` phones must sound the same, and those under `long_phones` need a sentence of the trade
    around them where every heard word is common. *Common practice*, set on sentences of our own."""

    sounds: float = 0.80
    common_sounds: float = 0.92
    near_bonus: float = 0.06
    far_malus: float = 0.06
    short_phones: int = 3
    long_phones: int = 8
    rare_count: int = 300_000
    first_look: float = 0.55
    longest_words: int = 5


@dataclass(frozen=True)
class Candidate:
    """A phrase of the transcript and a term it may have been."""

    tokens: tuple[int, int]
    term: Term
    sounds: float
    spelling: float

    @property
    def rank(self) -> tuple[float, int, int]:
        length = self.tokens[1] - self.tokens[0]
        return (
            -max(self.sounds, self.spelling) * len(self.term.phones) ** 0.5,
            -length,
            self.tokens[0],
        )


@Language.factory("spokenfor_repairs", default_config={"pack": ""})
def create_repairs(nlp: Language, name: str, pack: str) -> Repairs:
    return Repairs(load_pack(pack))


class Repairs:
    """Adds mentions that were not heard exactly, fills `doc._.repairs`, and walks the zones again."""

    def __init__(self, pack: Pack, settings: RepairSettings | None = None) -> None:
        self.settings = settings or RepairSettings()
        self.walk = Walk(pack)
        self.pack = pack
        compiled = compile_terms(pack)
        self.terms = [
            term
            for kind in _REPAIRED
            for term in compiled[kind].values()
            if not term.hidden and len(term.phones) >= self.settings.short_phones
        ]
        self.shown = [
            term
            for kind in (*_REPAIRED, TermKind.POSITION)
            for term in compiled[kind].values()
            if not term.hidden
        ]
        self.zone_order = {zone.id: index for index, zone in enumerate(pack.zones)}
        self.zones_of_component: dict[str, set[int]] = defaultdict(set)
        for item in pack.items:
            self.zones_of_component[item.component].add(self.zone_order[item.zone])

    def __call__(self, doc: Doc) -> Doc:
        self._own_up(doc)
        chosen = self._choose(self._candidates(doc))
        covered = {at for one in chosen for at in range(*one.tokens)}
        kept = [
            span for span in doc.spans[MENTIONS] if covered.isdisjoint(range(span.start, span.end))
        ]
        set_spans(doc, MENTIONS, [*kept, *(self._mention(doc, one) for one in chosen)])
        doc._.repairs = [span._.repair for span in doc.spans[MENTIONS] if span._.repair is not None]
        return self.walk(doc)

    def _own_up(self, doc: Doc) -> None:
        """Makes a repair of every mention matched by a hidden label, a mis-hearing the pack lists."""
        for span in doc.spans[MENTIONS]:
            if span._.term.hidden:
                heard = phrase_phones(span.text)
                shown = [
                    term for term in self.shown if set(term.concepts) & set(span._.term.concepts)
                ]
                best = max(shown, key=lambda term: likeness(heard, term.phones), default=None)
                if best is not None:
                    span._.repair = self._repair(
                        doc,
                        Candidate(
                            (span.start, span.end),
                            best,
                            likeness(heard, best.phones),
                            fuzz.ratio(span.text.lower(), best.label.lower()) / 100,
                        ),
                        "a mis-hearing that the pack lists",
                    )

    def _candidates(self, doc: Doc) -> list[Candidate]:
        windows = self._windows(doc)
        phrases = sorted({phones for _, _, phones in windows})
        if not phrases:
            return []
        alike = process.cdist(
            phrases,
            [term.phones for term in self.terms],
            scorer=Levenshtein.normalized_similarity,
            score_cutoff=self.settings.first_look,
            dtype=np.float32,
        )
        near: dict[str, list[Term]] = defaultdict(list)
        for row, column in zip(*np.nonzero(alike), strict=True):
            near[phrases[row]].append(self.terms[column])
        candidates = []
        stems = doc._.table.stem
        for sentence_number, inside, phones in windows:
            heard = "".join([stems[at] for at in inside])
            for term in near.get(phones, ()):
                candidate = Candidate(
                    (inside[0], inside[-1] + 1),
                    term,
                    likeness(phones, term.phones),
                    fuzz.ratio(heard, term.key) / 100,
                )
                if self._accepts(doc, sentence_number, inside, candidate):
                    candidates.append(candidate)
        return candidates

    def _windows(self, doc: Doc) -> list[tuple[int, list[int], str]]:
        """Phrases that may have been misheard: no cue or position in them, not already a term."""
        by_token = mentions_by_token(doc)
        kept = {
            index
            for cue in doc.spans[CUES]
            if cue.label_ in _KEPT
            for index in range(cue.start, cue.end)
        }
        keys = doc._.table.key
        windows = []
        for number, sentence in enumerate(doc.sents):
            for inside in word_windows(sentence, self.settings.longest_words):
                if keys[inside[0]] in _EDGES or keys[inside[-1]] in _EDGES:
                    continue
                if not kept.isdisjoint(inside):
                    continue
                if all(index in by_token for index in inside) or not _whole(by_token, inside):
                    continue
                phones = "".join([word_phones(keys[at]) for at in inside])
                if len(phones) >= self.settings.short_phones:
                    windows.append((number, inside, phones))
        return windows

    def _accepts(
        self, doc: Doc, sentence_number: int, inside: list[int], candidate: Candidate
    ) -> bool:
        settings, term = self.settings, candidate.term
        score = max(candidate.sounds, (candidate.sounds + candidate.spelling) / 2)
        rarest = min(word_counts().get(doc._.table.key[at], 0) for at in inside)
        by_token = mentions_by_token(doc)
        for span in [by_token[at] for at in inside if at in by_token]:
            same = set(span._.term.concepts) & set(term.concepts)
            if same or span._.term.key not in term.key:
                return False
        if term.kind is TermKind.CONDITION:
            return rarest < settings.rare_count and score >= settings.sounds + settings.near_bonus
        common = rarest >= settings.rare_count
        needed = settings.common_sounds if common else settings.sounds
        short = len(term.phones) < settings.long_phones
        if common and short and not self._supported(doc, inside[0]):
            return False
        if len(term.phones) <= settings.short_phones + 1 and candidate.sounds < 1.0:
            return False
        if term.kind is TermKind.COMPONENT:
            zone = doc._.walk[sentence_number]
            distance = min(
                abs(zone - other)
                for concept in term.concepts
                for other in self.zones_of_component[concept] or {99}
            )
            needed += -settings.near_bonus if distance <= 1 else settings.far_malus
        return score >= min(needed, 1.0)

    def _supported(self, doc: Doc, at: int) -> bool:
        """Whether the sentence speaks of the trade anyhow: a result, a flagged word, a position by it."""
        bounds = doc._.table.first[at], doc._.table.after[at]
        spoken = any(cue.label_ in _RESULTS for cue in within(doc, CUES, *bounds))
        return spoken or bool(within(doc, MENTIONS, *bounds))

    def _choose(self, candidates: list[Candidate]) -> list[Candidate]:
        taken: set[int] = set()
        chosen = []
        for candidate in sorted(candidates, key=lambda one: (one.rank, one.term.key)):
            if taken.isdisjoint(range(*candidate.tokens)):
                taken.update(range(*candidate.tokens))
                chosen.append(candidate)
        return chosen

    def _mention(self, doc: Doc, candidate: Candidate) -> Span:
        span = mention_span(doc, *candidate.tokens, candidate.term)
        span._.repair = self._repair(doc, candidate, "sounds like a term of the pack")
        return span

    def _repair(self, doc: Doc, candidate: Candidate, why: str) -> Repair:
        proof = evidence(doc, *candidate.tokens)
        return Repair(
            heard=doc[slice(*candidate.tokens)].text,
            became=candidate.term.label,
            evidence=proof.model_copy(update={"text": candidate.term.label}),
            phonetic_score=candidate.sounds,
            spelling_score=candidate.spelling,
            why=why,
        )


def _whole(by_token: dict[int, Span], inside: list[int]) -> bool:
    """Whether a phrase takes in only whole mentions, and no position or condition."""
    for index in inside:
        span = by_token.get(index)
        if span is not None and (
            span.label_ in (TermKind.POSITION.value, TermKind.CONDITION.value)
            or span.start < inside[0]
            or span.end > inside[-1] + 1
        ):
            return False
    return True
