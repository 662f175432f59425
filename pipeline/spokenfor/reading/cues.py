"""Where the cue phrases of speech.yaml stand (ConText, Harkema et al. 2009)."""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import Cue, CueCategory, Direction, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    STATES,
    is_word,
    key_of,
    set_spans,
    spans_by_token,
    table_of,
)
from spokenfor.reading.phrases import Match, Phrases

_NAMES = {CueCategory.PART, CueCategory.PSEUDO, CueCategory.CORRECTION}
_IDIOMS = (CueCategory.SATISFACTORY, CueCategory.PUT_RIGHT)
_SWALLOWING = {category.value for category in (*_NAMES, *_IDIOMS)}
_FIRM = {TermKind.COMPONENT.value, TermKind.CONDITION.value}
_SWALLOWED = {*_FIRM, TermKind.POSITION.value}
# What may end in a denial that is its own.
_DENYING = {
    CueCategory.ABSENT,
    CueCategory.ANY,
    CueCategory.NEGATION,
    CueCategory.DENIED,
    CueCategory.CORRECTION,
    CueCategory.PURPOSE,
    CueCategory.SUPPOSED,
    CueCategory.EXPECTED,
    CueCategory.NOT_INSPECTED,
}
_NO_STATES = {
    one.value for one in (CueCategory.CORRECTION, CueCategory.PURPOSE, CueCategory.FILLER)
}
_DENIALS = frozenset("no any none nothing nil without not never".split())
_FILLED = {"pressure", "charge"}
_FLAT = "under-inflated"
_GOING_ON = {"and", "but", "so", "then"}
_DETERMINERS = {"the", "on", "your", "my", "our"}
# Categories that lie over the others and do not take their words: where clauses end, short answers (which
# count only as clauses of their own), and filling words.
_MAIN, _ENDS, _ANSWERS, _FILLERS = "main", "ends", "answers", "fillers"
_LAYERS = {
    CueCategory.TERMINATION: _ENDS,
    CueCategory.AFFIRMED: _ANSWERS,
    CueCategory.DENIED: _ANSWERS,
    CueCategory.FILLER: _FILLERS,
}
LAYERED = {category.value for category in _LAYERS}


# What is said of any such thing, or excuses a flaw, says how a component is, where only that is spoken of.
_GIVING_WAY = (CueCategory.RULE, CueCategory.HARMLESS, CueCategory.PURPOSE)
_SAYING = (CueCategory.UNSATISFACTORY, CueCategory.SATISFACTORY, CueCategory.NOT_INSPECTED)
_ANY = frozenset("a an any every each all if when once whatever anything".split())
_WHENEVER = frozenset(
    "every each if when whenever once unless until till after before daily weekly always".split()
)


def _cue_of(span: Span) -> Cue | None:
    found: Cue | None = span.doc.user_data[CUES].get((span.start, span.end, span.label_))
    return found


def _keep_cue(span: Span, cue: Cue) -> None:
    span.doc.user_data.setdefault(CUES, {})[span.start, span.end, span.label_] = cue


# By place and category: two cues of different categories may stand on the same words.
Span.set_extension("cue", getter=_cue_of, setter=_keep_cue, force=True)


@Language.factory("spokenfor_cues", default_config={"pack": ""})
def create_cues(nlp: Language, name: str, pack: str) -> Cues:
    return Cues(pack)


class Cues:
    """Fills the span group `cues`: longest phrase first, never overlapping another cue or a component
    or condition (a flagged word is never swallowed by a phrase). Only a longer name of a part, a pseudo
    phrase, a correction, a good result or a deed ("split pins", "right through", "scratch that", "up to the
    line") takes the place of a mention inside it."""

    def __init__(self, pack: str) -> None:
        loaded = load_pack(pack)
        self.phrases = Phrases(loaded.cues, lambda cue: _LAYERS.get(cue.category, _MAIN))
        self.filled = {
            one.id for one in loaded.components.values() if not _FILLED.isdisjoint(one.aspects)
        }

    def __call__(self, doc: Doc) -> Doc:
        kinds = {
            index: span.label_
            for span in doc.spans[MENTIONS]
            if span.label_ in _FIRM
            for index in range(span.start, span.end)
        }
        kept = self._flat(doc)
        spans = []
        for sentence in doc.sents:
            spans += self._in_sentence(doc, sentence, kinds, kept)
        set_spans(doc, CUES, spans)
        names = [span for span in spans if span.label_ in _SWALLOWING]
        holders = spans_by_token([*names, *(span for span in doc.spans[STATES] if len(span) > 1)])
        clear = [
            span for span in doc.spans[MENTIONS] if not _inside(span, holders.get(span.start, []))
        ]
        set_spans(doc, MENTIONS, clear)
        # "Landing light, *hang on*": that says nothing of the light.
        others = spans_by_token(span for span in spans if span.label_ in _NO_STATES)
        states = [one for one in doc.spans[STATES] if not _is_held(one, others.get(one.start, []))]
        set_spans(doc, STATES, states)
        return doc

    def _flat(self, doc: Doc) -> set[int]:
        """Where "flat" is said of what holds air or a charge: no phrase makes anything good of that ("the
        tyre's *dead flat*"; "the skin's dead flat")."""
        flat: set[int] = set()
        named: tuple[str, ...] = ()
        for span in doc.spans[MENTIONS]:
            if span.label_ == TermKind.COMPONENT:
                named = span._.term.concepts
            elif span._.term.concepts[:1] == (_FLAT,) and not self.filled.isdisjoint(named):
                flat.update(range(span.start, span.end))
        return flat

    def _in_sentence(
        self, doc: Doc, sentence: Span, kinds: dict[int, str], kept: set[int]
    ) -> list[Span]:
        found = [
            one
            for one in self.phrases.matches(table_of(doc).key, sentence.start, sentence.end)
            if kept.isdisjoint(range(one[0], one[1]))
            or all(cue.category not in _IDIOMS for cue in one[2].get(_MAIN, ()))
        ]
        words = [token.i for token in sentence if is_word(token)]
        bounds = (words[0], words[-1]) if words else (0, 0)
        firm = {index for index in range(sentence.start, sentence.end) if index in kinds}
        main = _layer(doc, _of(found, _MAIN), firm, kinds, bounds)
        taken = {at for span in main for at in range(span.start, span.end)}
        inner = {at for span in main for at in range(span.start + 1, span.end)}
        inner |= {span.start for span in main if span.label_ == CueCategory.ABSENT}
        longer = {span.start for span in main if len(span) > 1}
        ends = [
            span
            for span in _layer(doc, _of(found, _ENDS), firm, kinds, bounds)
            if span.start not in inner and not (span.start in longer and len(span) == 1)
        ]
        answers = _layer(doc, _of(found, _ANSWERS), firm, kinds, bounds)
        fillers = _layer(doc, _of(found, _FILLERS), firm | taken, kinds, bounds)
        return sorted([*main, *ends, *answers, *fillers], key=lambda span: span.start)


def _of(found: list[Match], layer: str) -> list[tuple[int, int, list[Cue]]]:
    """The phrases of one layer, names of parts first ("split pins" is one, whatever "pins are in" says), then
    the longest."""
    own = [(start, end, cues[layer]) for start, end, cues in found if layer in cues]
    return sorted(
        own,
        key=lambda one: (
            not (one[2][0].category is CueCategory.PART and one[1] - one[0] > 1),
            one[0] - one[1],
            one[0],
        ),
    )


def _layer(
    doc: Doc,
    ordered: list[tuple[int, int, list[Cue]]],
    firm: set[int],
    kinds: dict[int, str],
    bounds: tuple[int, int],
) -> list[Span]:
    """Cues chosen from phrases in order of rank, never overlapping; `kinds` names the mentions that the
    `firm` tokens lie in, `bounds` are the first and last word of the sentence."""
    taken: set[int] = set()
    spans = []
    after = table_of(doc).after[bounds[0]] if ordered else 0
    for start, end, cues in ordered:
        if not taken.isdisjoint(range(start, end)):
            continue
        if end - start == 1 and _looks_so(doc, start, kinds):
            continue
        if not firm.isdisjoint(range(start, end)):
            cues = [cue for cue in cues if _overrides(start, end, cue, kinds)]
            if not cues:
                continue
        follows = end + (end < after and table_of(doc).key[end] in ("a", "an", "any"))
        if kinds.get(follows) == TermKind.CONDITION:
            cues = [cue for cue in cues if not _takes_denial(cue, table_of(doc).key[end - 1])]
            if not cues:
                continue
        whole = bounds == (start, end - 1)
        last = end >= after or not table_of(doc).is_word[end] or table_of(doc).key[end] in _GOING_ON
        gives_way = len(cues) > 1 and cues[0].category in _GIVING_WAY
        if gives_way and _says_so_here(doc, start, kinds, bounds):
            cues = [cue for cue in cues if cue.category in _SAYING] or cues
        cue = _choose(cues, whole, last)
        if cue is not None:
            taken.update(range(start, end))
            span = Span(doc, start, end, label=cue.category.value)
            span._.cue = cue
            spans.append(span)
    return spans


def _looks_so(doc: Doc, start: int, kinds: dict[int, str]) -> bool:
    """Whether a bare "looking" is said of a component ("the tyre is *looking* worn"), and of nobody's eyes."""
    keys = table_of(doc).key
    if keys[start] != "looking" or start == 0:
        return False
    named = start - 2 if keys[start - 1] in ("is", "are", "was", "were") else start - 1
    return kinds.get(named) == TermKind.COMPONENT


def _says_so_here(doc: Doc, start: int, kinds: dict[int, str], bounds: tuple[int, int]) -> bool:
    """Whether a phrase that may be a rule, or an excuse for what was found, stands behind a component and no
    flagged word, in a sentence that tells of one thing now ("the belt *needs to be changed*")."""
    before = {kinds.get(at) for at in range(bounds[0], start)}
    keys = table_of(doc).key[bounds[0] : bounds[1] + 1]
    of_any = keys[0] in _ANY or not _WHENEVER.isdisjoint(keys)
    return TermKind.COMPONENT in before and TermKind.CONDITION not in before and not of_any


def _takes_denial(cue: Cue, last: str) -> bool:
    """Whether a phrase that stands right before a flagged word would take away what denies it ("*never had any*
    cracks" fits nobody out with none); `last` is its last word."""
    if cue.category in _DENYING:
        return False
    return cue.category is CueCategory.NOT_FITTED or last in _DENIALS


def _overrides(start: int, end: int, cue: Cue, kinds: dict[int, str]) -> bool:
    """Whether a phrase may take in a component or flagged word. A good result and a deed may take in a
    component's name that does not open it ("plenty of tread"), a flagged word only where their row has the
    scope sentence ("in good nick", "bent it back straight")."""
    if cue.category in _NAMES:
        return True
    inside = {kinds[index] for index in range(start, end) if index in kinds}
    idiom = cue.scope is Scope.SENTENCE
    opening = kinds.get(start)
    return (
        cue.category in _IDIOMS
        and end - start > 1
        and (opening is None or (idiom and opening == TermKind.CONDITION))
        and (idiom or TermKind.CONDITION.value not in inside)
    )


def _inside(mention: Span, names: list[Span]) -> bool:
    """Whether a mention stands inside a longer name. A position behind "the" stays one ("on the right under
    the panel"); a state word takes in only positions ("over centre")."""
    if mention.label_ not in _SWALLOWED:
        return False
    position = mention.label_ == TermKind.POSITION
    if position and mention.start and key_of(mention.doc[mention.start - 1]) in _DETERMINERS:
        names = [name for name in names if name.start < mention.start]
    return any(
        mention.end <= name.end
        and len(name) > len(mention)
        and (position or name.label_ != TermKind.STATE)
        for name in names
        if name.start <= mention.start
    )


def _is_held(state: Span, cues: list[Span]) -> bool:
    """Whether a state word lies in a longer one of the cues that its first token lies in."""
    return any(state.end <= cue.end and len(cue) > len(state) for cue in cues)


def _choose(cues: list[Cue], whole_sentence: bool, last_in_clause: bool) -> Cue | None:
    """Of the readings of one phrase: the one for a sentence of its own where it is one; at the end of a
    clause one that reaches back, elsewhere one that does not only do that; otherwise the first."""
    if len(cues) == 1 and not _only_alone(cues[0]):
        return cues[0]
    alone = [cue for cue in cues if _only_alone(cue)]
    others = [cue for cue in cues if not _only_alone(cue)]
    unlikely = Direction.FORWARD if last_in_clause else Direction.BACKWARD
    likely = [cue for cue in others if cue.direction is not unlikely]
    ordered = [*(alone if whole_sentence else []), *likely, *others]
    return ordered[0] if ordered else None


def _only_alone(cue: Cue) -> bool:
    absent = (CueCategory.ABSENT, CueCategory.SATISFACTORY)
    return cue.direction is Direction.ALONE and cue.category in absent
