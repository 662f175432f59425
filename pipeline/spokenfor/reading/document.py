"""From a Transcript to a spaCy Doc whose tokens carry the sound's times, and back to evidence.

Token extensions: `start`, `end` (seconds in `recording`), `probability` (0..1), `word` (index of the heard
word in the whole transcript), `doubtful`, `key` (normal form) and `stem` (normal form, singular).
Span extensions: `term` and `plural` on mentions, `state` and `aspect` (terms) on those groups, `repair` where
a mention was not heard exactly, `cue` on cues, `quantity` on quantities. Doc extensions: `heard` (the
words), `repairs`, `walk`, `statements`, `flagged_words`, and `by_token` (see mentions_by_token).
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


def mentions_by_token(doc: Doc) -> dict[int, Span]:
    """The mention that covers each token; made once per set of mentions."""
    index: dict[int, Span] | None = doc._.by_token
    if index is None:
        index = {at: span for span in doc.spans[MENTIONS] for at in range(span.start, span.end)}
        doc._.by_token = index
    return index


def set_mentions(doc: Doc, spans: list[Span]) -> None:
    """Sets the mentions, in order of place."""
    doc.spans[MENTIONS] = sorted(spans, key=lambda span: span.start)
    doc._.by_token = None


def within(doc: Doc, group: str, start: int, end: int) -> list[Span]:
    """Spans of a group that begin in start..end (end not included); groups are in order of place."""
    spans = doc.spans[group]
    first = bisect_left(spans, start, key=_span_start)
    last = bisect_left(spans, end, key=_span_start)
    return [spans[at] for at in range(first, last)]


def _span_start(span: Span) -> int:
    return span.start


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
