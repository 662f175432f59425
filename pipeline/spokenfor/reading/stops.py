"""Full stops that a recogniser set in the middle of what was said ("there's not. A drip on it", "none. Loose").

A recogniser sets its marks by the melody of speech, and somebody who talks while walking pauses where no
sentence ends. *Common practice* of English: a sentence does not end in "a", "the" or "and"; one that has begun
does not end in "no" or "isn't" where a flagged word with no verb of its own follows; one that begins with "if"
does not end before what then happens. A question ends before its answer, whatever mark stands there.
"""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc

from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.packs.wording import match_key
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import table_of
from spokenfor.reading.heard_doc import without

_ENDS = {".", "?", "!"}
_MARKS = {*_ENDS, ",", ";", ":"}
_LEADING = frozenset("a an the and or but my your our its every each".split())
_DENIALS = frozenset("no none not nothing never without".split())
_BE = frozenset("is are was were".split())
_PRONOUNS = frozenset("it they there that this these those he she we i you here what which".split())
_ASKING = frozenset(
    "any if whether should supposed meant ought check checking look looking see did does is are was were "
    "has have where how what".split()
)
_BEFORE_FAULT = frozenset("a an any one single sign signs trace of bit obvious more".split())
_AFTER_FAULT = frozenset(
    "or and nor on in at round around anywhere from to here there either of under along it them that i it's "
    "that's they're so".split()
)
_ADVERBS = frozenset("always usually never still mostly normally often sure course too".split())
_OPPOSITE = {"left": "right", "right": "left", "nearside": "offside", "offside": "nearside"}
_BEFORE_SIDE = frozenset("the on at to from and or both , hand".split())
_LEADS = frozenset("and so now well right then okay but".split())
_ASKED = frozenset("is are was were does do did has have can any".split())
_OPENING = frozenset("is are was does do did can".split())
_OF_WHAT = frozenset("it they there that this these those the any he she my your all both".split())
_ANSWERS = frozenset("no nope nah none yes yeah yep aye yup".split())
_FULLY = frozenset("fully properly tightly securely".split())
_HOME = frozenset("in on out home shut closed locked down up tight open".split())
_WIDEST = 4
# A sentence that begins with "if" and is no longer says nothing of what then happens (*common practice*).
_SHORT = 6


@Language.factory("spokenfor_stops", default_config={"pack": "", "pause": 1.5})
def create_stops(nlp: Language, name: str, pack: str, pause: float) -> Stops:
    return Stops(load_pack(pack), pause)


class Stops:
    """Gives a Doc without the full stops that end nothing. One that a silence longer than `pause` seconds
    follows stays."""

    def __init__(self, pack: Pack, pause: float) -> None:
        self.pause = pause
        compiled = compile_terms(pack)
        self.names = set(compiled[TermKind.COMPONENT])
        self.faults = set(compiled[TermKind.CONDITION])
        self.faults |= {
            key
            for key, term in compiled[TermKind.STATE].items()
            if all(one.endswith(":adverse") for one in term.concepts)
        }

    def __call__(self, doc: Doc) -> Doc:
        keys, begin = table_of(doc).key, 0
        dropped: set[int] = set()
        for at in range(len(doc) - 1):
            if keys[at] == "," and self._splits(doc, begin, at):
                dropped.add(at)
            if keys[at] == "," and _ends_question(keys, begin, at):
                keys[at], begin = "?", at + 1
            if keys[at] not in _ENDS:
                continue
            if keys[at] == "." and self._joins(doc, begin, at):
                dropped.add(at)
            else:
                begin = at + 1
        return without(doc, dropped) if dropped else doc

    def _joins(self, doc: Doc, begin: int, at: int) -> bool:
        table = table_of(doc)
        near = table.goes_on(at, self.pause)
        said = [key for key in table.key[begin:at] if key[0].isalnum()]
        if not near or len(said) < 2 or not table_of(doc).is_word[at + 1]:
            return False
        clause = said[-1:]
        while len(clause) < len(said) and table.key[at - len(clause) - 1] not in _MARKS:
            clause = said[-len(clause) - 1 :]
        last = spread(said[-1])
        if said[-1] in _LEADING or (
            said[0] in ("if", "unless") and len(clause) == len(said) <= _SHORT
        ):
            return True
        if not _ASKING.isdisjoint(part for one in said[:-1] for part in spread(one)[:1]):
            return False
        follows = spread(table.key[at + 1])[0]
        if last[-1] in _BE and len(last) == 1:
            return said[-2] not in _PRONOUNS | _ADVERBS and follows not in _PRONOUNS
        if _OPPOSITE.get(said[-1]) in said[:-1] and said[-2] not in _BEFORE_SIDE:
            return self._is_subject(doc, at + 1)
        if last[-1] not in _DENIALS:
            return False
        answers = len(clause) == len(said) and (len(clause) < 3 and clause[0] in _PRONOUNS)
        existential = spread(clause[0])[0] == "there" and table.key[at + 1] in ("a", "any", "one")
        return (existential or not answers) and self._is_bare_fault(doc, at + 1)

    def _splits(self, doc: Doc, begin: int, at: int) -> bool:
        """Whether a comma stands inside what it cannot part: "no, bulges" that goes on with "no cuts",
        "handle's fully, in"."""
        keys = table_of(doc).key
        if at == begin or at + 1 >= len(keys):
            return False
        if keys[at - 1] in _FULLY:
            return keys[at + 1] in _HOME
        listed = at >= 4 and any(
            keys[one] == "no" and self._is_bare_fault(doc, one + 1) for one in range(at - 5, at - 2)
        )
        return keys[at - 1] == "no" and listed and self._is_bare_fault(doc, at + 1)

    def _is_subject(self, doc: Doc, start: int) -> bool:
        """Whether the name of a component begins at a token, with a verb behind it."""
        keys = table_of(doc).key
        for end in range(min(len(keys), start + _WIDEST), start, -1):
            if match_key(" ".join(keys[start:end])) in self.names:
                verb = spread(keys[end - 1])[-1] in _BE
                return verb or (end < len(keys) and keys[end] in _BE)
        return False

    def _is_bare_fault(self, doc: Doc, start: int) -> bool:
        """Whether a flagged word begins at a token, with no verb behind it."""
        keys = table_of(doc).key
        while start < len(keys) and keys[start] in _BEFORE_FAULT:
            start += 1
        for end in range(start + _WIDEST, start, -1):
            words = keys[start:end]
            if (
                all(word[0].isalnum() for word in words)
                and match_key(" ".join(words)) in self.faults
            ):
                follows = keys[end] if end < len(keys) else "."
                return not follows[0].isalnum() or follows in _AFTER_FAULT
        return False


def _ends_question(keys: list[str], begin: int, at: int) -> bool:
    """Whether a question ends at a comma: one with its answer ("left servo, *is it dry*, no"), one that opens
    the sentence ("*is the lamp on*, anybody"), one that is hung on ("it locks, *doesn't it*, you were in")."""
    start = at
    while start > begin and keys[start - 1] not in _MARKS:
        start -= 1
    opens = start == begin
    words = keys[start:at]
    while words and words[0] in _LEADS:
        words = words[1:]
    if len(words) < 2:
        return False
    if len(words) == 2 and not opens and words[1] in _PRONOUNS:
        return spread(words[0])[-1] == "not" and spread(words[0])[0] in _ASKED
    if words[0] == "any" or (words[0] in _ASKED and words[1] in _OF_WHAT):
        return keys[at + 1] in _ANSWERS or (opens and words[0] in _OPENING and len(words) > 2)
    return False
