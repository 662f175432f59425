"""Words that lead into a sentence and say nothing of it: "okay, nose cone", "right, so the tyre", "well, ...".

*Common practice* of spoken English. "Good, the brake" praises what was said before, or nothing: what follows
is only named. "Right," before a name is no side where nobody has just told the left one so ("left, dry. Right,
dry"): a side that is meant stands by its name ("right tyre"), with no mark between.
"""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc

from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.reading.document import TokenTable, table_of
from spokenfor.reading.heard_doc import without

_ENDS = frozenset(".?!")
_LEADS = {
    ("okay", "then"),
    ("alright", "then"),
    ("moving", "on"),
    ("right", "then"),
    ("right", "so"),
}
"""Say nothing before a comma, whatever follows."""

_WITH_NO_MARK = {("okay",), ("ok",), ("alright",)}
_BEFORE_NAMES = _WITH_NO_MARK | {
    ("well",),
    ("all", "right"),
    ("good",),
    ("great",),
    ("lovely",),
    ("right",),
    ("yeah",),
    ("yep",),
    ("yes",),
    ("aye",),
}
"""Say nothing before a comma and a name, or one who goes on ("no chafing. *Okay, a bit*" admits some)."""

_ANSWERING = frozenset("yeah yep yes aye".split())
_GOES_ON = frozenset(
    "so now then next i i'm i'll we we're we'll let's if when that's this here here's there".split()
)
_DETERMINERS = frozenset(
    "the a an this that these those my our your here's that's there's and now next so then number is "
    "are".split()
)
_SIDE = {"right": "left"}
_WIDEST = 5
_LONGEST = 2
_SENTENCES = 3


@Language.factory("spokenfor_leads", default_config={"pack": ""})
def create_leads(nlp: Language, name: str, pack: str) -> Leads:
    return Leads(load_pack(pack))


class Leads:
    """Gives a Doc without the words that only lead into a sentence, and the commas behind them."""

    def __init__(self, pack: Pack) -> None:
        compiled = compile_terms(pack)
        self.names = set(compiled[TermKind.COMPONENT]) | set(compiled[TermKind.ZONE])
        self.places = set(compiled[TermKind.POSITION])

    def __call__(self, doc: Doc) -> Doc:
        table = table_of(doc)
        dropped: set[int] = set()
        starts = [
            at
            for at in range(len(doc) - 2)
            if at == 0
            or table.key[at - 1] in _ENDS
            or table.recording[at] != table.recording[at - 1]
        ]
        for number, start in enumerate(starts):
            before = starts[max(0, number - _SENTENCES) : number]
            after = self._after_lead(table, start, before)
            if after is not None:
                dropped |= set(range(start, after))
        return without(doc, dropped) if dropped else doc

    def _after_lead(self, table: TokenTable, start: int, before: list[int]) -> int | None:
        """The token after a lead that a sentence begins with; None where it has none."""
        keys = table.key
        for size in range(_LONGEST, 0, -1):
            words, after = tuple(keys[start : start + size]), start + size
            marked = keys[after] == ","
            after += marked
            if after >= len(keys) or not table.is_word[after]:
                continue
            if marked and words in _LEADS:
                return after
            bare = words in _WITH_NO_MARK and keys[after] != "then"
            if (words in _BEFORE_NAMES and (marked or bare)) and self._says_nothing(
                table, words[-1], after, before
            ):
                return after
        return None

    def _says_nothing(self, table: TokenTable, word: str, after: int, before: list[int]) -> bool:
        keys = table.key
        if word in _ANSWERING and before and "?" in keys[before[-1] : after]:
            return False
        if word in _SIDE and any(keys[one] == _SIDE[word] for one in before):
            return False
        return self._goes_on(table, after)

    def _goes_on(self, table: TokenTable, at: int) -> bool:
        """Whether a sentence begins behind a lead: with a name, or as one who goes on begins."""
        return table.key[at] in _GOES_ON or self._opens_name(table, at)

    def _opens_name(self, table: TokenTable, at: int) -> bool:
        """Whether a name begins at a token or behind what determines it, or a place that something follows
        ("number one *system*")."""
        placed = False
        while at < len(table.key) and (self._is_place(table, at) or table.key[at] in _DETERMINERS):
            placed |= self._is_place(table, at)
            at += 1
        if at == len(table.key) or not table.is_word[at]:
            return False
        stems = table.stem[at : at + _WIDEST]
        return placed or any(
            "".join(stems[:size]) in self.names for size in range(1, len(stems) + 1)
        )

    def _is_place(self, table: TokenTable, at: int) -> bool:
        return table.stem[at] in self.places or table.key[at].isdecimal()
