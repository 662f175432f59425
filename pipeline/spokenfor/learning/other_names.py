"""Which words of a passage are another name of the thing that a reviewer placed it on?"""

from __future__ import annotations

from collections.abc import Mapping

from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import CueWords, Term, TermKind
from spokenfor.packs.wording import singular, split_tokens, words_of

_LONGEST_NAME = 4
_LONGEST_PHRASE = 6
_VERBS = frozenset(
    "is are was were has have had looks look seems seem shows show needs need".split()
)
# Words that are no part of a name (common practice).
_SMALL = _VERBS | frozenset(
    (
        "a an the this that these those there here it he she we i you they and or but so then now also still "
        "of on in at to for from by with under over behind near some any no not one all both very quite just "
        "really bit little slight slightly small big large bad badly got get think yeah okay right see can be "
        "been it's that's there's i'm i've we've isn't hasn't"
    ).split()
)


def other_name(
    heard: str,
    terms: Mapping[TermKind, Mapping[str, Term]],
    cues: CueWords,
) -> str | None:
    """The one run of words of a passage that could be a name: neither a term of the pack, nor a phrase of
    speech (but for parts of things), nor a small word. None where a thing is named in it, or where several runs
    could be one."""
    tokens = [token.lower().replace("\u2019", "'") for token in split_tokens(heard)]
    free = [token[0].isalpha() and token not in _SMALL for token in tokens]
    stems = ["".join(map(singular, words_of(token))) for token in tokens]
    for size in range(_LONGEST_PHRASE, 0, -1):
        for start in range(len(tokens) - size + 1):
            run = slice(start, start + size)
            if not all(stems[run]):
                continue
            key = "".join(stems[run])
            if key in terms[TermKind.COMPONENT]:
                return None
            words = tuple(words_of(" ".join(tokens[run])))
            phrases = [cue for cue in cues.of(words) if cue.category is not CueCategory.PART]
            if phrases or any(key in of_kind for of_kind in terms.values()):
                free[run] = [False] * size
    runs: list[tuple[int, int]] = []
    for at, one in enumerate(free):
        if one and runs and runs[-1][1] == at:
            runs[-1] = (runs[-1][0], at + 1)
        elif one:
            runs.append((at, at + 1))
    if len(runs) > 1:
        runs = [
            (start, end) for start, end in runs if tokens[end : end + 1] and tokens[end] in _VERBS
        ]
    if len(runs) != 1 or runs[0][1] - runs[0][0] > _LONGEST_NAME:
        return None
    return " ".join(tokens[slice(*runs[0])])
