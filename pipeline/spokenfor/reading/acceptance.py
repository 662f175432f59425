"""When a phrase is taken for a term that it resembles: one rule where the sound was asked, one where not."""

from __future__ import annotations

from dataclasses import dataclass

from spokenfor.packs.terms import Term, TermKind


@dataclass(frozen=True)
class Possible:
    """A phrase (token range), a term it may have been, and what speaks for it: how alike they sound and are
    spelled (0..1), the sound score in nats where the sound was asked, how often its rarest word was counted
    in ordinary English, and whether it turns one component that was heard into another."""

    tokens: tuple[int, int]
    term: Term
    sounds: float
    spelling: float
    sound_score: float | None
    rarest: int
    turns: bool


@dataclass(frozen=True)
class Surroundings:
    """Where a phrase stands: zones between the zone being walked and the nearest that has the term (None
    for a term of no zone), and whether its sentence speaks of the trade anyhow."""

    distance: int | None
    supported: bool


@dataclass(frozen=True)
class SoundRule:
    """Weights of what speaks for a repair, in nats; it is taken at `needed` or more. Set by hand on the
    bundled recordings (docs/accuracy.md says what a recording not used for it gives)."""

    alike: float = 25.0
    alike_at: float = 0.85
    same_sound: float = 6.0
    phone: float = 0.35
    most_phones: int = 12
    near: float = 1.5
    far: float = -3.0
    rare: float = 1.5
    condition: float = -3.5
    turns: float = -8.0
    short_phones: int = 4
    short_alike: float = 0.84
    needed: float = -3.0


@dataclass(frozen=True)
class TextRule:
    """Likeness needed where nothing but the text is at hand: `sounds` of words that are rare or unknown,
    `common_sounds` where every heard word is common; `near` is taken off for a component of the zone being
    walked or one beside it, `far` put on elsewhere; terms just over `short_phones` phones must sound the
    same, and those under `long_phones` need a sentence of the trade around them where every heard word is
    common. *Common practice*, set on sentences of our own."""

    sounds: float = 0.80
    common_sounds: float = 0.92
    condition: float = 0.86
    near: float = 0.06
    far: float = 0.06
    short_phones: int = 4
    long_phones: int = 8


RARE_COUNT = 300_000
SOUND_RULE = SoundRule()
TEXT_RULE = TextRule()


def weight(one: Possible, around: Surroundings) -> float:
    """What speaks for a repair, more being better; 0 and above is taken."""
    if one.sound_score is None:
        return _text_weight(one, around, TEXT_RULE)
    return _sound_weight(one, one.sound_score, around, SOUND_RULE)


def _sound_weight(
    one: Possible, sound_score: float, around: Surroundings, rule: SoundRule
) -> float:
    phones = len(one.term.phones)
    same = one.sounds > 0.99 and (around.supported or phones >= TEXT_RULE.long_phones)
    if phones <= rule.short_phones and one.sounds < rule.short_alike:
        return -1.0
    total = sound_score + rule.alike * (one.sounds - rule.alike_at)
    total += rule.phone * min(phones, rule.most_phones)
    condition = one.term.kind is TermKind.CONDITION
    total += rule.same_sound if same and not condition else 0.0
    total += rule.turns if one.turns else 0.0
    total += rule.rare if one.rarest < RARE_COUNT and not condition else 0.0
    total += rule.condition if condition else 0.0
    if around.distance is not None:
        total += rule.near if around.distance <= 1 else rule.far
    return total - rule.needed


def _text_weight(one: Possible, around: Surroundings, rule: TextRule) -> float:
    score = max(one.sounds, (one.sounds + one.spelling) / 2)
    common = one.rarest >= RARE_COUNT
    if one.turns:
        return -1.0
    if one.term.kind is TermKind.CONDITION:
        return -1.0 if common else score - rule.condition
    phones = len(one.term.phones)
    if common and phones < rule.long_phones and not around.supported:
        return -1.0
    if phones <= rule.short_phones and one.sounds < 1.0:
        return -1.0
    needed = rule.common_sounds if common else rule.sounds
    if around.distance is not None:
        needed += -rule.near if around.distance <= 1 else rule.far
    return score - min(needed, 1.0)
