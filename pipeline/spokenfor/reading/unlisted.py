"""Results in words that no cue phrase lists ("it bites", "has popped out again"): told by their likeness to
some thousand clauses written down for the purpose, by a linear model over their words and pairs of words
(clause_weights.py). What is told this way is marked in the statement, for a person to listen to.
"""

from __future__ import annotations

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.afterwards import gainsaid, turns_round
from spokenfor.reading.clause_weights import DENIALS, NAME, Lean, weights
from spokenfor.reading.contractions import spoken, spoken_words, spread
from spokenfor.reading.document import (
    ASPECTS,
    CUES,
    QUANTITIES,
    is_position,
    is_word,
    key_of,
    mentioned,
    mentions_by_token,
    table_of,
    tokens_of,
    within,
)
from spokenfor.reading.joining import JOINS, only_names
from spokenfor.reading.reach import reaching
from spokenfor.reading.targets import SentenceReading, Target
from spokenfor.reading.ties import Tie, said_in, tie
from spokenfor.reading.unit import SETTLING

# Words of a piece that goes on about names alone.
_SHORT = 4
_LONGER = 3

DOUBT = 0.6
"""A clause as probably bad as this, and not enough to be taken for a fault, casts doubt on a tick beside it."""

_GAINSAID = 0.8
"""How probable it is that what is taken back in as many words ("but it isn't") is a fault."""

_OTHERWISE = {
    CueCategory.SUPPOSED.value,
    CueCategory.EXPECTED.value,
    CueCategory.PURPOSE.value,
    CueCategory.HISTORY.value,
    CueCategory.ELSEWHERE.value,
    CueCategory.IRONY.value,
    CueCategory.ANY.value,
    CueCategory.CORRECTION.value,
    CueCategory.CLOSING.value,
}
_REACHING = {*_OTHERWISE, CueCategory.RULE.value}
# In a sentence with one of these, words that nothing lists are left alone.
_SENTENCES = {CueCategory.BY_REFERENCE.value, CueCategory.IRONY.value}
_SAYS_NOTHING = {
    CueCategory.FILLER.value,
    CueCategory.AFFIRMED.value,
    CueCategory.DENIED.value,
    CueCategory.PART.value,
    CueCategory.PSEUDO.value,
}
_EXCUSES = {CueCategory.NOT_INSPECTED.value, CueCategory.NOT_FITTED.value}
_SETTLING = {category.value for category in SETTLING} | {CueCategory.UNSATISFACTORY.value}
# What a clause with one of these says is no result ("it must go in when...").
_MODALS = frozenset("must should shall ought would might may if unless until till".split())
_DOING = frozenset("get reach make tell say read remember".split())


def add_unlisted(doc: Doc, reading: SentenceReading, before: SentenceReading | None) -> None:
    """Adds a result to each clause of a sentence in which nothing that is listed says how a thing is, where its
    words lean far enough one way. What a name alone answers (`before` is a question) is taught, not found."""
    sentence = reading.sentence
    cues = {cue.label_ for cue in within(doc, CUES, sentence.start, sentence.end)}
    corrects = CueCategory.CORRECTION.value in cues
    gainsays = (corrects or key_of(sentence[0]) == "no") and not mentioned(
        doc, TermKind.COMPONENT, sentence.start, sentence.end
    )
    if corrects and gainsays:
        _doubt_corrected(doc, reading)
    if reading.is_question or sentence[0]._.doubtful or gainsays or cues & _SENTENCES:
        return
    held = weights()
    answers = before is not None and before.is_question
    behind_names = set[int]() if answers else _behind_names(doc, reading)
    for start, end in reading.clauses:
        if gainsaid(spoken_words(doc, start, end)) and _found_good(reading, start):
            span = Span(doc, start, end, label=CueCategory.UNSATISFACTORY.value)
            reading.targets.append(Target(span, FlaggedReading.PRESENT, unlisted=_GAINSAID))
            continue
        if not _says_nothing_listed(doc, reading, start, end):
            continue
        behind = start in behind_names and _says_of_its_own(doc, start, end)
        at = _result_of(doc, start, end, 1 if behind else 2)
        if (
            at is None
            or _says_where_alone(doc, start, end)
            or _names_an_aspect_alone(doc, start, end)
            or {cue.label_ for cue in reaching(doc, reading, at)} & _REACHING
        ):
            continue
        tied = Tie.NAMED if behind else tie(doc, reading, start, end)
        # Why a thing was not looked at is no fault of it ("can't reach it, there's a trestle under it"), nor is
        # it well for that ("I can't see it and can't feel it").
        excused = bool(cues & _EXCUSES)
        named = mentioned(doc, TermKind.COMPONENT, start, end)
        words = [*[NAME] * behind, *_words(doc, start, end)]
        if _has_to(words):
            continue
        lean = held.lean(words)
        found = tied is not Tie.NONE and not (excused and not named) and not _fails_to(words)
        if found and lean.good >= max(held.needed_good, tied.value):
            label, sure, meant = CueCategory.SATISFACTORY, lean.good, FlaggedReading.PRESENT
        elif lean.bad >= max(DOUBT, tied.value) and not excused:
            label, sure = CueCategory.UNSATISFACTORY, lean.bad
            told = tied is not Tie.NONE and sure >= held.needed_bad
            meant = FlaggedReading.PRESENT if told else FlaggedReading.UNCLEAR
        elif turns_round(words, lean.bad) and _found_good(reading, start):
            label, sure, meant = CueCategory.UNSATISFACTORY, DOUBT, FlaggedReading.UNCLEAR
        else:
            continue
        span = Span(doc, at.start, at.end, label=label.value)
        reading.targets.append(Target(span, meant, unlisted=sure))
    reading.targets.sort(key=lambda one: one.span.start)


def _doubt_corrected(doc: Doc, reading: SentenceReading) -> None:
    """Doubts what was said before a correction that nothing explains ("Full. *Sorry, wrong glass*")."""
    words = [at for at in range(reading.sentence.start, reading.sentence.end) if is_word(doc[at])]
    if reading.targets or reading.is_aside(reading.sentence.start) or len(words) < _LONGER:
        return
    span = Span(doc, words[-1], words[-1] + 1, label=CueCategory.UNSATISFACTORY.value)
    reading.targets.append(Target(span, FlaggedReading.UNCLEAR, unlisted=DOUBT))


def _fails_to(words: list[str]) -> bool:
    """Whether a clause tells what the speaker cannot do ("I *can't get* a straw into it")."""
    return any(
        two == "not"
        and (three in _DOING if one in ("can", "could") else one == "will" and three == "find")
        for one, two, three in zip(words, words[1:], words[2:], strict=False)
    )


def _has_to(words: list[str]) -> bool:
    """Whether a clause tells what the speaker has to do ("I just *need to* lean over")."""
    who = next((at for at, word in enumerate(words) if word in ("i", "we")), len(words))
    told = [word for word in words[who + 1 :] if word not in ("just", "do", "will", "only")]
    return told[1:2] == ["to"] and told[0] in ("need", "have", "want", "got")


def _found_good(reading: SentenceReading, before: int) -> bool:
    """Whether something was found good before a token of a sentence."""
    return any(one.is_good and one.span.start < before for one in reading.targets)


def _behind_names(doc: Doc, reading: SentenceReading) -> set[int]:
    """Where the clauses begin that name nothing and stand behind names alone, or behind other short pieces that
    do ("cabin door, runs, *clicks*"): the name is their subject."""
    found: set[int] = set()
    behind = False
    for start, end in reading.clauses:
        named = mentioned(doc, TermKind.COMPONENT, start, end)
        if named:
            behind = only_names(doc, start, end, named)
            continue
        behind = behind and len(said_in(doc, start, end)) <= _SHORT
        if behind:
            found.add(start)
    return found


def _says_of_its_own(doc: Doc, start: int, end: int) -> bool:
    """Whether a short piece is more than a nod, a denial or a filling word: "horn, *nothing*" may be dead."""
    words = spoken_words(doc, start, end)
    empty = tokens_of(cue for cue in within(doc, CUES, start, end) if cue.label_ in _SAYS_NOTHING)
    told = any(table_of(doc).is_word[at] and at not in empty for at in range(start, end))
    return told and len(words) <= _SHORT and not DENIALS.issuperset(words)


def _says_where_alone(doc: Doc, start: int, end: int) -> bool:
    """Whether a clause is no more than places ("these are the pitot tubes, *left and right*")."""
    return all(
        is_position(doc, at) or table_of(doc).key[at] in JOINS or table_of(doc).key[at].isdecimal()
        for at in said_in(doc, start, end)
    )


def _names_an_aspect_alone(doc: Doc, start: int, end: int) -> bool:
    """Whether a clause only names a thing, or what is to be stated of it ("tyre *pressure*, sixty", "wiper *as
    well*")."""
    if not DENIALS.isdisjoint(spoken_words(doc, start, end)):
        return False
    named = [*mentioned(doc, TermKind.COMPONENT, start, end), *within(doc, ASPECTS, start, end)]
    fill = [one for one in within(doc, CUES, start, end) if one.label_ == CueCategory.FILLER]
    said = tokens_of([*named, *fill])
    return all(at in said or table_of(doc).key[at] in JOINS for at in said_in(doc, start, end))


def _says_nothing_listed(doc: Doc, reading: SentenceReading, start: int, end: int) -> bool:
    if reading.is_aside(start) or within(doc, QUANTITIES, start, end):
        return False
    named = mentioned(doc, TermKind.COMPONENT, start, end)
    # What names nothing is said of what its sentence named last ("starter, leads *on*").
    named = named or mentioned(doc, TermKind.COMPONENT, reading.sentence.start, start)[-1:]
    owners = {concept for span in named for concept in span._.term.concepts}
    for one in reading.targets:
        inside = start <= one.span.start < end or start < one.span.end <= end
        if inside and not (owners and _is_state_of_others(one, owners)):
            return False
    labels = {cue.label_ for cue in within(doc, CUES, start, end) if not _is_trial(doc, cue)}
    if table_of(doc).key[start] == "whatever":
        return False
    return not labels & (_OTHERWISE | _SETTLING) and _MODALS.isdisjoint(spoken(doc[start:end]))


def _is_trial(doc: Doc, cue: Span) -> bool:
    """Whether a "when" only says what one does to try a thing ("it rocks *when I push it*")."""
    follows = table_of(doc).key[cue.end] if cue.end < table_of(doc).after[cue.start] else ""
    tried_by = {follows, table_of(doc).key[cue.end - 1]}
    return table_of(doc).key[cue.start] == "when" and not tried_by.isdisjoint(("i", "you"))


def _is_state_of_others(target: Target, owners: set[str]) -> bool:
    """Whether a target is a state word of other components than those named ("the vent is *free*")."""
    if target.span.label_ != TermKind.STATE or not DENIALS.isdisjoint(spoken(target.span)):
        return False
    return owners.isdisjoint(one.partition(":")[0] for one in target.span._.state.concepts)


def _result_of(doc: Doc, start: int, end: int, least: int) -> Span | None:
    """Where the result of a clause is to stand: on the last of the names that it is of, or on its last word
    where it names nothing and has at least so many. None for a bare name and for a name that is denied."""
    named = mentioned(doc, TermKind.COMPONENT, start, end)
    words = said_in(doc, start, end)
    if not named or not words:
        return doc[words[-1] : words[-1] + 1] if len(words) >= least else None
    first = named[0]
    before = {
        table_of(doc).key[at] for at in range(start, first.start) if table_of(doc).is_word[at]
    }
    for cue in within(doc, CUES, start, first.start):
        joined = {table_of(doc).key[at] for at in range(cue.end, first.start)} <= JOINS
        if cue.label_ == CueCategory.ABSENT and joined:
            return None
    last = first
    for other in named[1:]:
        if not {table_of(doc).key[at] for at in range(last.end, other.start)} <= JOINS:
            break
        last = other
    others = [
        at
        for at in words
        if at >= last.end and not is_position(doc, at) and table_of(doc).key[at] not in JOINS
    ]
    told = others or before - JOINS or len(spread(table_of(doc).key[last.end - 1])) > 1
    return last if told else None


def clause_lean(doc: Doc, start: int, end: int) -> Lean:
    """Which way the words of a clause lean, whatever is listed in it."""
    return weights().lean(_words(doc, start, end))


def _words(doc: Doc, start: int, end: int) -> list[str]:
    """The words of a clause as the model weighs them."""
    by_token = mentions_by_token(doc)
    words: list[str] = []
    for at in range(start, end):
        mention = by_token.get(at)
        if mention is not None and mention.label_ == TermKind.COMPONENT:
            if at == mention.start:
                words.append(NAME)
            if at == mention.end - 1:
                words += spread(table_of(doc).key[at])[1:]
        elif table_of(doc).is_word[at]:
            words += spread(table_of(doc).key[at])
    return words
