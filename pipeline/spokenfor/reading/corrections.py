"""Words taken back: "left, sorry, right", "the fin, I mean the skid", "cracked, no, my mistake"."""

from __future__ import annotations

from itertools import pairwise

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import CUES, MENTIONS, is_word, set_spans, table_of, within
from spokenfor.reading.hesitations import HUMS

Doc.set_extension("taken_back", default=None, force=True)

# How far before a correction the word it replaces may stand, in tokens (*common practice*).
_REACH = 8
_LEADS = set(
    "the a an in on at of to from for by no it's it that's that sorry hand side , -".split()
)
VERBS = {"is", "are", "was", "were", "has", "have", "looks"}
NAMES = (TermKind.POSITION.value, TermKind.COMPONENT.value)


@Language.factory("spokenfor_corrections")
def create_corrections(nlp: Language, name: str) -> Corrections:
    return Corrections()


class Corrections:
    """Drops the mention of a position or component that another one replaces at once, and sets
    `doc._.taken_back`: the tokens from the dropped mention to the end of the correction."""

    def __call__(self, doc: Doc) -> Doc:
        doc._.taken_back = set()
        dropped: list[Span] = []
        for sentence in doc.sents:
            for cue in correction_cues(doc, sentence):
                dropped += self._replaced(doc, sentence, cue)
            dropped += self._stumbled(doc, sentence)
        if dropped:
            starts = {span.start for span in dropped}
            kept = [span for span in doc.spans[MENTIONS] if span.start not in starts]
            set_spans(doc, MENTIONS, kept)
        return doc

    def _replaced(self, doc: Doc, sentence: Span, cue: Span) -> list[Span]:
        new = _said_instead(doc, sentence, cue)
        if new is None or _none_of_it(cue, new):
            return []
        if not any(is_word(token) for token in doc[sentence.start : cue.start]):
            self._rename(doc, sentence, new)
            return []
        before = [
            span
            for span in within(doc, MENTIONS, max(sentence.start, cue.start - _REACH), cue.start)
            if span.label_ in NAMES
        ]
        after = within(doc, MENTIONS, new.start, min(sentence.end, new.end + 3))
        again = {name for span in after for name in span._.term.concepts}
        old = [span for span in before if span.label_ == new.label_][-1:]
        if not old:
            return []
        # "Number one pump, correction, number two pump": the component is said again as well.
        old += [
            span
            for span in before
            if span.start > old[0].start and set(span._.term.concepts) & again
        ]
        first = min(span.start for span in old)
        end = cue.end
        while end < sentence.end and not table_of(doc).is_word[end]:
            end += 1
        doc._.taken_back |= set(range(first, end))
        return old

    @staticmethod
    def _stumbled(doc: Doc, sentence: Span) -> list[Span]:
        """Positions that a hum gives up for another ("the left the *um* the right end plate")."""
        found: list[Span] = []
        for old, new in pairwise(within(doc, MENTIONS, sentence.start, sentence.end)):
            between = table_of(doc).key[old.end : new.start]
            both = old.label_ == new.label_ == TermKind.POSITION
            if both and HUMS & set(between) and set(between) <= HUMS | {"the", "it's", ",", "-"}:
                found.append(old)
                doc._.taken_back |= set(range(old.start, new.start))
        return found

    @staticmethod
    def _rename(doc: Doc, sentence: Span, new: Span) -> None:
        """Gives the name said last in the sentence before the meaning of the one that takes its place ("links
        are good. I should have said dampers")."""
        first = table_of(doc).first[sentence.start - 1] if sentence.start else 0
        said = within(doc, CUES, new.end, sentence.end)
        if any(cue.label_ == CueCategory.SATISFACTORY for cue in said):
            return
        old = within(doc, MENTIONS, first, sentence.start)
        same = [span for span in old if span.label_ == new.label_ == TermKind.COMPONENT]
        if same:
            same[-1]._.term = new._.term


def correction_cues(doc: Doc, sentence: Span, *, opening: bool = False) -> list[Span]:
    """The correction cues of a sentence, and a "no" that stands between two marks, or (with `opening`)
    first."""
    return [
        cue
        for cue in within(doc, CUES, sentence.start, sentence.end)
        if cue.label_ == CueCategory.CORRECTION
        or (
            cue.label_ == CueCategory.DENIED
            and len(cue) == 1
            and (opening or cue.start > sentence.start)
            and (cue.start == sentence.start or not table_of(doc).is_word[cue.start - 1])
            and not (opening and cue.end < len(doc) and table_of(doc).is_word[cue.end])
        )
    ]


def _none_of_it(cue: Span, new: Span) -> bool:
    """Whether a "no" says that there is none of a thing ("the trim tab, no steps"), and takes nothing back."""
    denied = cue.label_ == CueCategory.DENIED
    return denied and new.label_ == TermKind.COMPONENT and new.start == cue.end


def _said_instead(doc: Doc, sentence: Span, cue: Span) -> Span | None:
    """The position or component that follows a correction with no verb between them."""
    at = cue.end
    while at < sentence.end:
        found = [span for span in within(doc, MENTIONS, at, at + 1) if span.label_ in NAMES]
        if found:
            # "Wheel's greased, no gap" denies; "left, no right" takes back.
            denied = at == cue.end and cue.label_ == CueCategory.DENIED
            named = found[0].label_ == TermKind.COMPONENT
            return None if denied and named else found[0]
        words = spread(table_of(doc).key[at])
        inside = any(
            other.start <= at < other.end
            for other in within(doc, CUES, cue.end, at + 1)
            if other.label_ in (CueCategory.CORRECTION.value, CueCategory.DENIED.value)
        )
        if set(words) & VERBS or not (inside or words[0] in _LEADS):
            return None
        at += 1
    return None
