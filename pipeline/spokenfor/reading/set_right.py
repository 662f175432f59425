"""A fault, a deed and the contrary of the fault, in pieces ("clamp loose, quarter turn, tight"): put right.
All words: *common practice* of terse speech."""

from __future__ import annotations

from itertools import pairwise

from spacy.tokens import Doc

from spokenfor.models import Statement, Verdict
from spokenfor.packs.terms import TermKind
from spokenfor.reading.contractions import spoken, spoken_words, written_words
from spokenfor.reading.document import CUES, MENTIONS, QUANTITIES, table_of, tokens_of, within
from spokenfor.reading.targets import RESULTS, states_good
from spokenfor.reading.unit import Unit

_TIGHT = frozenset("tight secure firm solid".split())
_SHUT = frozenset("home shut closed locked latched fastened secure tight".split())
_CLEAN = frozenset("clean clear dry open".split())
_FULL = frozenset("full up mark line half right".split())
_CONTRARY = {
    "looseness": _TIGHT | _SHUT,
    "unlatched": _SHUT,
    "insecure-attachment": _TIGHT | _SHUT,
    "contamination": _CLEAN,
    "blockage": _CLEAN,
    "staining": _CLEAN,
    "leak": _CLEAN,
    "low-level": _FULL,
    "under-inflated": _FULL,
    "low-pressure": _FULL,
}
_LEADING = frozenset("and now then it is that's it's so nice again".split())
# A piece with one of these between them is of another of several things, not a deed.
_OTHERS = frozenset(
    "rest other others 1 one's 2 3 4 both all remaining same next left right front rear upper lower".split()
)
_IN_A_SAMPLE = frozenset("water sediment globules".split())
_ANOTHER = frozenset("next second third fourth more another".split())


def sets_right(unit: Unit, earlier: list[Statement]) -> bool:
    """Whether a unit that names nothing is only the contrary of the fault said just before it, with a piece
    between them that says no result and names nothing: what was done about it; or another sample was clear."""
    if _drawn_again(unit, earlier):
        return True
    results = [one for one in unit.targets if states_good(one)]
    faults = {
        condition
        for statement in earlier
        if statement.verdict is Verdict.DEFECT
        for condition in statement.conditions
    }
    if unit.components or unit.settling or len(results) != len(unit.targets) or not results:
        return False
    doc = results[0].span.doc
    words = set(spoken_words(doc, unit.start, unit.end))
    said = {word for one in results for word in spoken(one.span)}
    if faults:
        contrary = all(not said.isdisjoint(_CONTRARY.get(one, ())) for one in faults)
    else:
        contrary = any(not said.isdisjoint(_denied(one)) for one in earlier)
    return contrary and words <= said | _LEADING and _follows_a_deed(doc, unit.start)


def _denied(statement: Statement) -> set[str]:
    """What a fault that no flagged word tells was said not to be ("the cap's *not home*")."""
    if statement.verdict is not Verdict.DEFECT or statement.conditions:
        return set()
    words = written_words(statement.evidence.text)
    return {word for before, word in pairwise(words) if before == "not"}


def _drawn_again(unit: Unit, earlier: list[Statement]) -> bool:
    """Whether a unit is of a later sample where one before had something in it ("the first had water in it, the
    *next two* were clear"): *common practice* is to draw until one is clear."""
    if not earlier or not unit.targets:
        return False
    doc = unit.targets[0].span.doc
    if _ANOTHER.isdisjoint(spoken(doc[table_of(doc).first[unit.start] : unit.end])):
        return False
    faults = [one for one in earlier if one.verdict is Verdict.DEFECT]
    return bool(faults) and all(
        not _IN_A_SAMPLE.isdisjoint(one.evidence.text.split()) for one in faults
    )


def _follows_a_deed(doc: Doc, start: int) -> bool:
    end = start
    while end > 0 and not table_of(doc).is_word[end - 1]:
        end -= 1
    begin = end
    while begin > 0 and table_of(doc).is_word[begin - 1]:
        begin -= 1
    mentions = {span.label_ for span in within(doc, MENTIONS, begin, end)}
    results = any(cue.label_ in RESULTS for cue in within(doc, CUES, begin, end))
    named = mentions & {
        kind.value for kind in (TermKind.CONDITION, TermKind.COMPONENT, TermKind.POSITION)
    }
    measured = tokens_of(within(doc, QUANTITIES, begin, end))
    words = {
        part for at in range(begin, end) if at not in measured for part in spoken(doc[at : at + 1])
    }
    return begin < end < start and not named and not results and words.isdisjoint(_OTHERS)
