"""The words of a sentence as numbers are looked for in them: marks read for what they mean."""

from __future__ import annotations

from dataclasses import dataclass

from spacy.tokens import Doc, Span

from spokenfor.reading.document import table_of
from spokenfor.reading.measures import Measure
from spokenfor.reading.number_names import BREAK

_HYPHENS = frozenset("-\u2010\u2011\u2013")
_KEPT = frozenset('/%\u00b0"\u2033\u00b1')
# Units of one letter stand right behind figures ("24V"); by itself a letter is a name ("V belt").
_LETTERS = ("v", "l")
REGION_ENDS = (BREAK, "but", "and", "though", "although")


@dataclass(frozen=True)
class SentenceWords:
    """The words of a sentence and the tokens (first, after) of each."""

    doc: Doc
    words: list[str]
    tokens: list[tuple[int, int]]

    def tokens_of(self, first: int, after: int) -> tuple[int, int]:
        return self.tokens[first][0], self.tokens[after - 1][1]

    def region(self, one: Measure) -> tuple[int, int]:
        """The words around a measure up to a mark, an "and" or a "but"."""
        first, after = one.whole
        while first > 0 and self.words[first - 1] not in REGION_ENDS:
            first -= 1
        while after < len(self.words) and self.words[after] not in REGION_ENDS:
            after += 1
        return first, after


def sentence_words(sentence: Span) -> SentenceWords:
    """The words of a sentence: lower case, hyphens read for what they mean, every other mark a break."""
    doc = sentence.doc
    words: list[str] = []
    tokens: list[tuple[int, int]] = []
    at = sentence.start
    while at < sentence.end:
        token = doc[at]
        text, end = token.lower_, at + 1
        tight = at > sentence.start and not doc[at - 1].whitespace_
        following = doc[end] if end < sentence.end and not token.whitespace_ else None
        figures = following is not None and following.text[0].isdecimal()
        after_figures = tight and doc[at - 1].text[0].isdecimal()
        if table_of(doc).key[at] == "number":
            text = "number"
            end += doc[at + 1].text == "." if end < sentence.end else 0
        elif text in _HYPHENS:
            mixed = figures and doc[min(at + 2, len(doc) - 1)].text == "/"
            if figures and after_figures:
                text = "" if mixed else "to"
            elif figures and not tight:
                text = "minus"
            else:
                text = "" if tight and following is not None else BREAK
        elif text == "." and figures and not after_figures:
            text, end = "." + doc[end].text, end + 1
        elif text == "." and following is not None:
            text = ""
        elif not text[0].isalnum() and text not in _KEPT:
            text = BREAK
        elif text[0].isdecimal() and tight and doc[at - 1].text[0].isalpha():
            text = "#"  # part of a name: "R07"
        elif text[0].isdecimal() and tight and doc[at - 1].text == ":":
            text = "#"  # a time
        elif text in _LETTERS and not after_figures:
            text = "#"
        if text:
            words.append(text)
            tokens.append((at, end))
        at = end
    return SentenceWords(doc, words, tokens)
