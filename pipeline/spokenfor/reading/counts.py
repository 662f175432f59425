"""Whether as many were counted as there should be ("there should be three, I *count two*"; "nuts, *nine of
ten*"). All words: *common practice* of spoken English.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import dropwhile, pairwise

from spacy.tokens import Doc, Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.reading.cardinals import cardinal_at
from spokenfor.reading.contractions import spoken_words
from spokenfor.reading.document import (
    QUANTITIES,
    is_position,
    mentioned,
    table_of,
    tokens_of,
    within,
)
from spokenfor.reading.only_some import LEAVE_OUT, counted
from spokenfor.reading.targets import SentenceReading, Target, states_good

_SHOULD = frozenset("should ought supposed meant takes".split())
_HAS = frozenset("has takes".split())
_TOLD = frozenset("count counted found only".split())
_COUNTING = frozenset("there count counted make see find found got have only".split())
_UP_THERE = frozenset("up there here of them in all on it each fitted".split())
_BUT = frozenset("but bar except".split())
_EVERY = frozenset("all every everything everyone each both any".split())
_WHICH = frozenset(
    "top bottom left right front rear back last first inner outer odd nearside offside".split()
)
_LEADING = frozenset("that's it's and all so".split())
_JOINING = frozenset("and but the".split())
_ORDINALS = frozenset("second third fourth fifth sixth seventh eighth ninth tenth".split())
_REST = _ORDINALS | {"other", "rest", "last", "first"}
_DONE = frozenset("checked done seen looked inspected tried walked".split())
_SCALES = frozenset("hundred thousand million".split())


def add_counts(doc: Doc, reading: SentenceReading) -> None:
    """Adds a result where a sentence tells how many there should be and how many there are, or a piece of it
    is no more than how many of how many."""
    sentence = reading.sentence
    keys = table_of(doc).key[sentence.start : sentence.end]
    if (
        (sum(_count(key) is not None for key in keys) < 2 and (LEAVE_OUT | _BUT).isdisjoint(keys))
        or reading.is_question
        or table_of(doc).doubtful[sentence.start]
        or reading.is_aside(sentence.start)
    ):
        return
    ways = (_against_due, _of_all, _fewer, _of_named, _but_some, _out_of, _the_rest)
    told = [one for one in (way(doc, reading) for way in ways) if one is not None]
    # What is told of too few decides.
    found = min(told, key=lambda one: one[1], default=None)
    if found is not None:
        at, enough = found
        label = CueCategory.SATISFACTORY if enough else CueCategory.UNSATISFACTORY
        span = Span(doc, at, at + 1, label=label.value)
        reading.targets.append(Target(span, FlaggedReading.PRESENT))
        reading.targets.sort(key=lambda one: one.span.start)


def _against_due(doc: Doc, reading: SentenceReading) -> tuple[int, bool] | None:
    """Where the number counted stands, and whether it is what was due."""
    due: int | None = None
    counted: tuple[int, int] | None = None
    for start, end in reading.clauses:
        words = set(spoken_words(doc, start, end))
        numbers = _numbers(doc, start, end)
        if not numbers:
            continue
        if words & (_SHOULD | _HAS) and due is None and not words & _TOLD:
            due = numbers[0][1]
        elif words & _COUNTING:
            counted = numbers[0]
    if due is None or counted is None or counted[1] > due:
        return None  # More than should be may be bad ("three clicks, I count nine").
    return counted[0], counted[1] == due


def _of_all(doc: Doc, reading: SentenceReading) -> tuple[int, bool] | None:
    """The same of a piece such as "nine of ten": less than all is too few, where nobody tells of the rest."""
    for start, end in reading.clauses:
        words = [
            at
            for at in range(start, end)
            if table_of(doc).is_word[at] and table_of(doc).key[at] != "out"
        ]
        words = list(dropwhile(lambda at: table_of(doc).key[at] in _LEADING, words))
        keys = [table_of(doc).key[at] for at in words[:4]]
        ends = len(keys) == 3 or keys[3:] == ["on"]
        if ends and keys[1] == "of" and keys[0].isdecimal() and keys[2].isdecimal():
            return words[0], int(keys[0]) >= int(keys[2])
    return None


def _out_of(doc: Doc, reading: SentenceReading) -> tuple[int, bool] | None:
    """The same of a piece that counts what it names or says ("*six catches of six*", "*seven of eight* screws",
    "*thirteen* blades intact *out of fourteen*"), where the sentence tells nothing of the rest."""
    keys = table_of(doc).key
    if any(map(_is_fault, reading.targets)):
        return None
    for start, end in reading.clauses:
        numbers = _numbers(doc, start, end)
        if len(numbers) != 2 or not _DONE.isdisjoint(keys[start:end]):
            continue
        (first, some), (second, every) = numbers
        if keys[first - 1] in _EVERY:
            continue  # "Every one of the eight."
        apart = [key for key in keys[first + 1 : second] if key not in ("the", "all")]
        counted_out = apart[-2:] == ["out", "of"] and any(map(_is_well, reading.targets))
        named = apart == ["of"] or (len(apart) == 2 and apart[1] == "of" and apart[0][-1:] == "s")
        if counted_out or (named and not _is_told(reading, start, end)):
            return first, some >= every
    return None


def _is_told(reading: SentenceReading, start: int, end: int) -> bool:
    """Whether anything is said between two tokens of how a thing is."""
    return any(start <= one.span.start < end for one in reading.targets)


def _the_rest(doc: Doc, reading: SentenceReading) -> tuple[int, bool] | None:
    """The same where so many are well, and of the others something else is told in words that nothing lists
    ("nine tight, *one* spins", "nine tight, *the other* turns by hand")."""
    for (start, end), (begin, after) in pairwise(reading.clauses):
        counted = _numbers(doc, start, end)
        words = [at for at in range(begin, after) if table_of(doc).is_word[at]]
        words = list(dropwhile(lambda at: table_of(doc).key[at] in _JOINING, words))
        if not counted or len(words) < 2:
            continue
        well = [one for one in reading.targets if start <= one.span.start < end and _is_well(one)]
        told = _is_told(reading, begin, after)
        number = _count(table_of(doc).key[words[0]])
        others = table_of(doc).key[words[0]] in _REST or (
            number is not None
            and number < counted[0][1]
            and table_of(doc).key[words[1]] not in ("of", "on")
        )
        if well and others and not told and not within(doc, QUANTITIES, begin, after):
            return words[0], False
    return None


def _fewer(doc: Doc, reading: SentenceReading) -> tuple[int, bool] | None:
    """The same where a piece only counts them, and the next says of fewer that they are well ("five up there,
    *four* lit")."""
    good = {one.span.start for one in reading.targets if not one.is_condition and states_good(one)}
    for (start, end), (begin, after) in pairwise(reading.clauses):
        there = [table_of(doc).key[at] for at in range(start, end) if table_of(doc).is_word[at]]
        counted = _numbers(doc, begin, after)
        if not there or not there[0].isdecimal() or not _UP_THERE.issuperset(there[1:]):
            continue
        first = next((at for at in range(begin, after) if table_of(doc).is_word[at]), after)
        well = not good.isdisjoint(range(begin, after))
        if well and counted and counted[0][0] == first and counted[0][1] < int(there[0]):
            return first, False
    return None


def _of_named(doc: Doc, reading: SentenceReading) -> tuple[int, bool] | None:
    """The same where "nine of the ten nuts" are well and the sentence tells nothing of the rest."""
    good = [one for one in reading.targets if _is_well(one)]
    end = reading.sentence.end
    for name in mentioned(doc, TermKind.COMPONENT, reading.sentence.start, end):
        meant, due = counted(doc, name)
        most = not LEAVE_OUT.isdisjoint(table_of(doc).key[max(0, name.start - 3) : name.start])
        fewer = meant is not None and due is not None and 0 < meant < due
        if not (fewer or (meant == 0 and most)):
            continue
        told = any(one.span.start >= name.end for one in good)
        if told and not any(_is_fault(one) for one in reading.targets):
            return name.start, False
    return None


def _but_some(doc: Doc, reading: SentenceReading) -> tuple[int, bool] | None:
    """The same where all but some are well ("*all but one* tight", "in *but two*", "no play *but the top
    one*"), and the sentence tells nothing of those."""
    keys, end = table_of(doc).key, reading.sentence.end
    if any(map(_is_fault, reading.targets)):
        return None
    for at in range(reading.sentence.start + 1, end - 1):
        if keys[at] not in _BUT:
            continue
        of_all = keys[at - 1] in _EVERY
        some = at + 2 if keys[at + 1] == "the" else at + 1
        while some + 1 < end and keys[some] in _WHICH:
            some += 1
        number = some < end and (keys[some].isdecimal() or keys[some] in _ORDINALS)
        follows = keys[some + 1] if some + 1 < end else "."
        told = follows[0].isalnum() and follows not in ("at", "on", "in", "of") and not of_all
        if not number or told:
            continue
        if any(_is_well(one) and (of_all or one.span.end <= at) for one in reading.targets):
            return at, False
    return None


def _is_well(target: Target) -> bool:
    absent = target.is_condition and target.reading is FlaggedReading.ABSENT
    return absent or (not target.is_condition and states_good(target))


def _is_fault(target: Target) -> bool:
    return target.is_bad_word and target.reading is FlaggedReading.PRESENT


def _numbers(doc: Doc, start: int, end: int) -> list[tuple[int, int]]:
    """The counts of a clause: its numbers that are no measures, each with where it stands."""
    measured = tokens_of(within(doc, QUANTITIES, start, end))
    counts = [
        (at, _count(table_of(doc).key[at]))
        for at in range(start, end)
        if at not in measured and not is_position(doc, at)
    ]
    return [(at, count) for at, count in counts if count is not None]


@lru_cache(maxsize=10_000)
def _count(key: str) -> int | None:
    """The whole number that one word means ("9", "fourteen"), or None."""
    found = cardinal_at((key,), 0)
    return int(found[0]) if found is not None and key not in _SCALES else None
