"""What "the right one" is: a position and "one" name the component that was named last."""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import MENTIONS, mentions_by_token, set_spans

_ONE = {"1", "one's"}


@Language.factory("spokenfor_references", default_config={"sentences": 2})
def create_references(nlp: Language, name: str, sentences: int) -> References:
    return References(sentences)


class References:
    """Adds a mention for "one" after a position, with the term of the component named last; that must stand in
    the same sentence or up to `sentences` before."""

    def __init__(self, sentences: int) -> None:
        self.sentences = sentences

    def __call__(self, doc: Doc) -> Doc:
        keys, by_token = doc._.table.key, mentions_by_token(doc)
        added: list[Span] = []
        last: tuple[int, Span] | None = None
        for number, sentence in enumerate(doc.sents):
            for at in range(sentence.start, sentence.end):
                mention = by_token.get(at)
                if mention is not None and mention.label_ == TermKind.COMPONENT.value:
                    last = (number, mention)
                position = by_token.get(at - 1) if at > sentence.start else None
                after_position = position is not None and position.label_ == TermKind.POSITION.value
                refers = keys[at] in _ONE and mention is None and after_position
                if refers and last is not None and number - last[0] <= self.sentences:
                    span = Span(doc, at, at + 1, label=TermKind.COMPONENT.value)
                    span._.term = last[1]._.term
                    added.append(span)
                    last = (number, last[1])
        if added:
            set_spans(doc, MENTIONS, [*doc.spans[MENTIONS], *added])
        return doc
