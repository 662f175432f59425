"""Late answers: "any leaks? None", "should be no play, and there is", "is it tight? It is"."""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory, Direction, Scope
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    is_word,
    key_of,
    mentions_by_token,
    table_of,
    within,
)
from spokenfor.reading.targets import SentenceReading, Target

_YES_NO = (CueCategory.AFFIRMED.value, CueCategory.DENIED.value)
# How many sentences that say nothing may lie between a question and its answer (*common practice*).
_BETWEEN = 2
_OPENS = {"and", "but", "well", "so", "yes", "no", "yeah"}
_THIS = {"this", "these"}
_NONE = {"none", "neither"}
_WHERE = frozenset("on in at here there along round under inside i we that to showing".split())
_FIRM = frozenset("yes no yeah oh mistake sadly actually well except wait hang looked".split())
_IT, _BEING = {"it", "they", "there", "that"}, {"is", "are", "was", "were"}
_SAYS_NOTHING = {
    CueCategory.FILLER.value,
    CueCategory.NOW.value,
    CueCategory.TERMINATION.value,
    CueCategory.PSEUDO.value,
    *_YES_NO,
}
_LISTED = ("or", "and", "the", "any", "a", "no", "round", "around", "on", "in", "at", "of")


def answer(doc: Doc, readings: list[SentenceReading]) -> None:
    """Carries the answers in the last sentence back to what was asked, looked for or expected, there or in
    a sentence shortly before."""
    reading = readings[-1]
    sentence = reading.sentence
    for cue in within(doc, CUES, sentence.start, sentence.end):
        if cue.label_ in _YES_NO:
            if _is_answer(doc, cue) or _is_own_clause(doc, reading, cue):
                _yes_no(doc, readings, cue)
        elif (
            cue.label_ == CueCategory.ABSENT
            and (cue._.cue.direction in (Direction.BACKWARD, Direction.ALONE) or _is_none(doc, cue))
            and cue._.cue.scope is not Scope.NEXT
            and not _is_of_another(doc, cue)
        ):
            for target in _asked_before(doc, readings, cue, named=True):
                _settle(target, FlaggedReading.ABSENT, cue.end)
    _by_result(doc, readings)


def _is_none(doc: Doc, cue: Span) -> bool:
    """Whether a denial that denies what follows is followed only by where ("*there aren't any* on this
    blade")."""
    keys, after = table_of(doc).key, table_of(doc).after[cue.start]
    follows = cue.end == after or not table_of(doc).is_word[cue.end] or keys[cue.end] in _WHERE
    return len(cue) > 1 and keys[cue.end - 1] == "any" and follows


def _is_of_another(doc: Doc, cue: Span) -> bool:
    """Whether a denial stands right behind a position that stands for a component ("left weeping, *right*
    nothing"): it answers nothing said before."""
    before = mentions_by_token(doc).get(cue.start - 1)
    return before is not None and before._.said is not None


def _settle(target: Target, reading: FlaggedReading, end: int) -> None:
    target.reading, target.answered = reading, end
    target.asked = target.expected = False


def _yes_no(doc: Doc, readings: list[SentenceReading], cue: Span) -> None:
    """A short answer. Where nothing was asked, "no, it isn't" and "yes, there is" gainsay what was said
    last."""
    yes = cue.label_ == CueCategory.AFFIRMED
    meant = FlaggedReading.PRESENT if yes else FlaggedReading.ABSENT
    asked = _asked_before(doc, readings, cue, named=False)
    if asked:
        bare = len(cue) == 1
        for target in asked:
            # A bare "yes" after a look is only talk; after a question it is an answer.
            if not (yes and bare and not _was_question(readings, target)):
                _settle(target, meant, cue.end)
        return
    if _expectation(doc, readings, cue, yes=yes):
        return
    supposed = _supposed_before(doc, readings, cue)
    if supposed is not None:
        _settle(supposed, meant, cue.end)
        return
    said = [one for one in readings[-1].targets if one.span.end <= cue.start]
    if not said and len(readings) > 1 and _names_nothing(doc, readings[-1], cue.start):
        said = readings[-2].targets
    contrary = FlaggedReading.ABSENT if yes else FlaggedReading.PRESENT
    opening = table_of(doc).key[readings[-1].sentence.start : cue.start + 1]
    firm = len(cue) > 1 and not _FIRM.isdisjoint(opening)
    if said and firm and said[-1].reading is contrary:
        _settle(said[-1], meant, cue.end)


def _supposed_before(doc: Doc, readings: list[SentenceReading], cue: Span) -> Target | None:
    """The flagged word that was only talked about, where a short answer speaks of this very thing ("they weep
    when it's cold. This one doesn't") or of what it was thought to be ("I thought it was weeping, *but it
    isn't*")."""
    said = [one for one in readings[-1].targets if one.span.end <= cue.start]
    of_this = bool(_THIS & {key_of(token) for token in cue})
    if not of_this and not (said and _is_about(doc, cue)):
        return None
    if not said and len(readings) > 1 and _names_nothing(doc, readings[-1], cue.start):
        said = readings[-2].targets
    last = said[-1] if said and said[-1].is_condition else None
    between = within(doc, CUES, last.span.end, cue.start) if last is not None else []
    if any(one.label_ == CueCategory.ELSEWHERE for one in between):
        # "But that was on the other machine, *not this one*": which machine it was, and no finding.
        return None
    return last if last is not None and last.reading is FlaggedReading.SUPPOSED else None


def _is_about(doc: Doc, cue: Span) -> bool:
    """Whether a short answer with a verb stands right behind "but" or "and" ("but it isn't", "and it is")."""
    words = spoken(cue)
    before = table_of(doc).key[cue.start - 1]
    joined = before in ("but", "and") or words[0] in ("but", "and")
    return joined and not _IT.isdisjoint(words) and not _BEING.isdisjoint(words)


def _expectation(doc: Doc, readings: list[SentenceReading], cue: Span, *, yes: bool) -> bool:
    """A short answer to what was expected in words the pack has no result for ("both should come on. They
    do", "there shouldn't be any oil, and there isn't"): good where it agrees, bad where not."""
    here = [readings[-1]] if len(cue) > 1 else []
    if here and _names_nothing(doc, readings[-1], cue.start) and len(readings) > 1:
        here.append(readings[-2])
    for owner in here:
        end = cue.start if owner is readings[-1] else owner.sentence.end
        expected = [
            one
            for one in within(doc, CUES, owner.sentence.start, end)
            if one.label_ == CueCategory.EXPECTED
        ]
        if not expected or owner.is_question or owner.is_aside(expected[-1].start):
            continue
        first = expected[-1]
        if any(one.span.end <= end for one in owner.targets):
            return False
        begin = max(owner.sentence.start, first.start - 1)
        words = spoken(doc[begin:end])
        against = "not" in words or "no" in words
        label = CueCategory.SATISFACTORY if yes is not against else CueCategory.UNSATISFACTORY
        span = Span(doc, first.start, first.end, label=label.value)
        result = Target(span, FlaggedReading.PRESENT, answered=cue.end)
        owner.targets.append(result)
        owner.targets.sort(key=lambda one: one.span.start)
        return True
    return False


def _was_question(readings: list[SentenceReading], target: Target) -> bool:
    owner = next(one for one in readings[-1 - _BETWEEN - 1 :] if target in one.targets)
    return owner.is_question or target.expected


def _is_own_clause(doc: Doc, reading: SentenceReading, cue: Span) -> bool:
    """Whether a short answer was cut off as a clause of its own with no mark around it."""
    start, _ = reading.clauses[reading.clause_of(cue.start)]
    _, end = reading.clauses[reading.clause_of(cue.end - 1)]
    words = [token for token in doc[start:end] if is_word(token)]
    return start >= cue.start - 1 and bool(words) and words[-1].i < cue.end


def _is_answer(doc: Doc, cue: Span) -> bool:
    """Whether a short answer is a clause of its own, or opens its sentence."""
    first, after = table_of(doc).first[cue.start], table_of(doc).after[cue.start]
    start = cue.start
    while (
        start > first
        and table_of(doc).is_word[start - 1]
        and table_of(doc).key[cue.start] not in _OPENS
    ):
        start -= 1
        if table_of(doc).key[start] in _OPENS:
            break
    end = cue.end
    while end < after and table_of(doc).is_word[end]:
        end += 1
    inside = _quiet(doc, start, end) | set(range(cue.start, cue.end))
    opening = all(
        not table_of(doc).is_word[at] or at in _quiet(doc, first, start)
        for at in range(first, start)
    )
    strong = table_of(doc).key[cue.start] in ("yes", "yeah") or (len(cue) > 1 and opening)
    if (
        opening
        and strong
        and cue.end < after
        and table_of(doc).key[cue.start] in ("yes", "yeah", "no")
    ):
        return True
    return set(range(start, end)) <= inside


def _quiet(doc: Doc, start: int, end: int) -> set[int]:
    """Tokens that lie in words which say nothing by themselves."""
    return {
        index
        for cue in within(doc, CUES, start, end)
        if cue.label_ in _SAYS_NOTHING
        for index in range(cue.start, cue.end)
    } | {token.i for token in doc[start:end] if key_of(token) in _OPENS}


def _names_nothing(doc: Doc, reading: SentenceReading, end: int) -> bool:
    mentions = within(doc, MENTIONS, reading.sentence.start, end)
    kinds = (TermKind.COMPONENT.value, TermKind.CONDITION.value)
    return not any(mention.label_ in kinds for mention in mentions)


def _asked_before(
    doc: Doc, readings: list[SentenceReading], cue: Span, *, named: bool
) -> list[Target]:
    """What still waits for an answer before a cue: in its sentence, else in the last sentence that said
    anything. With `named`, also a flagged word that stands by itself ("leaks, none")."""
    reading = readings[-1]
    none = not _NONE.isdisjoint(key_of(token) for token in cue)
    earlier = [target for target in reading.targets if target.span.end <= cue.start]
    if earlier:
        return [one for one in earlier if _is_open(doc, reading, one, named=named, none=none)]
    if not _names_nothing(doc, reading, cue.start):
        return []
    for before in reversed(readings[-2 - _BETWEEN : -1]):
        if before.targets:
            return [
                one for one in before.targets if _is_open(doc, before, one, named=named, none=none)
            ]
        if not _names_nothing(doc, before, before.sentence.end):
            return []
    return []


def _is_open(
    doc: Doc, reading: SentenceReading, target: Target, *, named: bool, none: bool = False
) -> bool:
    """Whether a target waits for an answer; with `none` ("there's none", "neither") also what was only talked
    about ("you get crazing at the corners. These have got neither")."""
    if target.expected or (target.asked and target.reading is FlaggedReading.LOOKED_FOR):
        return not reading.is_aside(target.span.start) or target.taught
    if not named or not target.is_condition:
        return False
    if target.reading is FlaggedReading.SUPPOSED and none:
        return True
    if target.reading is not FlaggedReading.PRESENT or _denies_itself(target):
        return False
    start, end = reading.clauses[reading.clause_of(target.span.start)]
    known = {
        index for span in within(doc, MENTIONS, start, end) for index in range(span.start, span.end)
    } | {
        index
        for cue in within(doc, CUES, start, end)
        if cue.label_ in (CueCategory.ABSENT.value, CueCategory.FILLER.value)
        for index in range(cue.start, cue.end)
    }
    others = [token for token in doc[start:end] if is_word(token) and token.i not in known]
    return all(key_of(token) in _LISTED for token in others)


def _denies_itself(target: Target) -> bool:
    """Whether a flagged word is itself a denial ("isn't working"): a "no" behind it agrees."""
    words = set(spoken(target.span))
    return not words.isdisjoint(("not", "no", "never"))


def _by_result(doc: Doc, readings: list[SentenceReading]) -> None:
    """A good result that follows answers a flagged word that was asked about in so many words, or expected
    ("I was expecting corrosion, but it's spotless")."""
    reading = readings[-1]
    good = next((target for target in reading.targets if target.is_good), None)
    if good is None:
        return
    waiting = [
        one
        for one in reading.targets
        if one.is_condition and one.expected and one.span.end <= good.span.start
    ]
    words = [token for token in reading.sentence if is_word(token)]
    short = len(words) <= len(good.span) + 1
    asked = len(readings) > 1 and (readings[-2].is_question or short)
    question = readings[-2] if asked else None
    first = reading.targets[0] is good and _names_nothing(doc, reading, good.span.start)
    if question is not None and first:
        waiting += [one for one in question.targets if one.is_condition and one.asked]
    for target in waiting:
        _settle(target, FlaggedReading.ABSENT, good.span.end)
