"""Where sentences end that were written without full stops: captions made elsewhere may have none, and in noise
a recogniser leaves them out for minutes.

A narration without marks would be one sentence, in which each word may be said of each other. Only stretches
are touched that no marked narration has: fifty words with no full stop, thirty with no mark at all, or a
recording that has hardly any. What is set is for reading alone: what was heard stays, no evidence quotes it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from spacy.language import Language
from spacy.tokens import Doc

from spokenfor.packs.load import Pack, load_pack
from spokenfor.reading.document import TokenTable, table_of
from spokenfor.reading.heard_doc import STOP, with_stops
from spokenfor.reading.sentence_ends import Pieces, begins_told, weights

_ENDS = frozenset(".?!")
_MARKS = frozenset(",;:")


@dataclass(frozen=True)
class UnmarkedSettings:
    """What is taken for unmarked. No sentence of the 6,212 of the development part is longer than `most` words,
    or has more than `most_bare` with no mark between them."""

    most: int = 50
    most_bare: int = 30
    sentence: int = 40
    """Words for each full stop, above which a recording has none to speak of."""

    recording: int = 100
    """Words from which that can be said."""

    least: int = 6
    """Words of a stretch of such a recording that is looked at."""

    longest: int = 60
    """Words of a sentence at the most: a longer one is parted where an end is least improbable."""

    pauses: tuple[tuple[float, float], ...] = ((0.45, 2.5), (0.3, 1.2), (0.0, -0.7))
    """Log odds of an end that a silence of at least so many seconds adds (*common practice*: people pause where
    sentences end, and elsewhere too, so it weighs less than the words)."""

    paused: float = 0.05
    """Share of the words behind which somebody pauses for the second of these at least; where fewer are, the
    times are no times of words (captions), and say nothing."""


@dataclass(frozen=True)
class _Stretch:
    """Tokens start..end between two full stops, long pauses or recordings."""

    start: int
    end: int
    words: list[int]
    bare: int


@Language.factory("spokenfor_unmarked", default_config={"pack": "", "pause": 1.5})
def create_unmarked(nlp: Language, name: str, pack: str, pause: float) -> Unmarked:
    weights()
    return Unmarked(load_pack(pack), pause, UnmarkedSettings())


class Unmarked:
    """Sets full stops where sentences probably end in stretches without marks. A silence longer than `pause`
    seconds ends a stretch."""

    def __init__(self, pack: Pack, pause: float, settings: UnmarkedSettings) -> None:
        self.pause, self.settings = pause, settings
        self.pieces = Pieces(pack)

    def __call__(self, doc: Doc) -> Doc:
        table = table_of(doc)
        stretches = list(self._stretches(table))
        lacking = self._lacking(table, stretches)
        unmarked = [
            one
            for one in stretches
            if self._is_unmarked(one, table.recording[one.start] in lacking)
        ]
        timed = self._timed(table) if unmarked else set[int]()
        behind: set[int] = set()
        for one in unmarked:
            behind |= self._ends(table, one, table.recording[one.start] in timed)
        marked = {at for at in behind if not table.is_word[at + 1]}
        for at in marked:
            if table.key[at + 1] in _MARKS:
                table.key[at + 1] = STOP
        return with_stops(doc, behind - marked) if behind - marked else doc

    def _stretches(self, table: TokenTable) -> Iterator[_Stretch]:
        start, words, bare, run = 0, list[int](), 0, 0
        for at in range(len(table.key)):
            if table.is_word[at]:
                words.append(at)
                run += 1
                bare = max(bare, run)
            else:
                run = 0
            last = at + 1 == len(table.key)
            if last or table.key[at] in _ENDS or not table.goes_on(at, self.pause):
                if words:
                    yield _Stretch(start, at + 1, words, bare)
                start, words, bare, run = at + 1, [], 0, 0

    def _lacking(self, table: TokenTable, stretches: Sequence[_Stretch]) -> set[int]:
        """The recordings that have hardly any full stops."""
        words: Counter[int] = Counter()
        stops: Counter[int] = Counter()
        for one in stretches:
            words[table.recording[one.start]] += len(one.words)
            stops[table.recording[one.start]] += table.key[one.end - 1] in _ENDS
        return {
            recording
            for recording, count in words.items()
            if count >= self.settings.recording
            and count > self.settings.sentence * stops[recording]
        }

    def _is_unmarked(self, one: _Stretch, lacking: bool) -> bool:
        many = len(one.words)
        if lacking and many >= self.settings.least:
            return True
        return many > self.settings.most or one.bare > self.settings.most_bare

    def _timed(self, table: TokenTable) -> set[int]:
        """The recordings whose words have times of their own."""
        words = [at for at, is_word in enumerate(table.is_word) if is_word]
        paused: Counter[int] = Counter()
        for one, other in pairwise(words):
            silence = table.start[other] - table.end[one]
            paused[table.recording[one]] += silence >= self.settings.pauses[1][0]
        said = Counter(table.recording[at] for at in words)
        return {one for one, count in said.items() if paused[one] >= self.settings.paused * count}

    def _pause(self, table: TokenTable, behind: int, before: int) -> float:
        """Log odds that the silence between two words adds."""
        silence = table.start[before] - table.end[behind]
        return next((odds for least, odds in self.settings.pauses if silence >= least), 0.0)

    def _ends(self, table: TokenTable, one: _Stretch, timed: bool) -> set[int]:
        """The words of a stretch behind which a sentence probably ends."""
        pieces = self.pieces.of([table.key[at] for at in one.words])

        def before(at: int) -> int:
            return one.words[pieces[at].start - 1]

        def paused(at: int) -> float:
            return self._pause(table, before(at), one.words[pieces[at].start]) if timed else 0.0

        longest = self.settings.longest
        return {before(at) for at in begins_told(pieces, weights(), more=paused, longest=longest)}
