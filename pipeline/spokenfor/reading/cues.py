"""Where the cue phrases of speech.yaml stand (ConText, Harkema et al. 2009)."""

from __future__ import annotations

from typing import Any

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import Cue, CueCategory, Direction
from spokenfor.packs.terms import TermKind, compile_cues
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import CUES, MENTIONS, STATES, is_word, set_spans, within

_NAMES = {CueCategory.PART.value, CueCategory.PSEUDO.value, CueCategory.CORRECTION.value}
_FIRM = {TermKind.COMPONENT.value, TermKind.CONDITION.value}
# Words that a phrase may have inside it and that say nothing.
_HUMMED = {"er", "erm", "um", "uh", "ah", "mm"}
_DETERMINERS = {"the", "on", "your", "my", "our"}
_END = ""
# Categories that lie over the others and do not take their words: where clauses end, short answers (which
# count only as clauses of their own), and filling words.
_ENDS = frozenset({CueCategory.TERMINATION.value})
_ANSWERS = frozenset({CueCategory.AFFIRMED.value, CueCategory.DENIED.value})
_FILLERS = frozenset({CueCategory.FILLER.value})
LAYERED = _ENDS | _ANSWERS | _FILLERS



def _cue_of(span: Span) -> Cue | None:
    return span.doc.user_data.get(("cue", span.start, span.end, span.label_))


def _keep_cue(span: Span, cue: Cue) -> None:
    span.doc.user_data["cue", span.start, span.end, span.label_] = cue


# By place and category: two cues of different categories may stand on the same words.
Span.set_extension("cue", getter=_cue_of, setter=_keep_cue, force=True)

# A phrase that stands at the tokens start..end (end not included), and the cues it may be.
Match = tuple[int, int, list[Cue]]


@Language.factory("spokenfor_cues", default_config={"pack": ""})
def create_cues(nlp: Language, name: str, pack: str) -> Cues:
    return Cues(pack)


class Cues:
    """Fills the span group `cues`: longest phrase first, never overlapping another cue or a component
    or condition (a flagged word is never swallowed by a phrase). Only a longer name of a part or a pseudo
    phrase ("split pins", "right through") takes the place of a flagged word or position inside it.
    Contractions are matched as the words they stand for ("isn't" as "is not")."""

    def __init__(self, pack: str) -> None:
        self.tree: dict[str, Any] = {}
        for words, cues in compile_cues(load_pack(pack).cues).items():
            node = self.tree
            for word in (part for one in words for part in spread(one)):
                node = node.setdefault(word, {})
            node.setdefault(_END, []).extend(cues)

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
        names = [span for span in spans if span.label_ in _SWALLOWING]
        names += [span for span in doc.spans[STATES] if len(span) > 1]
        clear = [span for span in doc.spans[MENTIONS] if not _inside(span, names)]
        set_spans(doc, MENTIONS, clear)
        return doc

    def _in_sentence(self, doc: Doc, sentence: Span, firm: set[int]) -> list[Span]:
        matches = list(self._matches(doc, sentence))
        main = self._layer(doc, sentence, matches, None, firm)
        taken = {at for span in main for at in range(span.start, span.end)}
        inner = {at for span in main for at in range(span.start + 1, span.end)}
        inner |= {span.start for span in main if span.label_ == CueCategory.ABSENT.value}
        layers = [
            self._layer(doc, sentence, matches, layer, firm | held)
            for layer, held in ((_ENDS, set()), (_ANSWERS, set()), (_FILLERS, taken))
        ]
        longer = {span.start for span in main if len(span) > 1}
        ends = [
            span
            for span in layers[0]
            if span.start not in inner and not (span.start in longer and len(span) == 1)
        ]
        return sorted([*main, *ends, *layers[1], *layers[2]], key=lambda span: span.start)

    @staticmethod
    def _layer(
        doc: Doc, sentence: Span, matches: list[Match], layer: frozenset[str] | None, firm: set[int]
    ) -> list[Span]:
        """The phrases of one layer, longest first; `layer` None is all but the layered categories."""
        words = [token.i for token in sentence if is_word(token)]
        taken = set(firm)
        spans = []
        chosen = []
        for start, end, cues in matches:
            own = [
                cue
                for cue in cues
                if (cue.category.value in layer if layer else cue.category.value not in LAYERED)
            ]
            if own:
                chosen.append((start, end, own))
        for start, end, cues in sorted(chosen, key=_rank):
            blocked = taken
            if cues[0].category.value in _NAMES:
                blocked = taken - firm
            elif end - start > 2 and start not in firm and _measure(doc, start, end, cues[0]):
                blocked = taken - firm
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
        return spans

    def _matches(self, doc: Doc, sentence: Span) -> list[Match]:
        """Every phrase that stands in a sentence."""
        keys = doc._.table.key
        said = [(at, spread(keys[at])) for at in range(sentence.start, sentence.end)]
        found: list[Match] = []
        for number, (at, parts) in enumerate(said):
            for skipped in range(len(parts)):
                node = self.tree.get(parts[skipped])
                if node is None:
                    continue
                # A verb that hangs on a noun ("tyre's") leaves the noun out of the phrase.
                start = at + 1 if skipped and parts[skipped] != "not" else at
                self._follow(said, number, skipped, node, start, found)
        return found

    def _follow(
        self,
        said: list[tuple[int, tuple[str, ...]]],
        number: int,
        part: int,
        node: dict[str, Any],
        start: int,
        found: list[Match],
    ) -> None:
        """Follows a phrase from its first word as far as it goes, noting where it may end."""
        while True:
            at, parts = said[number]
            negated = part + 1 < len(parts) and parts[part + 1] == "not"
            if _END in node and not negated and at + 1 > start:
                found.append((start, at + 1, node[_END]))
            part += 1
            if part == len(parts):
                part, number = 0, number + 1
                while number < len(said) and said[number][1][0] in _HUMMED:
                    number += 1
                if number < len(said) and said[number][1][0] == "-":
                    number += 1
            if number >= len(said):
                return
            after = node.get(said[number][1][part])
            if after is None:
                return
            node = after


def _measure(doc: Doc, start: int, end: int, cue: Cue) -> bool:
    """Whether a good result takes in a component's name as a word of its own ("up to the line", "plenty of
    tread"): no flagged word may be in it."""
    kinds = {span.label_ for span in within(doc, MENTIONS, start, end)}
    return cue.category is CueCategory.SATISFACTORY and TermKind.CONDITION.value not in kinds


def _rank(found: Match) -> tuple[bool, int, int]:
    """Names of parts come first: "split pins" is one, whatever "pins are in" says."""
    start, end, cues = found
    named = cues[0].category is CueCategory.PART and end - start > 1
    return (not named, start - end, start)


_SWALLOWING = _NAMES | {CueCategory.SATISFACTORY.value}


def _inside(mention: Span, names: list[Span]) -> bool:
    """Whether a condition or position stands inside a longer name; a position behind "the" stays one ("on the
    right under the panel")."""
    if mention.label_ == TermKind.POSITION.value:
        before = mention.doc[mention.start - 1]._.key if mention.start else ""
        names = [] if before in _DETERMINERS else names
        names = [name for name in names if name.start < mention.start or name.end > mention.end]
    kinds = (TermKind.CONDITION.value, TermKind.POSITION.value, TermKind.COMPONENT.value)
    if mention.label_ != TermKind.POSITION.value:
        names = [name for name in names if name.label_ != TermKind.STATE.value]
    return mention.label_ in kinds and any(
        name.start <= mention.start and mention.end <= name.end and len(name) > len(mention)
        for name in names
    )


def _choose(cues: list[Cue], whole_sentence: bool, last_in_clause: bool) -> Cue | None:
    """Of the readings of one phrase: the one for a sentence of its own where it is one; at the end of a
    clause one that reaches back, elsewhere one that does not only do that; otherwise the first."""
    alone = [cue for cue in cues if _only_alone(cue)]
    others = [cue for cue in cues if not _only_alone(cue)]
    back = [cue for cue in others if cue.direction is not Direction.FORWARD]
    ahead = [cue for cue in others if cue.direction is not Direction.BACKWARD]
    likely = back if last_in_clause else ahead
    ordered = [*(alone if whole_sentence else []), *likely, *others]
    return ordered[0] if ordered else None


def _only_alone(cue: Cue) -> bool:
    absent = (CueCategory.ABSENT, CueCategory.SATISFACTORY)
    return cue.direction is Direction.ALONE and cue.category in absent
