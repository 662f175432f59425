"""Where the cue phrases of speech.yaml stand (ConText, Harkema et al. 2009)."""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import Cue, CueCategory, Direction
from spokenfor.packs.terms import TermKind, compile_cues
from spokenfor.reading.document import CUES, MENTIONS, is_word, set_spans
from spokenfor.reading.mentions import word_windows

_NAMES = {CueCategory.PART.value, CueCategory.PSEUDO.value}
_FIRM = {TermKind.COMPONENT.value, TermKind.CONDITION.value}


@Language.factory("spokenfor_cues", default_config={"pack": ""})
def create_cues(nlp: Language, name: str, pack: str) -> Cues:
    return Cues(pack)


class Cues:
    """Fills the span group `cues`: longest phrase first, never overlapping another cue or a component
    or condition (a flagged word is never swallowed by a phrase). Only a longer name of a part or a pseudo
    phrase ("split pins") takes the place of a flagged word inside it."""

    def __init__(self, pack: str) -> None:
        self.phrases = compile_cues(load_pack(pack).cues)
        self.longest = max(map(len, self.phrases))

    def __call__(self, doc: Doc) -> Doc:
        firm = {
            index
            for span in doc.spans[MENTIONS]
            if span.label_ in _FIRM
            for index in range(span.start, span.end)
        }
        spans = []
        for sentence in doc.sents:
            spans += self._in_sentence(doc, sentence, firm)
        set_spans(doc, CUES, spans)
        names = [span for span in spans if span.label_ in _NAMES]
        clear = [span for span in doc.spans[MENTIONS] if not _inside(span, names)]
        set_spans(doc, MENTIONS, clear)
        return doc

    def _in_sentence(self, doc: Doc, sentence: Span, firm: set[int]) -> list[Span]:
        matches = []
        keys = doc._.table.key
        for inside in word_windows(sentence, self.longest):
            cues = self.phrases.get(tuple([keys[at] for at in inside]))
            if cues:
                matches.append((-len(inside), inside[0], inside[-1] + 1, cues))
        words = [token.i for token in sentence if is_word(token)]
        taken = set(firm)
        spans = []
        # Names of parts come first: "split pins" is one, whatever "pins are in" says.
        order = sorted(
            matches, key=lambda match: (match[3][0].category is not CueCategory.PART, *match[:3])
        )
        for _, start, end, cues in order:
            blocked = taken if cues[0].category.value not in _NAMES else taken - firm
            if not blocked.isdisjoint(range(start, end)):
                continue
            whole = words[0] == start and words[-1] == end - 1
            last = end >= sentence.end or not is_word(doc[end])
            cue = _choose(cues, whole, last)
            if cue is not None:
                taken.update(range(start, end))
                span = Span(doc, start, end, label=cue.category.value)
                span._.cue = cue
                spans.append(span)
        return sorted(spans, key=lambda span: span.start)


def _inside(mention: Span, names: list[Span]) -> bool:
    """Whether a condition stands inside a longer name."""
    return mention.label_ == TermKind.CONDITION.value and any(
        name.start <= mention.start and mention.end <= name.end and len(name) > len(mention)
        for name in names
    )


def _choose(cues: list[Cue], whole_sentence: bool, last_in_clause: bool) -> Cue | None:
    """Of the readings of one phrase: the one for a sentence of its own where it is one; at the end of a
    clause one that reaches back; otherwise the first."""
    alone = [cue for cue in cues if _only_alone(cue)]
    others = [cue for cue in cues if not _only_alone(cue)]
    back = [cue for cue in others if cue.direction is not Direction.FORWARD]
    ordered = [*(alone if whole_sentence else []), *(back if last_in_clause else []), *others]
    return ordered[0] if ordered else None


def _only_alone(cue: Cue) -> bool:
    kinds = (CueCategory.TERMINATION, CueCategory.PSEUDO, CueCategory.PART)
    return cue.direction is Direction.ALONE and cue.category not in kinds
