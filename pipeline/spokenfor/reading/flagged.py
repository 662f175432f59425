"""Every flagged word of a narration and how it was read (promise 2)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from spacy.tokens import Doc

from spokenfor.models import FlaggedWord
from spokenfor.reading.document import evidence
from spokenfor.reading.targets import SentenceReading, Target


def flagged_words(
    doc: Doc, readings: Sequence[SentenceReading], item_of_word: Mapping[int, str | None]
) -> list[FlaggedWord]:
    """The flagged words in order of place; `item_of_word` has the line that each token was said of."""
    return [
        _flagged_word(doc, reading, target, item_of_word.get(target.span.start))
        for reading in readings
        for target in reading.targets
        if target.is_condition
    ]


def _flagged_word(
    doc: Doc, reading: SentenceReading, target: Target, item: str | None
) -> FlaggedWord:
    span, sentence = target.span, reading.sentence
    return FlaggedWord(
        word=span._.repair.became if span._.repair else span.text,
        condition=span._.term.concepts[0],
        reading=target.reading,
        item=item,
        evidence=evidence(doc, sentence.start, max(sentence.end, target.answered or 0)),
    )
