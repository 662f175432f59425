"""Which pieces between commas are one list under one cue ("no bends, cracks or missing bolts on the plate").

*Common practice* of English: a list is closed by "or" (under a denial or a look) or "and" (under a look), and
holds nouns, no verb and no new subject.
"""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory, Direction
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spoken_words, spread
from spokenfor.reading.document import CUES, MENTIONS, key_of, table_of, within
from spokenfor.reading.targets import DENIALS, RESULTS

_LOOKS = {CueCategory.PURPOSE.value, CueCategory.ANY.value, CueCategory.SUPPOSED.value}
_VERBAL = frozenset(
    "is are was were be been has have had looks look feels seems can could will would should do does did got "
    "it that they there this these those i we you he she not no nothing none but so then".split()
)
_TELLING = {CueCategory.ABSENT.value, CueCategory.NEGATION.value, CueCategory.SATISFACTORY.value}
_JOINING = frozenset("and or nor".split())
_NAMING = _JOINING | frozenset("the a an both either this that these those my our your".split())
_PLACING = {"on", "in", "off", "out", "up", "down"}
_FOUND = [[one] for one in "found seen noted evident present visible apparent noticed".split()]
_CLOSING = {"or", "nor"}


def is_listed(doc: Doc, sentence: Span, before: tuple[int, int], start: int, end: int) -> bool:
    """Whether the piece start..end goes on with a list that the clause `before` opens."""
    if table_of(doc).key[start - 1] != ",":
        return False
    opening = [
        cue
        for cue in within(doc, CUES, *before)
        if cue.label_ in DENIALS | _LOOKS and cue._.cue.direction is Direction.FORWARD
    ]
    if not opening or _says_more(doc, opening[-1].end, before[1]):
        return False
    closing = _CLOSING | ({"and"} if opening[-1].label_ in _LOOKS else set())
    last = next((at for at in range(start, end) if table_of(doc).key[at] in closing), None)
    if _says_more(doc, start, end) and (last is None or not _closes(doc, start, last)):
        return False
    for at in range(start, sentence.end):
        key = table_of(doc).key[at]
        if key in closing:
            return not _says_more(doc, start, at)
        if table_of(doc).is_word[at] and spread(key)[0] in _VERBAL:
            return False
    return False


def names_more(doc: Doc, sentence: Span, before: tuple[int, int], start: int, end: int) -> bool:
    """Whether a piece only names more of what a result before it is of ("no damage to the hub *and the mast*"),
    at the end of its sentence or before "and" or "but"."""
    keys, is_word = table_of(doc).key, table_of(doc).is_word
    if keys[start] not in _JOINING:
        return False
    follows = next((at for at in range(end, sentence.end) if is_word[at]), sentence.end)
    if follows < sentence.end and keys[follows] not in ("and", "but"):
        return False
    named = [one for one in within(doc, MENTIONS, start, end) if one.label_ == TermKind.COMPONENT]
    owned = [one for one in within(doc, MENTIONS, *before) if one.label_ == TermKind.COMPONENT]
    if not named or not owned:
        return False
    inside = {at for one in named for at in range(one.start, one.end)}
    if any(
        is_word[at] and at not in inside and keys[at] not in _NAMING for at in range(start, end)
    ):
        return False
    opening = [
        cue
        for cue in within(doc, CUES, before[0], owned[0].start)
        if cue.label_ in _TELLING and cue._.cue.direction is not Direction.BACKWARD
    ]
    if not opening or any(is_word[at] for at in range(owned[-1].end, before[1])):
        return False
    # Nothing but flagged words and small ones between the result and what it is of.
    return not _VERBAL & set(spoken_words(doc, opening[-1].end, owned[0].start))


def _closes(doc: Doc, start: int, at: int) -> bool:
    """Whether a flagged word stands right behind the word that closes a list, and what follows only says that
    nothing was found ("no play, stiffness *or* cracks were found")."""
    named = [
        span for span in within(doc, MENTIONS, at + 1, at + 4) if span.label_ == TermKind.CONDITION
    ]
    if not named or _says_more(doc, start, at):
        return False
    after = [key_of(token) for token in doc[named[0].end : named[0].end + 2]]
    return after[:1] in (["was"], ["were"], ["is"], ["are"]) and after[1:] in _FOUND


def _says_more(doc: Doc, start: int, end: int) -> bool:
    """Whether a stretch holds a verb, a subject or a result: then it is more than a list."""
    words = spoken_words(doc, start, end)
    return bool(_VERBAL & set(words)) or any(
        cue.label_ in RESULTS and (cue.end >= end or table_of(doc).key[cue.end - 1] not in _PLACING)
        for cue in within(doc, CUES, start, end)
    )


def is_double(doc: Doc, sentence: Span, cue: Span) -> bool:
    """Whether a clause mark is the "that" of a denial denied ("there isn't a nut here *that's not* tight"),
    whose clause is then not one of its own."""
    if spread(table_of(doc).key[cue.start])[0] not in ("that", "which"):
        return False
    follows = spoken(doc[cue.start : min(cue.end + 1, sentence.end)])
    marks = [at for at in range(sentence.start, cue.start) if not table_of(doc).is_word[at]]
    start = marks[-1] + 1 if marks else sentence.start
    denials = [one for one in within(doc, CUES, start, cue.start) if one.label_ in DENIALS]
    return "not" in follows and bool(denials)
