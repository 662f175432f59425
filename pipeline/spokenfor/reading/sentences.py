"""Where sentences begin: after a full stop, a question mark, a long pause, or in another recording."""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc

from spokenfor.reading.document import TokenTable, set_sentences, table_of

_ENDS = {".", "?", "!"}


@Language.factory("spokenfor_sentences", default_config={"pause": 1.5})
def create_sentences(nlp: Language, name: str, pause: float) -> Sentences:
    return Sentences(pause)


class Sentences:
    """Sets sentence starts. `pause` is the silence in seconds that ends a sentence whatever the marks."""

    def __init__(self, pause: float) -> None:
        self.pause = pause

    def __call__(self, doc: Doc) -> Doc:
        texts = [token.text for token in doc]
        set_sentences(
            doc, [at == 0 or self._starts(table_of(doc), texts, at) for at in range(len(texts))]
        )
        return doc

    def _starts(self, table: TokenTable, texts: list[str], at: int) -> bool:
        if (
            table.recording[at] != table.recording[at - 1]
            or table.doubtful[at] != table.doubtful[at - 1]
        ):
            return True
        if table.word[at] == table.word[at - 1]:
            return False
        if table.start[at] - table.end[at - 1] > self.pause:
            return True
        abbreviated = at >= 2 and (table.key[at - 2] == "number" or _initials(texts, at))
        return table.key[at - 1] in _ENDS and not abbreviated


def _initials(texts: list[str], at: int) -> bool:
    """Whether the full stop before a token stands in letters spoken one by one ("T.G.B. is", "V. H. F.")."""
    letter = texts[at - 2]
    if len(letter) != 1 or not letter.isupper() or letter == "I" or texts[at - 1] != ".":
        return False
    return texts[at].islower() or len(texts[at]) == 1
