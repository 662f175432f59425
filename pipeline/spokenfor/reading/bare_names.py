"""Full stops behind names alone: "Gearbox. Dry. No leaks." says of the gearbox what "Gearbox, dry, no leaks."
says. A recogniser sets the one or the other by the melody; who speaks tersely lets the voice fall at each.
"""

from __future__ import annotations

from collections.abc import Iterator

from spacy.language import Language
from spacy.tokens import Doc

from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.reading.document import table_of

_ENDS = frozenset(".?!")
_LEADING = frozenset(
    "a an the and then now next right okay ok so on to with same this that these those both all other "
    "side".split()
)
# What is said of all may be said of more than the last names.
_OF_ALL = frozenset("all both each every everything everyone".split())
# What begins with one of these names something of its own.
_OWN = frozenset("the a an my your our his her their this that these those".split())
_ASKING = frozenset("?!")
# Words that a piece may have to be no sentence of its own, and how many such pieces may follow each other.
_SHORT = 5
_PIECES = 4
_LONGEST_LIST = 12
_WIDEST = 5


@Language.factory("spokenfor_bare_names", default_config={"pack": "", "pause": 1.5})
def create_bare_names(nlp: Language, name: str, pack: str, pause: float) -> BareNames:
    return BareNames(load_pack(pack), pause)


class BareNames:
    """Makes commas (in `key`, not in the text) of the full stops between names alone and the short pieces that
    follow them and name nothing. One that a silence longer than `pause` seconds follows stays."""

    def __init__(self, pack: Pack, pause: float) -> None:
        self.pause = pause
        compiled = compile_terms(pack)
        self.names = set(compiled[TermKind.COMPONENT])
        self.places = set(compiled[TermKind.POSITION])
        self.known = self.names | set(compiled[TermKind.ZONE])

    def __call__(self, doc: Doc) -> Doc:
        table = table_of(doc)
        following = 0
        before: int | None = None
        for begin, end in self._pieces(doc):
            words = [at for at in range(begin, end) if table_of(doc).is_word[at]]
            goes_on = (
                before is not None
                and 0 < following <= _PIECES
                and 0 < len(words) <= _SHORT
                and (end == len(doc) or table.key[end] not in _ASKING)
                and table.key[before] == "."
                and table.goes_on(before, self.pause)
                and table.key[words[0]] not in _OF_ALL | _OWN
                and not self._named(doc, words, self.known)
            )
            if goes_on and before is not None:
                table.key[before] = ","
                following += 1
            else:
                following = int(self._is_bare(doc, words))
            before = end
        return doc

    @staticmethod
    def _pieces(doc: Doc) -> Iterator[tuple[int, int]]:
        """The sentences as the marks part them, each with where its mark stands."""
        keys, begin = table_of(doc).key, 0
        for at, key in enumerate(keys):
            if key in _ENDS:
                yield begin, at
                begin = at + 1
        if begin < len(keys):
            yield begin, len(keys)

    def _is_bare(self, doc: Doc, words: list[int]) -> bool:
        """Whether words only name components and places, and how many there are."""
        if not words or len(words) > _LONGEST_LIST:
            return False
        keys = table_of(doc).key
        named = self._named(doc, words, self.names)
        placed = self._named(doc, words, self.places)
        rest = [at for at in words if at not in named | placed and keys[at] not in _LEADING]
        return bool(named) and all(keys[at].isdecimal() for at in rest)

    @staticmethod
    def _named(doc: Doc, words: list[int], terms: set[str]) -> set[int]:
        """The words that are terms, the longest first."""
        stems = table_of(doc).stem
        found: set[int] = set()
        first = 0
        while first < len(words):
            for size in range(min(_WIDEST, len(words) - first), 0, -1):
                run = words[first : first + size]
                if run[-1] - run[0] == size - 1 and "".join(stems[at] for at in run) in terms:
                    found.update(run)
                    first += size - 1
                    break
            first += 1
        return found
