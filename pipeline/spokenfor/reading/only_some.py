"""Whether only some of several are meant: "*two of the three* servos are dry", "*most of* the nuts are tight".

All words: *common practice* of English (quantifiers). Which of them are meant nobody said, so none is ticked.
"""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.reading.document import is_position, table_of

_SKIPPED = frozenset("the these those my your our its them of up".split())
_SOME = frozenset("most some half several few couple majority many lot lots part bulk".split())
_ALL = frozenset("all every each".split())
LEAVE_OUT = frozenset("most half majority bulk".split())
"""Those of which good is said, and no good of the rest."""
_REACH = 6


def only_some(doc: Doc, mention: Span, lines: int) -> bool:
    """Whether the words before a name say that fewer than all are meant, the sheet having so many lines of it
    here."""
    meant, of = counted(doc, mention)
    if meant is None:
        return False
    return meant == 0 or meant < (of or lines)


def counted(doc: Doc, mention: Span) -> tuple[int | None, int | None]:
    """How many of how many a name in the plural is said of: (2, 3) for "two of the three servos", (2, None) for
    "two servos", (0, None) for "most of the servos"; (None, None) where nothing of the kind is said, or all
    are."""
    keys = table_of(doc).key
    numbers: list[int] = []
    apart = False
    at, first = mention.start - 1, table_of(doc).first[mention.start]
    while at >= max(first, mention.start - _REACH):
        key = keys[at]
        if key == "both":
            return 2, None
        if key in _ALL or is_position(doc, at):
            # "All but one of the servos" leaves one out.
            left_out = keys[at + 1] == "but" if key in _ALL else False
            return (0, None) if left_out else (None, None)
        if key in _SOME:
            return 0, None
        if key.isdecimal():
            numbers.insert(0, int(key))
        elif key not in _SKIPPED and key != "but":
            break
        apart |= key == "of"
        at -= 1
    if len(numbers) == 2 and apart:
        return numbers[0], numbers[1]
    if len(numbers) == 1 and (apart or mention._.plural):
        return numbers[0], None
    return None, None
