"""Hums, dots and words said twice while somebody thinks: "number, er, two", "the... the tyre". They say
nothing, and a name that one of them parts is still a name.

A hum between two places stays, as it gives up the first of them ("the left, um, the right one";
corrections.py). *Common practice* of spoken English. What was heard stays, and is quoted with its hums.
"""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc

from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.reading.document import TokenTable, table_of
from spokenfor.reading.heard_doc import STOP, without

HUMS = frozenset("um umm uhm uh er err erm hm hmm".split())
_ENDS = frozenset(".?!")
_DOTS = frozenset(".\u2026")
_COMMA = frozenset(",;:")
_DASH = frozenset("-\u2013\u2014")
_LEADING = frozenset(
    "the a an my your our its this these those that of on in at to for with from by number is are was were has "
    "have had got it they there very quite all both about just".split()
)
"""Words behind which nothing ends, so that a comma before a hum parts nothing there."""

_WIDEST = 3
"""Words of a name at either side of a hum."""

_ANSWERS = frozenset("no nope nah yes yeah yep aye".split())
_OPENS_AGAIN = frozenset("the it's its a on and number".split())
_SMALL = frozenset(
    "the a an and is are was it's its this of on in at to for with from i i'm i've we there's that's".split()
)


@Language.factory("spokenfor_hesitations", default_config={"pack": ""})
def create_hesitations(nlp: Language, name: str, pack: str) -> Hesitations:
    return Hesitations(load_pack(pack))


class Hesitations:
    """Gives a Doc without hums, without the commas that only stand around them, with a comma for dots before
    which nothing ends, and with small words once that were said twice."""

    def __init__(self, pack: Pack) -> None:
        compiled = compile_terms(pack)
        self.names = set(compiled[TermKind.COMPONENT])
        self.places = set(compiled[TermKind.POSITION])
        self.faults = set(compiled[TermKind.CONDITION])

    def __call__(self, doc: Doc) -> Doc:
        dots = self._dots(doc)
        doc = without(doc, dots) if dots else doc
        table = table_of(doc)
        dropped = self._said_twice(table)
        at = 0
        while at < len(doc):
            if table.key[at] in HUMS:
                end = self._end_of_hums(table, at)
                if not self._gives_up(table, at, end):
                    dropped |= set(range(at, end)) | self._around(table, at, end)
                at = end
            at += 1
        return without(doc, dropped) if dropped else doc

    def _in_one_name(self, table: TokenTable, left: int, right: int) -> bool:
        """Whether the words up to one token and those from another are one name ("aileron, um, hinge")."""
        stems = table.stem
        return any(
            "".join([*stems[max(0, left - before) : left + 1], *stems[right : right + behind]])
            in self.names
            for before in range(_WIDEST)
            for behind in range(1, _WIDEST + 1)
            if left >= before
        )

    def _dots(self, doc: Doc) -> set[int]:
        """The dots of an ellipsis; the first of them becomes a comma where a small letter follows (somebody
        thinks), a full stop elsewhere."""
        table, dropped = table_of(doc), set[int]()
        at = 0
        while at < len(doc):
            end = at
            while end < len(doc) and table.key[end] in _DOTS and table.word[end] == table.word[at]:
                end += 1
            if end - at > 1 or (end > at and table.key[at] != STOP):
                goes_on = end < len(doc) and doc[end].text[0].islower()
                before = at - 2
                while before in dropped:
                    before -= 1
                opens = before < 0 or table.key[before] in _ENDS
                goes_on &= not (opens and at > 0 and table.key[at - 1] in _ANSWERS)
                table.key[at] = "," if goes_on else STOP
                dropped |= set(range(at + 1, end))
                leads = at > 0 and table.key[at - 1] in _LEADING
                if goes_on and (leads or self._in_one_name(table, at - 1, end)):
                    dropped.add(at)
            at = max(end, at + 1)
        return dropped

    def _said_twice(self, table: TokenTable) -> set[int]:
        """What stands right before itself: one word ("the the tyre"), or two of which one is small ("servo is
        servo is"). Numbers and letters are told one by one and may be; no flagged word is dropped."""
        keys, dropped = [*table.key, "", "", ""], set[int]()
        for at in range(len(keys) - 4):
            one, other = keys[at], keys[at + 1]
            if one != other and (one != keys[at + 2] or other != keys[at + 3]):
                continue
            if table.recording[at] != table.recording[at + 1] or not table.is_word[at]:
                continue
            if one == other:
                told = one.isdecimal() or (len(one) == 1 and one not in _SMALL)
                dropped |= set() if told or table.stem[at] in self.faults else {at}
            elif one in _SMALL or other in _SMALL:
                dropped |= set() if table.stem[at + 1] in self.faults else {at, at + 1}
        return dropped

    @staticmethod
    def _end_of_hums(table: TokenTable, start: int) -> int:
        """The token after a run of hums, with the commas between them."""
        end = start + 1
        while end < len(table.key):
            after = end + (table.key[end] in _COMMA | _DASH)
            if after >= len(table.key) or table.key[after] not in HUMS:
                break
            end = after + 1
        return end

    def _gives_up(self, table: TokenTable, start: int, end: int) -> bool:
        """Whether hums stand between two places or two numbers."""
        left, right = start - 1, end
        while left >= 0 and (table.key[left] in _OPENS_AGAIN or not table.is_word[left]):
            left -= 1
        while right < len(table.key) and (
            table.key[right] in _OPENS_AGAIN or not table.is_word[right]
        ):
            right += 1
        if left < 0 or right >= len(table.key):
            return False
        return all(
            table.stem[at] in self.places or table.key[at].isdecimal() for at in (left, right)
        )

    def _around(self, table: TokenTable, start: int, end: int) -> set[int]:
        """The marks around hums that part nothing without them."""
        dropped = set[int]()
        before = table.key[start - 1] if start else STOP
        needless = _COMMA | _DASH | (_ENDS if before in _ENDS else frozenset())
        if end < len(table.key) and table.key[end] in needless:
            dropped.add(end)
        if before in _COMMA | _DASH and start > 1:
            word, after = table.key[start - 2], end + bool(dropped)
            leads = word in _LEADING or word.endswith(("'s", "'re", "'ve"))
            if leads or self._in_one_name(table, start - 2, after):
                dropped.add(start - 1)
        return dropped
