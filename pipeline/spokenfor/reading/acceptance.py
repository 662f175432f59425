"""When a phrase is taken for a term that it resembles: one rule where the sound was asked, one where not."""

from __future__ import annotations

import math
from dataclasses import dataclass

from spokenfor.packs.terms import TermKind
from spokenfor.packs.wording import words_of
from spokenfor.reading.sound_rule import RARE_COUNT, Possible, Surroundings, sound_rule

__all__ = ["Possible", "Surroundings", "probability", "reason", "turning_taken", "weight"]


@dataclass(frozen=True)
class TextRule:
    """Likeness needed where nothing but the text is at hand: `sounds` of words that are rare or unknown,
    `common_sounds` where every heard word is common; `near` is taken off for a component of the zone being
    walked or one beside it, `far` put on elsewhere; terms just over `short_phones` phones must sound the
    same, and those under `long_phones` need a sentence of the trade around them where every heard word is
    common; a word of ordinary English by itself ("kettle") must sound like the term by `one_word`. *Common
    practice*, set on sentences of our own."""

    sounds: float = 0.80
    common_sounds: float = 0.92
    condition: float = 0.86
    near: float = 0.06
    far: float = 0.06
    short_phones: int = 4
    long_phones: int = 8
    one_word: float = 0.95


@dataclass(frozen=True)
class TurningRule:
    """Sound score in nats that a turning word needs: a homophone sounds the same, so only the model's
    liking for common wordings speaks against it. *Common practice* until measured."""

    same: float = 0.99
    homophone: float = -6.0
    other: float = 0.0


_DENIALS = {"no", "not", "missing", "without", "never"}
TEXT_RULE = TextRule()
TURNING_RULE = TurningRule()


def weight(one: Possible, around: Surroundings) -> float:
    """What speaks for a repair, more being better; 0 and above is taken."""
    if one.sound_score is None:
        return _text_weight(one, around, TEXT_RULE)
    rule = sound_rule()
    return rule.log_odds(one, around) - rule.needed


def probability(one: Possible, weight: float) -> float | None:
    """How probable (0..1) a repair of this weight is by the fitted rule; None where the sound was not
    asked."""
    if one.sound_score is None:
        return None
    return 1 / (1 + math.exp(-weight - sound_rule().needed))


def reason(one: Possible) -> str:
    """Why a repair was taken, for the record."""
    if one.sound_score is None:
        return "sounds like a term of the pack"
    told = "heard so when told the names of the sheet, and " if one.primed else ""
    return f"{told}the sound allows it"


def turning_taken(sounds: float, sound_score: float | None) -> bool:
    """Whether a word that turns a meaning is taken to have been meant: how alike the two sound (0..1) and
    the sound score in nats. Without sound, only words that sound the same."""
    if sound_score is None:
        return sounds >= TURNING_RULE.same
    needed = TURNING_RULE.homophone if sounds >= TURNING_RULE.same else TURNING_RULE.other
    return sound_score >= needed


def _adds_denial(one: Possible) -> bool:
    """Whether a repair would put in a "no" that was not heard ("safety wire", "no safety wire")."""
    return bool(_DENIALS & set(words_of(one.term.label)) - set(one.heard))


def _text_weight(one: Possible, around: Surroundings, rule: TextRule) -> float:
    score = max(one.sounds, (one.sounds + one.spelling) / 2)
    common = one.rarest >= RARE_COUNT
    if one.turns:
        return -1.0
    if one.term.kind is TermKind.CONDITION:
        if _adds_denial(one):
            return -1.0
        return -1.0 if common else score - rule.condition
    phones = len(one.term.phones)
    if common and phones < rule.long_phones and not around.supported:
        return -1.0
    if phones <= rule.short_phones and one.sounds < 1.0:
        return -1.0
    if len(one.heard) == 1 and one.rarest and one.sounds < rule.one_word:
        return -1.0
    needed = rule.common_sounds if common else rule.sounds
    if around.distance is not None:
        needed += -rule.near if around.distance <= 1 else rule.far
    return score - min(needed, 1.0)
