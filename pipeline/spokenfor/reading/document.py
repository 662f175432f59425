"""A spaCy Doc whose tokens carry the sound's times (heard_doc.py makes it), and from it back to evidence.

Token extensions: `start`, `end` (seconds in `recording`), `probability` (0..1), `word` (index of the heard
word in the whole transcript), `doubtful`, `key` (normal form) and `stem` (normal form, singular).
Span extensions: `term` and `plural` on mentions, `state` and `aspect` (terms) on those groups, `repair` where
a mention was not heard exactly, `cue` on cues, `quantity` on quantities. Doc extensions: `table` (what the
token extensions look into; loops ask `table_of` and `key_of`, which cost less), `heard` (the words),
`first_words` (index of the first word of each segment), `proofs` (what the sound was asked), `repairs`,
`word_repairs` (by token), `walk`, `sure_side` (by sentence), `statements`, `flagged_words`, `by_token` and
`groups` (see mentions_by_token and within).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import numpy as np
from spacy.attrs import SENT_START
from spacy.tokens import Doc, Span, Token

from spokenfor.models import Evidence, Repair
from spokenfor.packs.terms import TermKind

MENTIONS, STATES, ASPECTS = "mentions", "states", "aspects"
CUES, QUANTITIES, STATEMENTS = "cues", "quantities", "statements"

for _name in ("term", "state", "aspect", "plural", "repair", "cue", "quantity", "statement"):
    Span.set_extension(_name, default=None, force=True)
# What every loop asks for lies in `user_data` under names of our own: an underscore attribute of spaCy's
# costs as much as the rest of a look-up, and there are some hundred thousand in an hour of narration.
_TABLE, _BY_TOKEN, _GROUPS = "spokenfor_table", "spokenfor_by_token", "spokenfor_groups"


def _kept(name: str) -> dict[str, Callable[..., Any]]:
    def get(doc: Doc) -> Any:
        return doc.user_data.get(name)

    def keep(doc: Doc, value: Any) -> None:
        doc.user_data[name] = value

    return {"getter": get, "setter": keep}


Doc.set_extension("table", force=True, **_kept(_TABLE))
Doc.set_extension("heard", default=None, force=True)
Doc.set_extension("first_words", default=None, force=True)
Doc.set_extension("proofs", default=None, force=True)
Doc.set_extension("by_token", force=True, **_kept(_BY_TOKEN))
Doc.set_extension("groups", force=True, **_kept(_GROUPS))
Doc.set_extension("repairs", default=None, force=True)
Doc.set_extension("word_repairs", default=None, force=True)
Doc.set_extension("walk", default=None, force=True)
Doc.set_extension("sure_side", default=None, force=True)
Doc.set_extension("statements", default=None, force=True)
Doc.set_extension("flagged_words", default=None, force=True)


@dataclass
class TokenTable:
    """What is known of each token, a list for each thing; `added` marks those that nobody heard (unmarked.py),
    `first` and `after` bound its sentence."""

    start: list[float]
    end: list[float]
    probability: list[float]
    word: list[int]
    recording: list[int]
    doubtful: list[bool]
    is_word: list[bool]
    key: list[str]
    stem: list[str]
    added: list[bool]
    first: list[int] = field(default_factory=list)
    after: list[int] = field(default_factory=list)

    def goes_on(self, at: int, pause: float) -> bool:
        """Whether the next token was said in the same recording, as surely, after no more than a pause of so
        many seconds."""
        return (
            self.recording[at] == self.recording[at + 1]
            and self.doubtful[at] == self.doubtful[at + 1]
            and self.start[at + 1] - self.end[at] <= pause
        )


def _column(name: str) -> Callable[[Token], Any]:
    return lambda token: getattr(token.doc.user_data[_TABLE], name)[token.i]


for _name in ("start", "end", "probability", "word", "recording", "doubtful", "key", "stem"):
    Token.set_extension(_name, getter=_column(_name), force=True)


def table_of(doc: Doc) -> TokenTable:
    """What is known of each token of a Doc."""
    table: TokenTable = doc.user_data[_TABLE]
    return table


def key_of(token: Token) -> str:
    """Normal form of a token."""
    return table_of(token.doc).key[token.i]


def set_sentences(doc: Doc, starts: list[bool]) -> None:
    """Sets where sentences start, for spaCy and in the table."""
    table = table_of(doc)
    edges = [at for at, start in enumerate(starts) if start]
    if starts:
        # Token.is_sent_start looks through the whole Doc at each call; the array form does not.
        marks = np.where(starts, 1, -1).astype(np.uint64).reshape(-1, 1)
        doc.from_array([SENT_START], marks)  # type: ignore[arg-type]
    for first, after in pairwise([*edges, len(starts)]):
        table.first += [first] * (after - first)
        table.after += [after] * (after - first)


def is_word(token: Token) -> bool:
    """Whether a token is a word or a number (not a mark)."""
    return table_of(token.doc).is_word[token.i]


def set_spans(doc: Doc, group: str, spans: list[Span]) -> None:
    """Sets a span group, in order of place, and the index that `within` looks into."""
    ordered = sorted(spans, key=lambda span: span.start)
    doc.spans[group] = ordered
    doc._.groups = {**(doc._.groups or {}), group: ([span.start for span in ordered], ordered)}
    if group == MENTIONS:
        doc._.by_token = {at: span for span in ordered for at in range(span.start, span.end)}


def tokens_of(spans: Iterable[Span]) -> set[int]:
    """The tokens that lie in any of some spans."""
    return {at for span in spans for at in range(span.start, span.end)}


def spans_by_token(spans: Iterable[Span]) -> dict[int, list[Span]]:
    """The spans that each token lies in, in their order; tokens in none are left out."""
    found: dict[int, list[Span]] = {}
    for span in spans:
        for at in range(span.start, span.end):
            found.setdefault(at, []).append(span)
    return found


def put_mentions(doc: Doc, added: Sequence[Span]) -> None:
    """Adds mentions, each in place of those that it overlaps."""
    taken = tokens_of(added)
    kept = [span for span in doc.spans[MENTIONS] if taken.isdisjoint(range(span.start, span.end))]
    set_spans(doc, MENTIONS, [*kept, *added])


def mentions_by_token(doc: Doc) -> dict[int, Span]:
    """The mention that covers each token."""
    index: dict[int, Span] = doc.user_data[_BY_TOKEN]
    return index


_NONE: dict[str, tuple[list[int], list[Span]]] = {}
_EMPTY: tuple[list[int], list[Span]] = ([], [])


def within(doc: Doc, group: str, start: int, end: int) -> list[Span]:
    """Spans of a group that begin in start..end (end not included), in order of place."""
    groups: dict[str, tuple[list[int], list[Span]]] = doc.user_data.get(_GROUPS, _NONE)
    starts, spans = groups.get(group, _EMPTY)
    first = bisect_left(starts, start)
    if first == len(starts) or starts[first] >= end:
        return []
    return spans[first : bisect_left(starts, end, first)]


def mentioned(doc: Doc, kind: TermKind, start: int, end: int) -> list[Span]:
    """Mentions of one kind that begin in start..end (end not included), in order of place."""
    name = str(kind)
    return [span for span in within(doc, MENTIONS, start, end) if span.label_ == name]


def is_position(doc: Doc, index: int) -> bool:
    """Whether a token lies in the mention of a position."""
    mention = mentions_by_token(doc).get(index)
    return mention is not None and mention.label_ == TermKind.POSITION


def is_one_of(doc: Doc, index: int) -> bool:
    """Whether a token is the "one" that stands for a thing named before ("the middle *one*"), not a number."""
    key = table_of(doc).key[index]
    return key in ("1", "1's", "one's", "ones") and not is_position(doc, index)


def is_place(doc: Doc, index: int) -> bool:
    """Whether a token lies in the mention of a position or a zone."""
    mention = mentions_by_token(doc).get(index)
    return mention is not None and mention.label_ in (TermKind.POSITION.value, TermKind.ZONE.value)


def evidence(doc: Doc, start: int, end: int) -> Evidence:
    """Evidence for the tokens start..end (end not included), which lie in one recording. Whole heard
    words are quoted; `text` has the repairs made."""
    table = table_of(doc)
    word = table.word
    first, last = word[start], word[end - 1]
    while start > 0 and word[start - 1] == first:
        start -= 1
    while end < len(word) and word[end] == last:
        end += 1
    words = doc._.heard[first : last + 1]
    return Evidence(
        recording=table.recording[start],
        start=words[0].start,
        end=max(word.end for word in words),
        heard=" ".join(word.text for word in words),
        text=_repaired_text(doc, start, end) or " ".join(word.text for word in words),
    )


def _repaired_text(doc: Doc, start: int, end: int) -> str:
    """The words start..end as repaired; empty where nothing was."""
    words: dict[int, Repair] = doc._.word_repairs or {}
    if not words and not doc._.repairs:
        return ""
    replaced: dict[int, Span] = {
        span.start: span for span in within(doc, MENTIONS, start, end) if span._.repair is not None
    }
    text = ""
    index = start
    if not replaced and not any(at in words for at in range(start, end)):
        return ""
    while index < end:
        span = replaced.get(index)
        if span is not None:
            text += span._.repair.became + doc[span.end - 1].whitespace_
            index = span.end
        elif table_of(doc).added[index]:
            text += doc[index].whitespace_
            index += 1
        else:
            said = words[index].became if index in words else doc[index].text
            text += said + doc[index].whitespace_
            index += 1
    return text.strip()
