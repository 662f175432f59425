"""Where in a sentence the name of a thing can stand: what goes before it and what follows it."""

from __future__ import annotations

from bisect import bisect_right

from spacy.tokens import Doc

from spokenfor.packs.schema import CueCategory
from spokenfor.reading.document import CUES, is_position, table_of, within

_BEFORE = frozenset(
    "the a an this that these those our both all and or with on in of to at from now then okay so "
    "right well your my its it's next up down onto into check checking".split()
)
_VERBS = frozenset("is are was were it's that's they're looks look been feels".split())
_DEGREE = frozenset("very bit slightly badly quite a little".split())
_AFTER = frozenset(
    "is are was were has have looks look seems appears and or no nil on in at of that it's with not "
    "there's they're all as".split()
)


# Flagged words that say how a thing is and never stand behind a "no" ("no cracked"), beside those that end
# like one.
_HOW = frozenset(
    "bent slack flat loose worn torn missing low high tight dirty dry wet damp stiff seized broken out "
    "popped burnt open soft hard rough blocked empty split".split()
)


def says_how(label: str) -> bool:
    """Whether a flagged word says how a thing is ("cracked", "bent"), not what is on it ("crack")."""
    last = label.split()[-1]
    return last in _HOW or last.endswith("ed")


def behind_verb(doc: Doc, start: int) -> bool:
    """Whether token `start` stands right behind a form of to be or the like, or a word of degree there."""
    before = table_of(doc).key[start - 1] if start > table_of(doc).first[start] else ""
    return before in _VERBS or before in _DEGREE


def opens(doc: Doc, start: int) -> bool:
    """Whether a name may begin at token `start`: at a clause's beginning, or behind a word that such a
    name follows."""
    if start == table_of(doc).first[start]:
        return True
    before = table_of(doc).key[start - 1]
    return not before[0].isalnum() or before in _BEFORE or is_position(doc, start - 1)


def closes(doc: Doc, end: int) -> bool:
    """Whether a name may end before token `end`: at a clause's end, or before a verb, a link or a cue."""
    if end >= table_of(doc).after[end - 1]:
        return True
    after = table_of(doc).key[end]
    return not after[0].isalnum() or after in _AFTER or bool(within(doc, CUES, end, end + 1))


def denied(doc: Doc, start: int) -> bool:
    """Whether the words right before token `start` deny what follows ("no", "free of", "any")."""
    starts, spans = (doc._.groups or {}).get(CUES, ([], []))
    at = bisect_right(starts, start) - 1
    while at >= 0 and start - spans[at].start <= 6:
        cue = spans[at]._.cue
        if spans[at].end == start and cue.category is CueCategory.ABSENT:
            return bool(cue.direction.value in ("forward", "both"))
        at -= 1
    return start > 0 and table_of(doc).key[start - 1] in ("no", "any", "nil", "or", "without")
