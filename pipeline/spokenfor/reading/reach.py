"""Which cues reach a word: direction, scope and termination, after ConText (Harkema et al. 2009)."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory, Direction, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.aims import goes_on_listing, purpose_reaches
from spokenfor.reading.contractions import spoken, spread
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    is_word,
    key_of,
    mentioned,
    table_of,
    within,
)
from spokenfor.reading.examples import is_any_such, is_generic, is_stated
from spokenfor.reading.history import history_reaches
from spokenfor.reading.scopes import in_reach
from spokenfor.reading.targets import DENIALS, RESULTS, SentenceReading, targets_between

_JOINERS = {"and", "or", "nor", "but", ",", ";"}
_VERBS = frozenset("is are has have looks look feels does do was were will can".split())
_TURNED = {"is", "are", "does", "do", "has", "have", "will", "was", "were"}
_INERT = {
    CueCategory.CORRECTION.value,
    CueCategory.AFFIRMED.value,
    CueCategory.DENIED.value,
    CueCategory.IRONY.value,
    CueCategory.NOW.value,
}
# One of these after another goes on with a list ("no dents no cracks"), it does not turn it round.
_BARE = {"no", "nil", "none", "nothing", "zero", "without"}
_AGREEING = {"no", "none", "nothing", "nobody", "neither", "nowhere", "hardly"}
_CARRYING = set("have got there be see find on in at catch feel hear show".split())
_SAYING = {"say", "claim", "think", "mean", "swear"}
_CONDITIONAL = {"if", "when", "once", "whenever"}


def reaching(doc: Doc, reading: SentenceReading, target: Span) -> list[Span]:
    """The cues of a sentence whose scope takes in a word, in order of place."""
    if reading.reaching is None:
        taken_back = doc._.taken_back or ()
        reading.reaching = [
            cue
            for cue in within(doc, CUES, reading.sentence.start, reading.sentence.end)
            if cue.label_ not in _INERT
            and cue._.cue.direction is not Direction.ALONE
            and not (cue.label_ in DENIALS and cue.start in taken_back)
        ]
    return [
        cue
        for cue in reading.reaching
        if not (cue.start < target.end and target.start < cue.end)
        and _reaches(doc, reading, cue, target)
    ]


def denied(doc: Doc, cues: list[Span], target: Span) -> bool:
    """Whether the denials among the cues that reach a word come to a denial. One that governs another
    turns it round ("isn't free of", "can't say there's no"); those of a list do not, nor does one that only
    agrees with it ("ain't no slop", "don't have no dents")."""
    before = [cue for cue in cues if cue.label_ in DENIALS and cue.end <= target.start]
    after = [cue for cue in cues if cue.label_ in DENIALS and cue.end > target.start]
    count, last = (1, target) if after else (0, None)
    for cue in reversed(before):
        if last is not None and not _governs(doc, cue, last):
            break
        count, last = count + (last is None or not agrees(doc, cue, last)), cue
    return count % 2 == 1


def _governs(doc: Doc, outer: Span, inner: Span) -> bool:
    """Whether a denial stands over another: nothing between them joins, ends or states anything."""
    listed = all(table_of(doc).key[cue.start] in _BARE for cue in (outer, inner))
    joined = listed or any(key_of(token) in _JOINERS for token in doc[outer.end : inner.start + 1])
    return not joined and not targets_between(doc, outer.end, inner.start)


def agrees(doc: Doc, outer: Span, inner: Span) -> bool:
    """Whether a denial only agrees with the verb that is denied before it, as in much spoken English (negative
    concord): "don't see *no* leaks", "ain't *nothing* loose"."""
    between = set(spoken(doc[outer.end : inner.start]))
    words = spoken(outer)
    verb = outer.label_ in DENIALS and "not" in words and not _SAYING.intersection(words)
    return verb and table_of(doc).key[inner.start] in _AGREEING and between <= _CARRYING


def _reaches(doc: Doc, reading: SentenceReading, cue: Span, target: Span) -> bool:
    rule, label = cue._.cue, cue.label_
    if label == CueCategory.HISTORY:
        return history_reaches(doc, reading, cue, target)
    if rule.direction is Direction.BACKWARD and rule.scope is Scope.NEXT:
        hung = doc[target.end : cue.start]
        # "Straight, free" are two results: "free" frees of what is named, it denies no result.
        if label == CueCategory.ABSENT and target.label_ != TermKind.CONDITION:
            return False
        return cue.start >= target.end and not any(is_word(token) for token in hung)
    if cue.end > target.start:
        any_such = label == CueCategory.SUPPOSED and is_any_such(doc, reading, target)
        if any_such and cue.start >= target.end:
            return in_reach(doc, reading, Scope.CLAUSE, target.end, cue.start)
        ruled = label == CueCategory.RULE or table_of(doc).key[cue.start] in _CONDITIONAL
        if ruled and not is_generic(doc, reading, target):
            return False
        back = ruled or rule.direction is Direction.BOTH
        if label == CueCategory.SUPPOSED and is_stated(doc, reading, cue, target):
            return False
        return back and in_reach(doc, reading, rule.scope, target.end, cue.start)
    if rule.direction is Direction.BACKWARD or not in_reach(
        doc, reading, rule.scope, cue.end, target.start
    ):
        return False
    is_condition = target.label_ == TermKind.CONDITION
    if label == CueCategory.PURPOSE:
        if rule.scope is Scope.NEXT:
            between = targets_between(doc, cue.end, target.start)
            return is_condition and (not between or goes_on_listing(doc, cue.end, target))
        return purpose_reaches(doc, cue, target)
    if label == CueCategory.ABSENT:
        return _absence_reaches(doc, cue, target)
    if label == CueCategory.ANY:
        return is_condition and not _results_between(doc, cue.end, target.start)
    alone = len(cue) == 1 and table_of(doc).key[cue.start] == "not"
    if rule.scope is Scope.NEXT and alone and _new_subject(doc, cue.end, target.start):
        return False
    if rule.scope is Scope.NEXT:
        between = targets_between(doc, cue.end, target.start)
        return not between or (is_condition and _is_listed(doc, cue, target))
    return True


def _new_subject(doc: Doc, start: int, end: int) -> bool:
    """Whether the name of a component with a verb on it stands between two tokens ("not the blower, the
    *cooler's* clear")."""
    return any(
        len(spread(table_of(doc).key[span.end - 1])) > 1
        for span in mentioned(doc, TermKind.COMPONENT, start, end)
    )


def _is_listed(doc: Doc, cue: Span, target: Span) -> bool:
    """Whether a flagged word stands in a list with "or" that begins behind a denial ("isn't cracked, dented or
    corroded")."""
    end = table_of(doc).after[target.start]
    conditions = [
        span for span in within(doc, MENTIONS, cue.end, end) if span.label_ == TermKind.CONDITION
    ]
    inside = {index for span in conditions for index in range(span.start, span.end)}
    words = []
    for token in doc[conditions[0].start : end]:
        if token.i in inside:
            continue
        if key_of(token) not in (",", "or", "nor"):
            break
        words.append((token.i, key_of(token)))
    return any(word in ("or", "nor") for _, word in words) and target.start <= words[-1][0] + 1


def _results_between(doc: Doc, start: int, end: int) -> bool:
    return any(cue.label_ in RESULTS for cue in within(doc, CUES, start, end))


def _absence_reaches(doc: Doc, cue: Span, target: Span) -> bool:
    """Absence covers a list of conditions and ends at a result or at a component that follows one."""
    between = within(doc, CUES, cue.end, target.start)
    if target.label_ != TermKind.CONDITION:
        related = any(
            table_of(doc).key[at] in ("that", "which", "who")
            and _is_verb(table_of(doc).key[at + 1])
            for at in range(cue.end, target.start)
        )
        governed = [one for one in between if one.label_ in DENIALS]
        nested = (
            governed
            and not targets_between(doc, cue.end, governed[0].start)
            and not mentioned(doc, TermKind.COMPONENT, cue.end, target.start)
        )
        # "None of the hoses is damp", "neither lamp lights" deny what is said of them.
        partitive = "of" in {key_of(token) for token in cue[1:]} or _denies_named(doc, cue)
        partitive = partitive and not targets_between(doc, cue.end, target.start)
        return target.start == cue.end or related or partitive or bool(nested)
    if any(other.label_ in RESULTS or other.label_ == CueCategory.PURPOSE for other in between):
        return False
    if table_of(doc).key[cue.start] == "no" and _new_subject(doc, cue.end + 1, target.start):
        return False
    covered = [
        span
        for span in within(doc, MENTIONS, cue.end, target.start)
        if span.label_ == TermKind.CONDITION
    ]
    if cue._.cue.scope is Scope.NEXT and covered and not _is_listed(doc, cue, target):
        return False
    return not (covered and mentioned(doc, TermKind.COMPONENT, covered[0].end, target.start))


def _denies_named(doc: Doc, cue: Span) -> bool:
    """Whether "neither pump" or "no pumps" names what something is denied of, and goes on; "no the pump is dry"
    may have lost its mark."""
    after = min(cue.end + 1, table_of(doc).after[cue.start])
    named = mentioned(doc, TermKind.COMPONENT, cue.end, after)
    said = table_of(doc).key[cue.start]
    if said in ("nor", "neither") and cue.end < len(doc) and table_of(doc).key[cue.end] in _TURNED:
        return True  # "Nor does the right one work."
    denied = named and (said == "neither" or (said == "no" and named[0]._.plural))
    return bool(denied) and named[0].end < len(doc) and is_word(doc[named[0].end])


def _is_verb(key: str) -> bool:
    return not _VERBS.isdisjoint(spread(key))
