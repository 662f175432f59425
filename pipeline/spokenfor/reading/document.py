"""From a Transcript to a spaCy Doc whose tokens carry the sound's times, and back to evidence.

Token extensions: `start`, `end` (seconds in `recording`), `probability` (0..1), `word` (index of the heard
word in the whole transcript), `doubtful`, `key` (normal form) and `stem` (normal form, singular).
Span extensions: `term` and `plural` on mentions, `state` and `aspect` (terms) on those groups, `repair` where
a mention was not heard exactly, `cue` on cues, `quantity` on quantities. Doc extensions: `heard` (the
words), `repairs`, `walk`, `statements`, `flagged_words`, `by_token` and `groups` (see
mentions_by_token and within).
"""

from __future__ import annotations

from bisect import bisect_left
from itertools import pairwise

from spacy.tokens import Doc, Span, Token
from spacy.vocab import Vocab

from spokenfor.models import Evidence, Transcript, Word
from spokenfor.packs.terms import TermKind
from spokenfor.packs.wording import normal, singular, split_tokens

MENTIONS, STATES, ASPECTS = "mentions", "states", "aspects"
CUES, QUANTITIES, STATEMENTS = "cues", "quantities", "statements"

for _name in ("start", "end", "probability", "word", "recording", "doubtful", "key", "stem"):
    Token.set_extension(_name, default=None, force=True)
for _name in ("term", "state", "aspect", "plural", "repair", "cue", "quantity", "statement"):
    Span.set_extension(_name, default=None, force=True)
Doc.set_extension("heard", default=None, force=True)
Doc.set_extension("by_token", default=None, force=True)
Doc.set_extension("groups", default=None, force=True)
Doc.set_extension("repairs", default=None, force=True)
Doc.set_extension("walk", default=None, force=True)
Doc.set_extension("statements", default=None, force=True)
Doc.set_extension("flagged_words", default=None, force=True)


def transcript_doc(vocab: Vocab, transcript: Transcript) -> Doc:
    """One Doc over all recordings, in time order; doubtful words are in it, marked."""
    heard: list[Word] = []
    texts: list[str] = []
    origin: list[tuple[int, int, bool]] = []
    for segment in transcript.segments:
        for word in segment.words:
            for text in split_tokens(word.text):
                texts.append(text)
                origin.append((len(heard), segment.recording, segment.doubtful))
            heard.append(word)
    spaces = [one[0] != other[0] for one, other in pairwise(origin)] + [False] * bool(origin)
    doc = Doc(vocab, words=texts, spaces=spaces)
    doc._.heard = heard
    doc._.repairs = []
    for token, (index, recording, doubtful) in zip(doc, origin, strict=True):
        word = heard[index]
        token._.start, token._.end, token._.probability = word.start, word.end, word.probability
        token._.word, token._.recording, token._.doubtful = index, recording, doubtful
        token._.key = normal(token.text)
        token._.stem = singular(token._.key)
    for token in doc[:-2]:
        if token._.key == "no" and doc[token.i + 1].text == "." and doc[token.i + 2].is_digit:
            token._.key = token._.stem = "number"
    return doc


def is_word(token: Token) -> bool:
    """Whether a token is a word or a number (not a mark)."""
    return bool(token._.key[0].isalnum())


def set_spans(doc: Doc, group: str, spans: list[Span]) -> None:
    """Sets a span group, in order of place, and the index that `within` looks into."""
    ordered = sorted(spans, key=lambda span: span.start)
    doc.spans[group] = ordered
    doc._.groups = {**(doc._.groups or {}), group: ([span.start for span in ordered], ordered)}
    if group == MENTIONS:
        doc._.by_token = {at: span for span in ordered for at in range(span.start, span.end)}


def mentions_by_token(doc: Doc) -> dict[int, Span]:
    """The mention that covers each token."""
    index: dict[int, Span] = doc._.by_token
    return index


def within(doc: Doc, group: str, start: int, end: int) -> list[Span]:
    """Spans of a group that begin in start..end (end not included), in order of place."""
    starts, spans = (doc._.groups or {}).get(group, ((), ()))
    return list(spans[bisect_left(starts, start) : bisect_left(starts, end)])


def is_position(doc: Doc, index: int) -> bool:
    """Whether a token lies in the mention of a position."""
    mention = mentions_by_token(doc).get(index)
    return mention is not None and mention.label_ == TermKind.POSITION.value


def evidence(doc: Doc, start: int, end: int) -> Evidence:
    """Evidence for the tokens start..end (end not included), which lie in one recording. Whole heard
    words are quoted; `text` has the repairs made."""
    first, last = doc[start]._.word, doc[end - 1]._.word
    while start > 0 and doc[start - 1]._.word == first:
        start -= 1
    while end < len(doc) and doc[end]._.word == last:
        end += 1
    words = doc._.heard[first : last + 1]
    return Evidence(
        recording=doc[start]._.recording,
        start=words[0].start,
        end=max(word.end for word in words),
        heard=" ".join(word.text for word in words),
        text=_repaired_text(doc, start, end),
    )


def _repaired_text(doc: Doc, start: int, end: int) -> str:
    replaced: dict[int, Span] = {
        span.start: span for span in within(doc, MENTIONS, start, end) if span._.repair is not None
    }
    text = ""
    index = start
    while index < end:
        span = replaced.get(index)
        if span is not None:
            text += span._.repair.became + doc[span.end - 1].whitespace_
            index = span.end
        else:
            text += doc[index].text_with_ws
            index += 1
    return text.strip()
