"""Where sentences begin: after a full stop, a question mark, a long pause, or in another recording."""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc

_ENDS = {".", "?", "!"}


@Language.factory("spokenfor_sentences", default_config={"pause": 1.5})
def create_sentences(nlp: Language, name: str, pause: float) -> Sentences:
    return Sentences(pause)


class Sentences:
    """Sets sentence starts. `pause` is the silence in seconds that ends a sentence whatever the marks."""

    def __init__(self, pause: float) -> None:
        self.pause = pause

    def __call__(self, doc: Doc) -> Doc:
        for token in doc:
            token.is_sent_start = token.i == 0 or self._starts(doc, token.i)
        return doc

    def _starts(self, doc: Doc, index: int) -> bool:
        here, before = doc[index], doc[index - 1]
        if here._.recording != before._.recording or here._.doubtful != before._.doubtful:
            return True
        if here._.word == before._.word:
            return False
        if here._.start - before._.end > self.pause:
            return True
        abbreviated = index >= 2 and doc[index - 2]._.key == "number"
        return before.text in _ENDS and not abbreviated
