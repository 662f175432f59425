"""Trade words that were misheard: near spellings and phrases that sound like a term of the pack.

Every non-exact match becomes a Repair with its scores. Where the sound was asked (second hearing), its answer
decides; for a transcript without sound, phones, spelling and how common the words are, and a repair never
swallows a cue ("no", "not", "good"). With sound it may, small words and denials ("and take", an intake; "no
sound luck", a nose downlock); what rests on one that swallowed a denial is always marked to be listened to.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from spacy.lang.en.stop_words import STOP_WORDS
from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.models import Repair
from spokenfor.packs.candidates import REPAIRED, Candidates, Phrase, as_heard, extends
from spokenfor.packs.commonness import word_counts
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import Term, TermKind, compile_terms
from spokenfor.packs.turning import TURNING
from spokenfor.packs.wording import match_key
from spokenfor.reading.acceptance import Possible, Surroundings, probability, reason, weight
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    QUANTITIES,
    evidence,
    mentions_by_token,
    put_mentions,
    table_of,
    tokens_of,
)
from spokenfor.reading.mentions import mention_span, word_windows
from spokenfor.reading.other_words import inflects, is_compound, only_small_changed
from spokenfor.reading.surroundings import Around
from spokenfor.reading.told import borne_out
from spokenfor.reading.walk import Walk

# Cues whose words a repair must leave alone.
_KEPT = {category.value for category in CueCategory} - {
    "part",
    "group",
    "pseudo",
    "termination",
    "purpose",
}
# Where the sound vouches for it, a repair may take back a good result (that invents nothing) and take in small
# words, denials and what opens a clause; never a correction, nor what says that a thing was put right, left
# out, taken from elsewhere, or within limits.
_DENYING = {"absent", "denied", "negation"}
_SMALL = {"filler", "affirmed", "later_done", "supposed"}
_KEPT_BY_SOUND = _KEPT - {"satisfactory"} - _DENYING - _SMALL
# Words that no repair without sound begins or ends with: small ones, but those that name a place on a thing,
# and what the whole machine is called.
_EDGES = STOP_WORDS - {"side", "top", "bottom", "front", "back"} | set(
    "it's that's i'm got gets gone went airplane aeroplane aircraft helicopter machine".split()
)
_LEAST_ALIKE = 0.65
_LONGEST_WORDS = 5
# Nats by which the sound must prefer the shorter of two names, one in the other (common practice).
_CLEARLY = 8.0


@Language.factory("spokenfor_repairs", default_config={"pack": ""})
def create_repairs(nlp: Language, name: str, pack: str) -> Repairs:
    word_counts()
    return Repairs(load_pack(pack))


class Repairs:
    """Adds mentions that were not heard exactly, fills `doc._.repairs`, and walks the zones again."""

    def __init__(self, pack: Pack) -> None:
        self.walk = Walk(pack)
        self.candidates = Candidates(pack)
        compiled = compile_terms(pack)
        self.terms = {
            (kind.value, key): term for kind in REPAIRED for key, term in compiled[kind].items()
        }
        self.labels: dict[str, list[str]] = defaultdict(list)
        for kind in (*REPAIRED, TermKind.POSITION):
            for term in compiled[kind].values():
                for concept in term.concepts if not term.hidden else ():
                    self.labels[concept].append(term.label)
        self.around = Around(pack)

    def __call__(self, doc: Doc) -> Doc:
        self._own_up(doc)
        chosen = self._choose(self.possible(doc))
        put_mentions(doc, [self._mention(doc, *one) for one in chosen])
        found = [(s.start, s._.repair) for s in doc.spans[MENTIONS] if s._.repair is not None]
        found += doc._.word_repairs.items()
        doc._.repairs = [repair for _, repair in sorted(found, key=lambda pair: pair[0])]
        return self.walk(doc)

    def possible(self, doc: Doc) -> list[tuple[Possible, Surroundings]]:
        """Every repair that may be made, with where it would stand."""
        found = borne_out([*(self._from_text if doc._.proofs is None else self._from_sound)(doc)])
        return list(zip(found, self.around.of(doc, found), strict=True))

    def _own_up(self, doc: Doc) -> None:
        """Makes a repair of every mention matched by a hidden label, a mis-hearing the pack lists."""
        for span in doc.spans[MENTIONS]:
            if not span._.term.hidden:
                continue
            labels = [label for concept in span._.term.concepts for label in self.labels[concept]]
            scored = [(as_heard(span.text, label), label) for label in dict.fromkeys(labels)]
            (sounds, spelling), label = max(scored)
            why = "a mis-hearing that the pack lists"
            span._.repair = _repair(doc, (span.start, span.end), label, sounds, spelling, None, why)

    def _from_sound(self, doc: Doc) -> Iterable[Possible]:
        """What the sound was asked about."""
        by_word: dict[int, list[int]] = defaultdict(list)
        for at, word in enumerate(table_of(doc).word):
            by_word[word].append(at)
        kept = self._kept(doc, _KEPT_BY_SOUND)
        denying, small = self._kept(doc, _DENYING), self._kept(doc, _SMALL)
        for proof in doc._.proofs:
            if proof.kind == TURNING:
                continue
            first = doc._.first_words[proof.segment]
            inside = [
                at
                for word in range(first + proof.first, first + proof.after)
                for at in by_word[word]
            ]
            inside = [at for at in inside if table_of(doc).key[at][0].isalnum()]
            term = self.terms[proof.kind, match_key(proof.label)]
            if not inside or not kept.isdisjoint(inside) or not self._free(doc, inside, term):
                continue
            heard = tuple(table_of(doc).key[at] for at in inside)
            if is_compound(heard, term):
                continue
            if only_small_changed(heard, [at in small for at in inside], term):
                continue
            yield Possible(
                tokens=(inside[0], inside[-1] + 1),
                term=term,
                heard=heard,
                sounds=proof.phonetic_score,
                spelling=proof.spelling_score,
                sound_score=proof.sound_score,
                surest=min(table_of(doc).probability[at] for at in inside),
                rarest=_rarest(doc, inside),
                turns=_turns(doc, inside, term),
                swallows=not small.isdisjoint(inside),
                swallows_denial=not denying.isdisjoint(inside),
                primed=proof.primed,
            )

    def _from_text(self, doc: Doc) -> Iterable[Possible]:
        """What phones and spelling suggest, where there is no sound to ask."""
        kept, keys, by_token = self._kept(doc, _KEPT), table_of(doc).key, mentions_by_token(doc)
        kept |= tokens_of(doc.spans[QUANTITIES])
        edged = {at for at, key in enumerate(keys) if key in _EDGES or spread(key)[0] in _EDGES}
        numbers = {at for at, key in enumerate(keys) if key.isdigit() and at - 1 in by_token}
        windows: list[list[int]] = []
        for sentence in doc.sents:
            for inside in word_windows(sentence, _LONGEST_WORDS):
                if inside[0] in edged or inside[-1] in edged or not kept.isdisjoint(inside):
                    continue
                if numbers.isdisjoint(inside[1:]) and not by_token.keys() >= set(inside):
                    windows.append(inside)
        phrases = [
            Phrase(number, tuple([keys[at] for at in inside]))
            for number, inside in enumerate(windows)
        ]
        for candidate in self.candidates.search(phrases, _LEAST_ALIKE):
            inside = windows[candidate.phrase.where]
            if keys[inside[0]].isdigit() and not candidate.term.key[:1].isdigit():
                continue  # "two bolts" are a count, and no U bolts
            if self._free(doc, inside, candidate.term) and not inflects(
                [keys[at] for at in inside], candidate.term
            ):
                yield Possible(
                    tokens=(inside[0], inside[-1] + 1),
                    term=candidate.term,
                    heard=tuple(keys[at] for at in inside),
                    sounds=candidate.sounds,
                    spelling=candidate.spelling,
                    sound_score=None,
                    surest=1.0,
                    rarest=_rarest(doc, inside),
                    turns=_turns(doc, inside, candidate.term),
                )

    @staticmethod
    def _kept(doc: Doc, categories: set[str]) -> set[int]:
        return tokens_of(cue for cue in doc.spans[CUES] if cue.label_ in categories)

    @staticmethod
    def _free(doc: Doc, inside: list[int], term: Term) -> bool:
        """Whether a phrase takes in only whole mentions that the term says more than, and no position or
        condition; nor is it the term itself, which a longer phrase has taken in ("*buckled* over it")."""
        if match_key(" ".join(table_of(doc).key[at] for at in inside)) == term.key:
            return False
        by_token = mentions_by_token(doc)
        spans = [by_token[at] for at in inside if at in by_token]
        fixed = (TermKind.POSITION.value, TermKind.CONDITION.value)
        whole = all(
            span.label_ not in fixed and span.start >= inside[0] and span.end <= inside[-1] + 1
            for span in spans
        )
        return whole and extends(term, [span._.term for span in spans])

    @staticmethod
    def _choose(
        possible: Iterable[tuple[Possible, Surroundings]],
    ) -> list[tuple[Possible, float]]:
        """The best of what is taken with its weight, never overlapping."""
        weighed = [
            (-weight(one, around), one.tokens, one.term.key, one) for one, around in possible
        ]
        accepted = [
            entry for entry in sorted(weighed, key=lambda entry: entry[:3]) if entry[0] <= 0
        ]
        taken: set[int] = set()
        chosen = []
        for against, tokens, _, one in accepted:
            if taken.isdisjoint(range(*tokens)) and not any(
                _says_more(other[3], one) for other in accepted
            ):
                taken.update(range(*tokens))
                chosen.append((one, -against))
        return chosen

    @staticmethod
    def _mention(doc: Doc, one: Possible, weight: float) -> Span:
        span = mention_span(doc, *one.tokens, one.term)
        scores = one.sounds, one.spelling, one.sound_score
        repair = _repair(doc, one.tokens, one.term.label, *scores, reason(one))
        update = {"probability": probability(one, weight), "turns": one.swallows_denial}
        span._.repair = repair.model_copy(update=update)
        return span


def _rarest(doc: Doc, inside: list[int]) -> int:
    """How often the rarest word was counted; a word that a verb hangs on ("flap's") counts as itself."""
    counts = word_counts()
    keys = [table_of(doc).key[at] for at in inside]
    return min(max(counts.get(key, 0), counts.get(spread(key)[0], 0)) for key in keys)


def _says_more(other: Possible, one: Possible) -> bool:
    """Whether another repair takes in this one, phrase and name ("driveshaft cover" and "drive shaft"), and the
    sound does not speak clearly for this one ("intake", not "intake filter")."""
    if (one.sound_score or 0.0) - (other.sound_score or 0.0) > _CLEARLY:
        return False
    inside = other.tokens[0] <= one.tokens[0] and one.tokens[1] <= other.tokens[1]
    return (
        inside
        and other.tokens != one.tokens
        and other.term.key != one.term.key
        and one.term.key in other.term.key
    )


def _turns(doc: Doc, inside: list[int], term: Term) -> bool:
    """Whether a component heard exactly would become another one."""
    by_token = mentions_by_token(doc)
    heard = [by_token[at]._.term for at in inside if at in by_token]
    return any(
        one.kind is TermKind.COMPONENT and not set(one.concepts) & set(term.concepts)
        for one in heard
    )


def _repair(
    doc: Doc,
    tokens: tuple[int, int],
    label: str,
    sounds: float,
    spelling: float,
    sound_score: float | None,
    why: str,
) -> Repair:
    proof = evidence(doc, *tokens)
    return Repair(
        heard=doc[slice(*tokens)].text,
        became=label,
        evidence=proof.model_copy(update={"text": label}),
        phonetic_score=sounds,
        spelling_score=spelling,
        sound_score=sound_score,
        why=why,
    )
