"""What a short name means where it is said: "level" behind "tail gearbox", "tubes" behind "pitot covers".
*Common practice* of speech: what has a long name is called by its last word as soon as it is clear which one is
meant; a word that is a name elsewhere too ("tyre") only where it leans on what was named just before.
"""

from __future__ import annotations

from collections import defaultdict

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import Term, TermKind, compile_terms
from spokenfor.packs.wording import match_key, singular, words_of
from spokenfor.reading.clause_subjects import is_part, is_subject, says_level
from spokenfor.reading.document import (
    CUES,
    MENTIONS,
    STATES,
    mentions_by_token,
    set_spans,
    table_of,
    within,
)
from spokenfor.reading.mentions import mention_span
from spokenfor.reading.places import Places
from spokenfor.reading.targets import says_something

# The zones that the words name of which a component is the end.
Span.set_extension("zone", default=(), force=True)

# How many sentences back the name that a short one leans on may stand.
_SENTENCES = 2
# Words of a name that say which one, and not of what.
_WHERE = frozenset("main left right front rear forward aft upper lower number 1 2".split())
_MOVING = frozenset("come coming came go going put get goes went".split())
_NO_NAMES = frozenset("down up in out on off over back head tape well".split())
_TOOL = (["the"], ["a"], ["my"])
_OF = frozenset("on of from in at".split())
_DETERMINERS = frozenset("the this that a an my our".split())
# Names of contents that are said for their level ("oil's between the marks").
_CONTENTS = frozenset("oil fluid coolant fuel".split())


@Language.factory("spokenfor_names_here", default_config={"pack": ""})
def create_names_here(nlp: Language, name: str, pack: str) -> NamesHere:
    return NamesHere(load_pack(pack))


class NamesHere:
    """Drops mentions by a general word of what is only elsewhere, and adds mentions by the last word of a name:
    of the one component of the zone that has it, or the one that shares a word with what was named last."""

    def __init__(self, pack: Pack) -> None:
        self.zones = [zone.id for zone in pack.zones]
        self.places = Places(pack)
        compiled = compile_terms(pack)
        terms = compiled[TermKind.COMPONENT]
        self.rear = compiled[TermKind.POSITION].get(match_key("rear"))
        self.names = terms
        self.terms: dict[str, Term] = {}
        self.words: dict[str, set[str]] = {}
        self.lasts: dict[str, dict[str, list[str]]] = {
            zone: defaultdict(list) for zone in self.zones
        }
        self.contents: dict[str, dict[str, list[str]]] = {
            zone: defaultdict(list) for zone in self.zones
        }
        for component in pack.components.values():
            self.terms[component.id] = terms[match_key(component.prefLabel)]
            labels = [words_of(label) for label in (component.prefLabel, *component.altLabel)]
            self.words[component.id] = {singular(word) for label in labels for word in label}
            for zone in {item.zone for item in self.places.items[component.id]}:
                for label in labels:
                    if len(label) > 1:
                        self._note(self.lasts[zone], singular(label[-1]), component.id)
                    if len(label) > 1 and label[-1] == "level" and label[-2] in _CONTENTS:
                        self._note(self.contents[zone], label[-2], component.id)

    @staticmethod
    def _note(known: dict[str, list[str]], word: str, component: str) -> None:
        if component not in known[word]:
            known[word].append(component)

    def __call__(self, doc: Doc) -> Doc:
        kept = [span for span in doc.spans[MENTIONS] if span._.term.kind is not TermKind.COMPONENT]
        named: list[tuple[int, Span]] = []
        added: list[Span] = []
        for number, sentence in enumerate(doc.sents):
            zone = self.zones[doc._.walk[number]]
            mentions = within(doc, MENTIONS, sentence.start, sentence.end)
            all_named = [span for span in mentions if span.label_ == TermKind.COMPONENT]
            own = [
                span for span in all_named if self._is_here(span, zone) or self._turn(span, zone)
            ]
            kept += own
            short: list[Span] = []
            if not table_of(doc).doubtful[sentence.start]:
                short = self._short(doc, sentence, zone, named, own)
            added += short
            for place in mentions:
                listed = place.end < sentence.end and table_of(doc).key[place.end] == "and"
                if all_named and not listed:
                    continue
                part = self._in_zone(doc, sentence, place)
                if part is not None:
                    kept.remove(place)
                    added.append(part)
            added += [one for span in own if (one := self._back(doc, sentence, span)) is not None]
            named = [one for one in named if number - one[0] < _SENTENCES]
            named += [(number, span) for span in sorted([*own, *short], key=lambda one: one.start)]
        set_spans(doc, MENTIONS, [*kept, *added])
        return doc

    def _in_zone(self, doc: Doc, sentence: Span, span: Span) -> Span | None:
        """The component that the name of a zone ends in, where something is said of it ("left side of the
        *boom*, no wrinkles")."""
        if span.label_ != TermKind.ZONE or not says_something(doc, span.end, sentence.end):
            return None
        keys = table_of(doc).key
        for start in range(span.start + 1, span.end):
            if term := self.names.get(match_key(" ".join(keys[start : span.end]))):
                part = mention_span(doc, start, span.end, term)
                if span._.repair is None or not span._.repair.turns:
                    part._.zone = span._.term.concepts
                return part
        return None

    def _back(self, doc: Doc, sentence: Span, span: Span) -> Span | None:
        """The position that "back" is right before a component that has one at the rear ("back tyre")."""
        at = span.start - 1
        if self.rear is None or at < sentence.start or table_of(doc).key[at] != "back":
            return None
        verb = at > sentence.start and table_of(doc).key[at - 1] in _MOVING
        has = any(
            self.rear.concepts[0] in item.positions
            for name in span._.term.concepts
            for item in self.places.items[name]
        )
        return mention_span(doc, at, at + 1, self.rear) if has and not verb else None

    def _is_here(self, span: Span, zone: str) -> bool:
        """Whether a mention is more than a general word for something that is only elsewhere."""
        term = span._.term
        if span._.repair is not None:
            return True
        if self.places.has_line(term, zone):
            return True
        words = words_of(term.label)
        if len(words) > 1:
            # "Door locks" where there are other doors: not the name, and not of what is here.
            alias = term.label not in term.names
            return not (alias and any(singular(word) in self.lasts[zone] for word in words))
        # "Five mil on the gauge", "worn past the gauge": what is measured with; "*its battery*": what
        # a thing has of its own.
        before = table_of(span.doc).key[max(0, span.start - 2) : span.start]
        owned = before[-1:] in (["its"], ["their"])
        tool = before[:1] in (["on"], ["with"], ["by"], ["past"], ["off"]) and before[1:] in _TOOL
        flaw = mentions_by_token(span.doc).get(span.start - 3)
        tool = tool and (flaw is None or flaw.label_ != TermKind.CONDITION)  # "chafing on the loom"
        return term.label in term.names and not (tool or owned)

    def _turn(self, span: Span, zone: str) -> bool:
        """Gives an alias of what is elsewhere to the only component here that a word of it names ("door
        hinge")."""
        words = words_of(span._.term.label)
        here = {one for word in words for one in self.lasts[zone].get(singular(word), [])}
        if len(words) < 2 or len(here) != 1 or not is_part(span.doc, span.end - 1):
            return False
        span._.term = self.terms[here.pop()]
        return True

    def _short(
        self, doc: Doc, sentence: Span, zone: str, named: list[tuple[int, Span]], own: list[Span]
    ) -> list[Span]:
        """Mentions to add in a sentence, given those of components `named` before it and its `own`."""
        table, taken_back, by_token = table_of(doc), doc._.taken_back or (), mentions_by_token(doc)
        found: list[Span] = []
        for at in range(sentence.start, sentence.end):
            stem = table.stem[at]
            lasts = self.lasts[zone].get(stem, [])
            contents = self.contents[zone].get(stem, []) if not lasts else []
            if not (lasts or contents) or at in taken_back:
                continue
            if stem in _NO_NAMES or within(doc, STATES, at, at + 1):
                continue
            if _of_a_part(doc, at) or (is_part(doc, at) and _belongs(doc, at, sentence.end)):
                continue
            mention = by_token.get(at)
            kept = mention is not None and (mention.label_ != "component" or mention in own)
            if kept or not is_subject(doc, sentence, at):
                continue
            before = [span for span in [*own, *found] if span.end <= at] or [
                span for _, span in named
            ]
            last = max(before, key=lambda span: span.start)._.term.concepts if before else ()
            beside = at - 1 in by_token and by_token[at - 1].label_ == TermKind.COMPONENT
            weak = is_part(doc, at) or bool(contents) or beside
            component = self._meant(lasts or contents, last, weak, stem in self.names)
            if before and is_part(doc, at):
                # "Control rods are straight and nuts are locked": a part of anything leans on what was said.
                said = {
                    one for span in before for one in table.stem[span.start : span.end]
                } - _WHERE
                component = component if said & self.words.get(component or "", set()) else None
            if component is None or (contents and not says_level(doc, sentence, at, component)):
                continue
            found.append(mention_span(doc, at, at + 1, self.terms[component]))
        return found

    def _meant(
        self, possible: list[str], last: tuple[str, ...], weak: bool, elsewhere: bool
    ) -> str | None:
        """The component that a last word means: the one that shares a word with what was named last, else the
        only one there is, unless parts of anything have it (`weak`) or it is a name `elsewhere`."""
        spoken_of = {word for one in last for word in self.words.get(one, ())}
        if set(possible) & set(last):
            return None
        shared = {one: len(self.words[one] & spoken_of - _WHERE) for one in possible}
        related = [one for one in possible if shared[one] and shared[one] == max(shared.values())]
        if len(related) == 1:
            return related[0]
        alone = len(possible) == 1 and not elsewhere and (not weak or not last)
        return possible[0] if alone else None


def _of_a_part(doc: Doc, at: int) -> bool:
    """Whether a word lies in a longer name of a part of anything ("split *pin*")."""
    holding = within(doc, CUES, max(0, at - 2), at + 3)
    return any(
        span.label_ == CueCategory.PART and len(span) > 1 and span.start <= at < span.end
        for span in holding
    )


def _belongs(doc: Doc, at: int, end: int) -> bool:
    """Whether a part is of a component that is named behind it ("a loose *bolt* on the pitch link")."""
    keys, follows = table_of(doc).key, at + 1
    if follows >= end or keys[follows] not in _OF:
        return False
    follows += 1 + (follows + 1 < end and keys[follows + 1] in _DETERMINERS)
    mention = mentions_by_token(doc).get(follows)
    return mention is not None and mention.label_ == TermKind.COMPONENT
