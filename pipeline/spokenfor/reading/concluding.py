"""What a speaker concludes, against what only sounded like a fault: "I'm pulling at it and it's *not moving*,
so they're good" (*common practice*). A flagged word stands, whatever is concluded from it."""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.reading.contractions import spoken
from spokenfor.reading.targets import SentenceReading

_SUBJECTS = frozenset("it they she he both all these this those one is are am i happy with".split())


def conclude(doc: Doc, reading: SentenceReading) -> None:
    """Drops a bad result in words that are no flagged word, where "so it's good" follows at once."""
    dropped = [
        first
        for first, second in pairwise(reading.targets)
        if first.span.label_ == CueCategory.UNSATISFACTORY
        and first.reading is FlaggedReading.PRESENT
        and second.is_good
        and _leads_to(spoken(doc[first.span.end : second.span.start]))
    ]
    reading.targets = [one for one in reading.targets if one not in dropped]


def _leads_to(words: list[str]) -> bool:
    """Whether words are no more than "so it's", "so both are"."""
    said = [word for word in words if word[0].isalnum()]
    return len(said) > 1 and said[0] == "so" and _SUBJECTS.issuperset(said[1:])
