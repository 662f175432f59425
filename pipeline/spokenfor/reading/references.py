"""What "the right one", "the other one" and "the left, which is weeping" are: the component named last."""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.clauses import clauses
from spokenfor.reading.contractions import spoken_words, spread
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    QUANTITIES,
    STATES,
    is_word,
    key_of,
    mentioned,
    mentions_by_token,
    put_mentions,
    table_of,
    tokens_of,
    within,
)
from spokenfor.reading.places import Places
from spokenfor.reading.said_again import denies_only, same_is_said
from spokenfor.reading.targets import RESULTS
from spokenfor.reading.told_places import NUMBERED, told_in_turn
from spokenfor.reading.unit import SETTLING

# `said`: positions a reference stands for; `other`: it means the one that was not named last.
Span.set_extension("said", default=None, force=True)
Span.set_extension("other", default=False, force=True)

_ONE = {"1", "one's", "ones", "1s"}
_BEYOND = frozenset("under below beneath above over past".split())
_OTHER = {"other", "other's", "others"}
_COUNTED = {*_ONE, "2", "3"}
_REFERRING = _COUNTED | _OTHER
_AT = {"on", "at"}
_WITH = frozenset("with for on".split())
_VERBS = frozenset("is are has have was were looks look feels and".split())
_QUIET = set("the on at and , a an well so but then now still too hand side also in".split())
_ELSEWHERE = {CueCategory.BY_REFERENCE.value, CueCategory.ELSEWHERE.value}
_SAY_NOTHING = {
    CueCategory.PART.value,
    CueCategory.EXCEPTION.value,
    CueCategory.TERMINATION.value,
    CueCategory.FILLER.value,
}
_SAYS = {category.value for category in SETTLING} | RESULTS


@Language.factory("spokenfor_references", default_config={"pack": "", "sentences": 2})
def create_references(nlp: Language, name: str, pack: str, sentences: int) -> References:
    return References(pack, sentences)


class References:
    """Adds mentions with the term of the component named last, in the same sentence or up to `sentences`
    before: for "one" with a position, for "the other one", and for a position of which something is said
    ("the left is weeping") where the sheet has that component there."""

    def __init__(self, pack: str, sentences: int) -> None:
        self.sentences = sentences
        self.places = Places(load_pack(pack))

    def __call__(self, doc: Doc) -> Doc:
        pieces_of = [clauses(doc, sentence) for sentence in doc.sents]
        for mention in doc.spans[MENTIONS]:
            self._numbered(doc, mention)
        added = told_in_turn(doc, pieces_of, self.places)
        begun = {span.start for span in added}
        last: tuple[int, Span] | None = None
        keys, by_token = table_of(doc).key, mentions_by_token(doc)
        for number, pieces in enumerate(pieces_of):
            for piece, (start, end) in enumerate(pieces):
                for at in range(start, end):
                    mention = by_token.get(at)
                    if at in begun and last is not None:
                        last = (number, last[1])
                        continue
                    if mention is not None and mention.label_ == TermKind.COMPONENT:
                        last = (number, mention)
                    if mention is None and keys[at] not in _REFERRING and keys[at] not in NUMBERED:
                        continue
                    if last is None or number - last[0] > self.sentences:
                        continue
                    named = [one for one in added[-3:] if start <= one.start < end]
                    if named and mention is not None and not self._joined(doc, named[-1], at):
                        continue
                    rest = pieces[piece + 1 :]
                    following = next((one for one in rest if not _is_filler(doc, *one)), None)
                    span = self._refers(doc, at, last[1], (start, end), following)
                    if span is not None:
                        span._.term = last[1]._.term
                        added.append(span)
                        last = (number, last[1])
        if added:
            put_mentions(doc, added)
        return doc

    def _numbered(self, doc: Doc, mention: Span) -> None:
        """Gives a component the number said behind it, where the sheet has several ("manifold on *two* is
        fine", "pump *one*, dry"); not in "play on one of them", "bolts, two missing"."""
        keys, after = table_of(doc).key, table_of(doc).after[mention.start]
        if mention.label_ != TermKind.COMPONENT:
            return
        on = mention.end < after and keys[mention.end] == "on"
        at = mention.end + on
        measured = within(doc, QUANTITIES, at, at + 1)
        if at >= after or measured or (mention._.plural and not on):
            return
        said = NUMBERED.get(spread(keys[at])[0])
        ends = at + 1 == after or not table_of(doc).is_word[at + 1] or len(spread(keys[at])) > 1
        if said is None or not (ends or keys[at + 1] in _VERBS):
            return
        if self.places.has(mention, said, several=True):
            mention._.said = [said]

    def _refers(
        self,
        doc: Doc,
        at: int,
        last: Span,
        clause: tuple[int, int],
        following: tuple[int, int] | None,
    ) -> Span | None:
        keys = table_of(doc).key
        mention = mentions_by_token(doc).get(at)
        if "than" in keys[max(clause[0], at - 3) : at]:
            # "Worse than the right one" says nothing of the right one.
            return None
        likened = within(doc, CUES, max(clause[0], at - 10), at)
        same = [cue for cue in likened if cue.end == at]
        if keys[at] in NUMBERED and same and {cue.label_ for cue in same} <= _ELSEWHERE:
            return self._likened(doc, at, last, clause, same)
        if any(cue.label_ in _ELSEWHERE for cue in likened) and not self._same_for(doc, at, clause):
            return None
        if mention is None and keys[at] in _COUNTED:
            return self._one(doc, at, clause)
        if keys[at] in _OTHER and (at == clause[0] or keys[at - 1] in ("the", "and", ",")):
            return self._other(doc, at, clause)
        if mention is not None and mention.start == at and mention.label_ == "position":
            results = [cue for cue in within(doc, CUES, *clause) if cue.label_ in RESULTS]
            if any(cue.start <= at < cue.end for cue in results):
                return None  # "that's not right"
            return self._position(doc, mention, last, clause, following)
        return None

    @staticmethod
    def _same_for(doc: Doc, at: int, clause: tuple[int, int]) -> bool:
        """Whether the same is said of the place that a token is or stands behind ("same for *the right*")."""
        by_token = mentions_by_token(doc)
        place = by_token.get(at, by_token.get(at - 1))
        if place is None or place.label_ != TermKind.POSITION:
            return False
        return same_is_said(table_of(doc).key[clause[0] : place.start])

    def _likened(
        self, doc: Doc, at: int, last: Span, clause: tuple[int, int], same: list[Span]
    ) -> Span | None:
        """The number that what was named before is said to be the same with ("same deal with *two*", not "same
        as two")."""
        said = NUMBERED[table_of(doc).key[at]]
        ends = at + 1 == clause[1] or not table_of(doc).is_word[at + 1]
        words = {key_of(token) for cue in same for token in cue}
        likens = {cue.label_ for cue in same} == {CueCategory.BY_REFERENCE.value}
        if not likens or words.isdisjoint(_WITH) or mentioned(doc, TermKind.COMPONENT, *clause):
            return None
        if not ends or not self.places.has(last, said, several=True):
            return None
        span = Span(doc, at, at + 1, label=TermKind.COMPONENT.value)
        span._.said = [said]
        return span

    def _one(self, doc: Doc, at: int, clause: tuple[int, int]) -> Span | None:
        """ "The right one", "the one at the front", "the two at the sides"."""
        keys, by_token = table_of(doc).key, mentions_by_token(doc)
        before = by_token.get(at - 1) if at > clause[0] else None
        if keys[at] in _ONE and before is not None and before.label_ == TermKind.POSITION:
            if not _BEYOND.isdisjoint(keys[max(clause[0], before.start - 2) : before.start]):
                return None  # "under the bottom one": a mark on a glass
            return Span(doc, at, at + 1, label=TermKind.COMPONENT.value)
        if at + 3 > clause[1] or keys[at + 1] not in _AT or keys[at - 1] not in ("the", "and", ","):
            return None
        span = Span(doc, at, at + 1, label=TermKind.COMPONENT.value)
        joined = by_token.get(at + 1)
        if joined is not None and joined.label_ == TermKind.POSITION:
            return span
        place = at + 3 if keys[at + 2] == "the" else at + 2
        if place >= clause[1]:
            return None
        mention = by_token.get(place)
        if keys[place] == "sides":
            span._.said = ["left", "right"]
            return span
        return span if mention is not None and mention.label_ == TermKind.POSITION else None

    def _other(self, doc: Doc, at: int, clause: tuple[int, int]) -> Span | None:
        """ "The other one", and "the other" with a verb or nothing behind it."""
        keys = table_of(doc).key
        one = at + 1 < clause[1] and keys[at + 1] in _ONE
        ends = at + 1 >= clause[1] or not table_of(doc).is_word[at + 1]
        verb = not ends and keys[at + 1] in ("is", "has", "was", "looks")
        if not (one or ends or verb or keys[at] == "other's"):
            return None
        span = Span(doc, at, at + 2 if one else at + 1, label=TermKind.COMPONENT.value)
        span._.other = True
        return span

    @staticmethod
    def _joined(doc: Doc, before: Span, at: int) -> bool:
        """Whether a position is the second of a pair ("left and *forward*, dry")."""
        by_itself = before._.said is not None and len(before) == 1
        return by_itself and at == before.end + 1 and table_of(doc).key[before.end] == "and"

    def _position(
        self,
        doc: Doc,
        position: Span,
        last: Span,
        clause: tuple[int, int],
        following: tuple[int, int] | None,
    ) -> Span | None:
        """A position by itself of which something is said, in its clause or in the next."""
        if mentioned(doc, TermKind.COMPONENT, *clause):
            return None
        one = position.end < clause[1] and table_of(doc).key[position.end] in _ONE
        said = position._.term.concepts[0]
        paired = last.end < position.start < self.places.set_off(doc, last)
        if (
            one
            or paired
            or not self.places.has(last, said)
            or not (
                self._states(doc, *clause)
                or within(doc, QUANTITIES, position.end, clause[1])
                or self._opens(doc, clause, following)
                or self._only_denied(doc, position, clause[1])
                or same_is_said(table_of(doc).key[clause[0] : position.start])
            )
        ):
            return None
        span = Span(doc, position.start, position.end, label=TermKind.COMPONENT.value)
        span._.said = [said]
        return span

    @staticmethod
    def _states(doc: Doc, start: int, end: int) -> bool:
        """Whether something is said in a clause: a flagged word, a state or a result."""
        cues = any(cue.label_ in _SAYS for cue in within(doc, CUES, start, end))
        conditions = mentioned(doc, TermKind.CONDITION, start, end)
        return cues or bool(conditions or within(doc, STATES, start, end))

    @staticmethod
    def _only_denied(doc: Doc, position: Span, end: int) -> bool:
        """Whether a clause says of a position no more than that it does not ("the nearside's on, *the offside's
        not*")."""
        return denies_only(spoken_words(doc, position.start, end)) > 0

    def _opens(self, doc: Doc, clause: tuple[int, int], following: tuple[int, int] | None) -> bool:
        """Whether a clause is nothing but a position, and the next says something of it."""
        by_token = mentions_by_token(doc)
        cues = within(doc, CUES, *clause)
        quiet = tokens_of(cue for cue in cues if cue.label_ in _SAY_NOTHING)
        # "Left and right good. *Not the forward*, that's leaking."
        begin = clause[0] + (key_of(doc[clause[0]]) == "not")
        bare = all(
            not is_word(token) or token.i in by_token or token.i in quiet or key_of(token) in _QUIET
            for token in doc[begin : clause[1]]
        )
        if not bare or following is None:
            return False
        named = [span for span in within(doc, MENTIONS, *following) if span.label_ == "component"]
        measured = within(doc, QUANTITIES, *following)
        return not named and (bool(measured) or self._states(doc, *following))


def _is_filler(doc: Doc, start: int, end: int) -> bool:
    """Whether a piece says nothing by itself ("the right, *ja*, there's play")."""
    cues = within(doc, CUES, start, end)
    filler = tokens_of(cue for cue in cues if cue.label_ == CueCategory.FILLER)
    return all(at in filler or not table_of(doc).is_word[at] for at in range(start, end))
