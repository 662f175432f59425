"""Words taken back: "left, sorry, right", "the fin, I mean the skid", "cracked, no, my mistake"."""

from __future__ import annotations

from itertools import pairwise

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spread
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    QUANTITIES,
    is_word,
    mentioned,
    set_spans,
    within,
)
from spokenfor.reading.targets import SentenceReading, Target, states_good

Doc.set_extension("taken_back", default=None, force=True)

# How far before a correction the word it replaces may stand, in tokens (*common practice*).
_REACH = 8
_LEADS = set(
    "the a an in on at of to from for by no it's it that's that sorry hand side , -".split()
)
_VERBS = {"is", "are", "was", "were", "has", "have", "looks"}
_TO_COME = {"will", "to", "can", "could", "should", "would", "going", "must"}
_HUMS = {"um", "uh", "er", "erm"}
_NAMES = (TermKind.POSITION.value, TermKind.COMPONENT.value)


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
            for cue in _corrections(doc, sentence):
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
            if span.label_ in _NAMES
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
        while end < sentence.end and not is_word(doc[end]):
            end += 1
        doc._.taken_back |= set(range(first, end))
        return old

    @staticmethod
    def _stumbled(doc: Doc, sentence: Span) -> list[Span]:
        """Positions that a hum gives up for another ("the left the *um* the right end plate")."""
        found: list[Span] = []
        for old, new in pairwise(within(doc, MENTIONS, sentence.start, sentence.end)):
            between = [token._.key for token in doc[old.end : new.start]]
            both = old.label_ == new.label_ == TermKind.POSITION.value
            if both and _HUMS & set(between) and set(between) <= _HUMS | {"the", "it's", ",", "-"}:
                found.append(old)
                doc._.taken_back |= set(range(old.start, new.start))
        return found

    @staticmethod
    def _rename(doc: Doc, sentence: Span, new: Span) -> None:
        """Gives the name said last in the sentence before the meaning of the one that takes its place ("links
        are good. I should have said dampers")."""
        first = doc._.table.first[sentence.start - 1] if sentence.start else 0
        said = within(doc, CUES, new.end, sentence.end)
        if any(cue.label_ == CueCategory.SATISFACTORY.value for cue in said):
            return
        old = within(doc, MENTIONS, first, sentence.start)
        same = [span for span in old if span.label_ == new.label_ == TermKind.COMPONENT.value]
        if same:
            same[-1]._.term = new._.term


def _corrections(doc: Doc, sentence: Span, *, opening: bool = False) -> list[Span]:
    """The correction cues of a sentence, and a "no" that stands between two marks, or (with `opening`)
    first."""
    return [
        cue
        for cue in within(doc, CUES, sentence.start, sentence.end)
        if cue.label_ == CueCategory.CORRECTION.value
        or (
            cue.label_ == CueCategory.DENIED.value
            and len(cue) == 1
            and (opening or cue.start > sentence.start)
            and (cue.start == sentence.start or not is_word(doc[cue.start - 1]))
            and not (opening and is_word(doc[cue.end]))
        )
    ]


def _none_of_it(cue: Span, new: Span) -> bool:
    """Whether a "no" says that there is none of a thing ("the trim tab, no steps"), and takes nothing back."""
    denied = cue.label_ == CueCategory.DENIED.value
    return denied and new.label_ == TermKind.COMPONENT.value and new.start == cue.end


def _said_instead(doc: Doc, sentence: Span, cue: Span) -> Span | None:
    """The position or component that follows a correction with no verb between them."""
    at = cue.end
    while at < sentence.end:
        found = [span for span in within(doc, MENTIONS, at, at + 1) if span.label_ in _NAMES]
        if found:
            # "Wheel's greased, no gap" denies; "left, no right" takes back.
            denied = at == cue.end and cue.label_ == CueCategory.DENIED.value
            named = found[0].label_ == TermKind.COMPONENT.value
            return None if denied and named else found[0]
        words = spread(doc[at]._.key)
        inside = any(
            other.start <= at < other.end
            for other in within(doc, CUES, cue.end, at + 1)
            if other.label_ in (CueCategory.CORRECTION.value, CueCategory.DENIED.value)
        )
        if set(words) & _VERBS or not (inside or words[0] in _LEADS):
            return None
        at += 1
    return None


def take_back(doc: Doc, readings: list[SentenceReading]) -> None:
    """Reads what the last sentence takes back, there or in the sentence before, as not said: a flagged word
    as absent, a result or an absence as no result."""
    reading = readings[-1]
    sentence = reading.sentence
    _give_on(doc, reading)
    for cue in _corrections(doc, sentence, opening=True):
        if _is_to_be_done(doc, sentence, cue):
            continue
        if cue.start in doc._.taken_back:
            _replace(doc, reading, cue)
            continue
        before = [one for one in reading.targets if one.span.end <= cue.start]
        if not before and len(readings) > 1 and not _words_before(doc, sentence, cue):
            before = readings[-2].targets
        after = [one for one in reading.targets if one.span.start >= cue.end]
        firm = cue.label_ == CueCategory.CORRECTION.value and _retracts(doc, reading, cue)
        if firm or _says_again(doc, before, after, cue):
            _undo(doc, before, after, cue)
        elif _says_better(doc, before, after, cue):
            before[-1].reading, before[-1].answered = FlaggedReading.ABSENT, after[0].span.end


def _give_on(doc: Doc, reading: SentenceReading) -> None:
    """Reads a flagged word as absent where it is given on to another thing ("the magneto's loose, not the
    magneto, the starter's loose")."""
    names = mentioned(doc, TermKind.COMPONENT, reading.sentence.start, reading.sentence.end)
    for one in names:
        if [token._.key for token in doc[max(0, one.start - 2) : one.start]] != ["not", "the"]:
            continue
        same = [
            name.end
            for name in names
            if name.end < one.start and name._.term.concepts == one._.term.concepts
        ]
        before = [
            target
            for target in reading.targets
            if target.is_condition and same and same[-1] <= target.span.start < one.start
        ]
        again = {
            target.span._.term.concepts[0]
            for target in reading.targets
            if target.is_condition and target.span.start > one.start
        }
        for target in before[-1:]:
            if target.span._.term.concepts[0] in again:
                target.reading, target.answered = FlaggedReading.ABSENT, one.end


def _is_to_be_done(doc: Doc, sentence: Span, cue: Span) -> bool:
    """Whether what looks like a correction is a thing that somebody will do ("I'll *wipe it* off")."""
    before = doc[max(sentence.start, cue.start - 3) : cue.start]
    words = spoken(before)
    return not _TO_COME.isdisjoint(words)


def _says_better(doc: Doc, before: list[Target], after: list[Target], cue: Span) -> bool:
    """Whether a good result of the same thing follows a correction, so that the fault found first is the
    mistake ("oil's low. No, hang on, I stood at an angle, it's between the marks")."""
    if not before or not after or not before[-1].is_condition:
        return False
    if before[-1].reading is not FlaggedReading.PRESENT or not all(
        states_good(one) or one.reading is FlaggedReading.ABSENT for one in after
    ):
        return False
    named = within(doc, MENTIONS, cue.end, after[0].span.end)
    return not any(span.label_ in _NAMES for span in named)


def _replace(doc: Doc, reading: SentenceReading, cue: Span) -> None:
    """Reads a flagged word that went with a replaced name, and is said again with the new one, as absent
    ("left plate's loose, as you were, right plate's loose")."""
    again = {
        one.span._.term.concepts[0]
        for one in reading.targets
        if one.is_condition and one.span.start >= cue.end
    }
    for one in reading.targets:
        inside = one.span.start in doc._.taken_back and one.span.end <= cue.start
        if one.is_condition and inside and one.span._.term.concepts[0] in again:
            one.reading, one.void = FlaggedReading.ABSENT, True


def _says_again(doc: Doc, before: list[Target], after: list[Target], cue: Span) -> bool:
    """Whether a correction gives what was found to another thing ("the spinner's loose. I mean the cowl's
    loose")."""
    if not before or not before[-1].is_condition or not after or not after[0].is_condition:
        return False
    named = any(
        span.label_ in _NAMES for span in within(doc, MENTIONS, cue.end, after[0].span.start)
    )
    same = before[-1].span._.term.concepts[0] == after[0].span._.term.concepts[0]
    return named and same and after[0].reading is FlaggedReading.PRESENT


def _undo(doc: Doc, before: list[Target], after: list[Target], cue: Span) -> None:
    worse = any(one.is_condition and one.reading is FlaggedReading.PRESENT for one in after)
    named = any(span.label_ in _NAMES for span in within(doc, MENTIONS, cue.end, cue.end + 8))
    for target in before[-1:]:
        if target.is_condition and target.asked:
            target.reading, target.answered, target.asked = FlaggedReading.ABSENT, cue.end, False
        elif target.is_condition and target.reading is FlaggedReading.PRESENT:
            if not worse or named:
                target.reading, target.answered = FlaggedReading.ABSENT, cue.end
                concept = target.span._.term.concepts[0]
                target.void |= any(
                    one.is_condition and one.span._.term.concepts[0] == concept for one in after
                )
        elif target.is_condition and target.answered is not None:
            continue
        elif target.reading in (FlaggedReading.PRESENT, FlaggedReading.ABSENT):
            target.reading = FlaggedReading.UNCLEAR


def _retracts(doc: Doc, reading: SentenceReading, cue: Span) -> bool:
    """Whether a correction takes back what was said: a firm one always ("scratch that"), another where it
    goes on with "no" or with what it is instead."""
    sentence = reading.sentence
    if within(doc, QUANTITIES, max(sentence.start, cue.start - 4), cue.end + 6):
        return False
    if cue._.cue.scope is Scope.SENTENCE:
        return True
    words = spoken(
        token for token in doc[cue.end : min(sentence.end, cue.end + 6)] if is_word(token)
    )[:2]
    pronouns = {"it", "that", "they", "this", "those", "there"}
    return bool(words) and (
        words[0] in ("no", "not") or (words[0] in pronouns and bool(set(words[1:]) & _VERBS))
    )


def _words_before(doc: Doc, sentence: Span, cue: Span) -> bool:
    """Whether anything but filling words stands before a cue in its sentence."""
    quiet = {
        index
        for other in within(doc, CUES, sentence.start, cue.start)
        for index in range(other.start, other.end)
    }
    return any(is_word(token) and token.i not in quiet for token in doc[sentence.start : cue.start])
