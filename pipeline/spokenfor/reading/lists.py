"""Which pieces between commas are one list under one cue ("no bends, cracks or missing bolts on the plate").

*Common practice* of English: a list is closed by "or" (under a denial or a look) or "and" (under a look), and
holds nouns, no verb and no new subject.
"""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory, Direction
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import CUES, is_word, within
from spokenfor.reading.targets import DENIALS, RESULTS

_LOOKS = {CueCategory.PURPOSE.value, CueCategory.ANY.value, CueCategory.SUPPOSED.value}
_VERBAL = frozenset(
    "is are was were be been has have had looks look feels seems can could will would should do does did got "
    "it that they there this these those i we you he she not no nothing none but so then".split()
)
_PLACING = {"on", "in", "off", "out", "up", "down"}
_CLOSING = {"or", "nor"}


def is_listed(doc: Doc, sentence: Span, before: tuple[int, int], start: int, end: int) -> bool:
    """Whether the piece start..end goes on with a list that the clause `before` opens."""
    if doc[start - 1]._.key != ",":
        return False
    opening = [
        cue
        for cue in within(doc, CUES, *before)
        if cue.label_ in DENIALS | _LOOKS and cue._.cue.direction is Direction.FORWARD
    ]
    if not opening or _says_more(doc, opening[-1].end, before[1]) or _says_more(doc, start, end):
        return False
    closing = _CLOSING | ({"and"} if opening[-1].label_ in _LOOKS else set())
    for at in range(start, sentence.end):
        key = doc[at]._.key
        if key in closing:
            return not _says_more(doc, start, at)
        if is_word(doc[at]) and spread(key)[0] in _VERBAL:
            return False
    return False


def _says_more(doc: Doc, start: int, end: int) -> bool:
    """Whether a stretch holds a verb, a subject or a result: then it is more than a list."""
    words = [part for token in doc[start:end] if is_word(token) for part in spread(token._.key)]
    return bool(_VERBAL & set(words)) or any(
        cue.label_ in RESULTS and (cue.end >= end or doc[cue.end - 1]._.key not in _PLACING)
        for cue in within(doc, CUES, start, end)
    )


def is_double(doc: Doc, sentence: Span, cue: Span) -> bool:
    """Whether a clause mark is the "that" of a denial denied ("there isn't a nut here *that's not* tight"),
    whose clause is then not one of its own."""
    if spread(doc[cue.start]._.key)[0] not in ("that", "which"):
        return False
    follows = [
        part
        for token in doc[cue.start : min(cue.end + 1, sentence.end)]
        for part in spread(token._.key)
    ]
    marks = [at for at in range(sentence.start, cue.start) if not is_word(doc[at])]
    start = marks[-1] + 1 if marks else sentence.start
    denials = [one for one in within(doc, CUES, start, cue.start) if one.label_ in DENIALS]
    return "not" in follows and bool(denials)
