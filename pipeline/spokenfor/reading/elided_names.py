"""Names of which only the first part is said, as their last word stands once for several: "*nav* and landing
lights", "aerials: *VHF*, *transponder*, nothing loose", or "one" stands for it ("VHF aerial, solid. *GPS* one's
solid too"), or whose first part was said before ("aileron's free, *hinges* aren't loose"). *Common practice* of
English (ellipsis in a list, "one" for a noun).
"""

from __future__ import annotations

from collections.abc import Iterator

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.terms import Term, TermKind, compile_terms
from spokenfor.packs.wording import singular, words_of
from spokenfor.reading.contractions import spread
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    is_position,
    mentioned,
    mentions_by_token,
    set_spans,
    table_of,
)
from spokenfor.reading.mentions import mention_span
from spokenfor.reading.places import Places
from spokenfor.reading.targets import says_something

# How many words of a name may stand before its last.
_LONGEST = 3
_JOINS = frozenset("and or nor plus &".split())
_LEADS = frozenset("the your my our both all these those that's then and or nor plus".split())
_COUNTS = frozenset("2 3 4 5 6 all both".split())
_ONE = frozenset("1 one ones 1's one's".split())
_ARTICLES = frozenset("the your my our".split())
_WHERE = frozenset(
    "of in on at from to round around under over by behind between through along beside near with into".split()
)
# What a mark, a limit or a lamp in the hand is called as well.
_OF_ANYTHING = frozenset("light line stop side end top".split())
_SUCH = _ONE - {"ones"}


@Language.factory("spokenfor_elided_names", default_config={"pack": ""})
def create_elided_names(nlp: Language, name: str, pack: str) -> ElidedNames:
    return ElidedNames(load_pack(pack))


class ElidedNames:
    """Adds mentions of components of the zone being walked by all but the last words of their names, where
    those stand right behind them in the plural, or headed them."""

    def __init__(self, pack: Pack) -> None:
        self.zones = [zone.id for zone in pack.zones]
        self.places = Places(pack)
        self.terms = compile_terms(pack)[TermKind.COMPONENT]
        self.lasts = last_words(pack)

    def __call__(self, doc: Doc) -> Doc:
        added: list[Span] = []
        dropped: set[int] = set()
        headed: str | None = None
        before: list[Span] = []
        for number, sentence in enumerate(doc.sents):
            if table_of(doc).doubtful[sentence.start]:
                headed = None
                continue
            zone = self.zones[doc._.walk[number]]
            names = mentioned(doc, TermKind.COMPONENT, sentence.start, sentence.end)
            here = [one for name in names for one in self._before(doc, sentence, name, zone)]
            here += self._such_ones(doc, sentence, [*before, *names], zone)
            named = sorted([*before, *names, *here], key=lambda one: one.start)
            here += self._whose(doc, sentence, named, zone)
            added += here
            before = names or before
            if headed is None and not self._may_head(doc, sentence):
                continue
            found, head, headed = self._behind(doc, sentence, zone, headed)
            added += found
            if found and head is not None:
                dropped.add(head)
        if added:
            for group, more in ((MENTIONS, added), (CUES, [])):
                kept = [span for span in doc.spans[group] if span.start not in dropped]
                set_spans(doc, group, [*kept, *more])
        return doc

    def _may_head(self, doc: Doc, sentence: Span) -> bool:
        """Whether a sentence has the last word of a name in the plural."""
        table = table_of(doc)
        return any(
            table.stem[at] in self.lasts and table.key[at] != table.stem[at]
            for at in range(sentence.start, sentence.end)
        )

    def _before(self, doc: Doc, sentence: Span, name: Span, zone: str) -> list[Span]:
        """The names whose last word is that of a name said right behind them."""
        table = table_of(doc)
        if len(name) < 2:
            return []
        found: list[Span] = []
        at = self._before_article(doc, sentence, name.start)
        joined = False
        while at > sentence.start and (
            table.key[at] in _JOINS or (table.key[at] == "," and joined)
        ):
            joined = True
            one = self._ending(doc, sentence.start, at, name, zone)
            if one is None:
                break
            found.append(one)
            at = self._before_article(doc, sentence, one.start)
        return found

    @staticmethod
    def _before_article(doc: Doc, sentence: Span, at: int) -> int:
        """The token before another and its article."""
        article = at - 1 > sentence.start and table_of(doc).key[at - 1] == "the"
        return at - 2 if article else at - 1

    def _such_ones(self, doc: Doc, sentence: Span, named: list[Span], zone: str) -> list[Span]:
        """The names of which "one" is the last word ("the *GPS* one"), said of another shortly before."""
        table = table_of(doc)
        found: list[Span] = []
        for at in range(sentence.start + 1, sentence.end):
            if table.key[at] not in _SUCH:
                continue
            for name in reversed([one for one in named if one.end <= at and len(one) > 1]):
                one = self._longest(doc, sentence.start, at, _stem(doc, name.end - 1), zone)
                if one is not None:
                    found.append(one)
                    break
        return found

    def _longest(self, doc: Doc, start: int, end: int, last: str, zone: str) -> Span | None:
        """The longest name, less its last word, that ends before a token."""
        for size in range(min(_LONGEST, end - start), 0, -1):
            term = self._named(doc, end - size, end, last, zone)
            if term is not None:
                return mention_span(doc, end - size, end, term)
        return None

    def _whose(self, doc: Doc, sentence: Span, named: list[Span], zone: str) -> list[Span]:
        """The names of which only the last words are said, the first being those of what was named before
        ("aileron's free, *hinges* aren't loose", "pitot cover's off and *the tube*'s clear")."""
        found: list[Span] = []
        end = sentence.start
        for at in range(sentence.start, sentence.end):
            if at < end or not self._may_begin(doc, sentence, at):
                continue
            for size in (2, 1):
                last = _stem(doc, at + size - 1) if at + size <= sentence.end else ""
                if last not in self.lasts or last in _OF_ANYTHING:
                    continue
                said = "".join(_stem(doc, one) for one in range(at, at + size))
                term = self._of_one(doc, at, at + size, said, named, zone)
                if term is not None:
                    found.append(mention_span(doc, at, at + size, term))
                    end = at + size
                    break
        return found

    def _may_begin(self, doc: Doc, sentence: Span, at: int) -> bool:
        """Whether a token may begin a name: a word in none, behind a mark, an article or a joining word."""
        table = table_of(doc)
        before = table.key[at - 1] if at > sentence.start else "."
        free = table.is_word[at] and at not in mentions_by_token(doc)
        # "From *the door* frame", "round *the feet*" are where, not what.
        where = before in _ARTICLES and at - 2 >= sentence.start and table.key[at - 2] in _WHERE
        return free and not where and (not before[0].isalnum() or before in _LEADS)

    def _of_one(
        self, doc: Doc, start: int, end: int, said: str, named: list[Span], zone: str
    ) -> Term | None:
        """The component of the zone whose name begins as one named shortly before, and ends as is said."""
        if any(at in mentions_by_token(doc) for at in range(start, end)):
            return None
        for name in reversed([one for one in named if one.end <= start][-2:]):
            stems = [_stem(doc, at) for at in range(name.start, name.end)]
            for first in range(len(stems)):
                for last in range(len(stems), first, -1):
                    term = self.terms.get("".join(stems[first:last]) + said)
                    same = term is not None and set(term.concepts) & set(name._.term.concepts)
                    if term is not None and not same and self.places.has_line(term, zone):
                        return term
        return None

    def _ending(self, doc: Doc, start: int, end: int, name: Span, zone: str) -> Span | None:
        """The longest name of the zone, less the words that it has in common with the end of a name said in
        full, that ends before a token."""
        for size in range(min(_LONGEST, end - start), 0, -1):
            for shared in range(1, len(name)):
                last = "".join(table_of(doc).stem[name.end - shared : name.end])
                term = self._named(doc, end - size, end, last, zone)
                if term is not None:
                    return mention_span(doc, end - size, end, term)
        return None

    def _named(self, doc: Doc, start: int, end: int, last: str, zone: str) -> Term | None:
        """What a run of words means with a last word behind it: a component of the zone."""
        taken = mentions_by_token(doc)
        stems = [_stem(doc, at) for at in range(start, end)]
        free = all(at not in taken and table_of(doc).is_word[at] for at in range(start, end))
        term = self.terms.get("".join([*stems, last])) if free else None
        return term if term is not None and self.places.has_line(term, zone) else None

    def _behind(
        self, doc: Doc, sentence: Span, zone: str, headed: str | None
    ) -> tuple[list[Span], int | None, str | None]:
        """The names that pieces begin with, behind a piece that is no more than their last word in the plural
        (said here, or before: `headed`); where that stands; and what heads the next sentence."""
        found: list[Span] = []
        place: int | None = None
        for start, end in _pieces(doc, sentence):
            head = self._head(doc, start, end)
            if head is not None:
                headed, place = _stem(doc, head), head
                continue
            if headed is None:
                continue
            one = self._beginning(doc, start, end, headed, zone)
            if one is not None:
                found.append(one)
            elif not found or mentioned(doc, TermKind.COMPONENT, start, end):
                headed = None
        return found, place, headed

    def _head(self, doc: Doc, start: int, end: int) -> int | None:
        """Where the plural stands that a piece consists of, but for a count and where they are."""
        words = [
            at
            for at in range(start, end)
            if not is_position(doc, at) and table_of(doc).key[at] not in _LEADS | _COUNTS
        ]
        if not words or len(words) > 2:
            return None
        at = words[0]
        if says_something(doc, start, at) or says_something(doc, at + 1, end):
            return None
        plural = table_of(doc).key[at] != _stem(doc, at) and len(spread(table_of(doc).key[at])) == 1
        mention = mentions_by_token(doc).get(at)
        alone = mention is None or (mention.label_ == TermKind.COMPONENT and len(mention) == 1)
        return at if plural and alone and _stem(doc, at) in self.lasts else None

    def _beginning(self, doc: Doc, start: int, end: int, last: str, zone: str) -> Span | None:
        """The longest name, less its last word, that a piece begins with: alone, as "the GPS one", or with a
        result."""
        while start < end and table_of(doc).key[start] in _LEADS:
            start += 1
        for size in range(min(_LONGEST, end - start), 0, -1):
            after = start + size
            term = self._named(doc, start, after, last, zone)
            if term is None:
                continue
            follows = after < end and table_of(doc).key[after] not in _ONE
            short = len(spread(table_of(doc).key[after - 1])) > 1
            if not follows or short or says_something(doc, after, end):
                return mention_span(doc, start, after, term)
        return None


def last_words(pack: Pack) -> set[str]:
    """The last words of the names of several words, in the singular."""
    return {
        singular(words[-1])
        for component in pack.components.values()
        for words in map(words_of, (component.prefLabel, *component.altLabel))
        if len(words) > 1
    }


def _stem(doc: Doc, at: int) -> str:
    """The stem of a token."""
    stem: str = table_of(doc).stem[at]
    return stem


def _pieces(doc: Doc, sentence: Span) -> Iterator[tuple[int, int]]:
    """The pieces of a sentence between marks and joining words."""
    start = sentence.start
    for at in range(sentence.start, sentence.end + 1):
        if at == sentence.end or not table_of(doc).is_word[at] or table_of(doc).key[at] in _JOINS:
            if at > start:
                yield start, at
            start = at + 1
