"""From a Transcript to a Doc of its words and marks, and a Doc with fewer marks or some that nobody heard."""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc
from spacy.vocab import Vocab

from spokenfor.models import Transcript, Word
from spokenfor.packs.wording import normal, singular, split_tokens
from spokenfor.reading.document import TokenTable, table_of

STOP = "."


def _is_word(text: str) -> bool:
    return text[0].isalnum() or text == "#"


def transcript_doc(vocab: Vocab, transcript: Transcript) -> Doc:
    """One Doc over all recordings, in time order; doubtful words are in it, marked."""
    heard: list[Word] = []
    first_words: list[int] = []
    texts: list[str] = []
    table = TokenTable([], [], [], [], [], [], [], [], [], [])
    for segment in transcript.segments:
        first_words.append(len(heard))
        for word in segment.words:
            for text in split_tokens(word.text):
                texts.append(text)
                table.start.append(word.start)
                table.end.append(word.end)
                table.probability.append(word.probability)
                table.word.append(len(heard))
                table.recording.append(segment.recording)
                table.doubtful.append(segment.doubtful)
            heard.append(word)
    table.is_word = [_is_word(text) for text in texts]
    table.key = [normal(text) for text in texts]
    for at in range(len(texts) - 2):
        if table.key[at] == "no" and texts[at + 1] == "." and texts[at + 2].isdecimal():
            table.key[at] = "number"
    table.stem = [singular(key) for key in table.key]
    table.added = [False] * len(texts)
    spaces = [one != other for one, other in pairwise(table.word)] + [False] * bool(texts)
    doc = Doc(vocab, words=texts, spaces=spaces)
    doc._.table, doc._.heard, doc._.repairs = table, heard, []
    doc._.first_words, doc._.proofs = first_words, transcript.proofs
    return doc


def without(doc: Doc, dropped: set[int]) -> Doc:
    """A Doc with no sentences yet, less some of its tokens."""
    kept = [at for at in range(len(doc)) if at not in dropped]
    spaces = [
        bool(doc[at].whitespace_) or (at + 1 in dropped and bool(doc[at + 1].whitespace_))
        for at in kept
    ]
    return _made_anew(doc, [(at, False) for at in kept], spaces)


def with_stops(doc: Doc, behind: set[int]) -> Doc:
    """A Doc with no sentences yet, with a full stop that nobody heard behind each of some tokens. It is marked
    `added`, and no evidence quotes it."""
    tokens: list[tuple[int, bool]] = []
    spaces: list[bool] = []
    for at in range(len(doc)):
        space = bool(doc[at].whitespace_)
        tokens.append((at, False))
        spaces.append(space and at not in behind)
        if at in behind:
            tokens.append((at, True))
            spaces.append(space)
    return _made_anew(doc, tokens, spaces)


def _made_anew(doc: Doc, tokens: list[tuple[int, bool]], spaces: list[bool]) -> Doc:
    """A Doc of tokens of another: each is that token itself, or (True) a full stop added behind it."""
    table = table_of(doc)
    # A mark that reading takes for another is written as that: ".sixty" would be a decimal fraction.
    marks = [key if not word else None for key, word in zip(table.key, table.is_word, strict=True)]
    texts = [STOP if added else marks[at] or doc[at].text for at, added in tokens]
    made = Doc(doc.vocab, words=texts, spaces=spaces)
    made._.table = TokenTable(
        start=[table.end[at] if added else table.start[at] for at, added in tokens],
        end=[table.end[at] for at, _ in tokens],
        probability=[table.probability[at] for at, _ in tokens],
        word=[table.word[at] for at, _ in tokens],
        recording=[table.recording[at] for at, _ in tokens],
        doubtful=[table.doubtful[at] for at, _ in tokens],
        is_word=[table.is_word[at] and not added for at, added in tokens],
        key=[STOP if added else table.key[at] for at, added in tokens],
        stem=[STOP if added else table.stem[at] for at, added in tokens],
        added=[added or table.added[at] for at, added in tokens],
    )
    made._.heard, made._.repairs = doc._.heard, []
    made._.first_words, made._.proofs = doc._.first_words, doc._.proofs
    return made
