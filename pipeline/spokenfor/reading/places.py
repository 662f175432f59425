"""Which lines of the sheet a component can mean: by its name, the positions said with it, and the zone."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from spacy.tokens import Doc, Span

from spokenfor.packs.load import Pack, SheetItem
from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import Term, TermKind
from spokenfor.packs.wording import words_of
from spokenfor.reading.document import CUES, is_position, mentions_by_token, table_of, within
from spokenfor.reading.last_places import both_last

_BEFORE = frozenset(
    "the a your my our this that these those main hand side half end of on and or 's to".split()
)
_AFTER = {"on", "at", "to", "for", "of", "the", "hand", "side", "number"}
_ENDING = (CueCategory.EXCEPTION, CueCategory.TERMINATION, CueCategory.BY_REFERENCE)
_PARTING = frozenset(map(str, (*_ENDING, CueCategory.PSEUDO)))
_PLACING = {"on", "at", "number", "to"}
_REACH = 5


@dataclass(frozen=True)
class Placed:
    """The lines a mention means: none where several are possible and nothing says which. `certain` is 1.0
    where words said which, lower where zone or carry did."""

    items: tuple[SheetItem, ...]
    certain: float


@dataclass(frozen=True)
class Asked:
    """A mention to be placed: its term, the positions said with it, the zone being walked, positions carried
    along in it, and whether "both" or "all", or the plural, was said."""

    term: Term
    said: list[str]
    zone: str
    carried: frozenset[str]
    every: bool
    plural: bool

    @property
    def generic(self) -> bool:
        """Whether the label is one everyday word short of a name ("damper"): such a label speaks only of
        the zone it is said in."""
        return len(words_of(self.term.label)) == 1 and self.term.label not in self.term.names


class Places:
    """The sheet of a pack, ready to be asked where a mention belongs."""

    def __init__(self, pack: Pack) -> None:
        self.pack = pack
        self._same = {name: pack.head.meant(name) for name in pack.positions}
        self.items: dict[str, list[SheetItem]] = defaultdict(list)
        for item in pack.items:
            self.items[item.component].append(item)
        self._lines = Counter((item.component, item.zone) for item in pack.items)
        self._own = {item.id: self.canonical(item.positions) for item in pack.items}
        self.zone_positions = {zone.id: self.canonical(zone.position) for zone in pack.zones}
        self.axes = {name: position.axis for name, position in pack.positions.items()}

    def canonical(self, positions: Iterable[str]) -> frozenset[str]:
        """Position ids with those that mean the same in this pack (No. 1 = left) made one."""
        return frozenset([self._same.get(name, name) for name in positions])

    def has(self, named: Span, said: str, several: bool = False) -> bool:
        """Whether the sheet has what a mention names at a position, and (`several`) elsewhere too."""
        own = {
            self.canonical(item.positions)
            for concept in named._.term.concepts
            for item in self.items[concept]
        }
        here = any(self.canonical([said]) <= one for one in own)
        return here and (len(own) > 1 or not several)

    def has_line(self, term: Term, zone: str) -> bool:
        """Whether a component that a term means has a line in a zone."""
        return self.lines(term, zone) > 0

    def lines(self, term: Term, zone: str) -> int:
        """How many lines a zone has of what a term means."""
        return sum(self._lines[one, zone] for one in term.concepts)

    def said_with(self, doc: Doc, mention: Span) -> list[str]:
        """Positions said with a mention, before it ("left and right pitot tubes") or after ("tyre on the
        left"). A correction ("left, sorry, right") leaves the last."""
        if mention._.said is not None:
            return list(mention._.said)
        said = self._said_before(doc, mention)
        said = said or self._said_after(doc, mention) or self._said_later(doc, mention)
        return said or both_last(doc, mention)

    def _said_later(self, doc: Doc, mention: Span) -> list[str]:
        """A position said in the same breath with what was found ("cover's off on the left"), where the
        component has lines that differ by it; a list shares the one said behind its end."""
        items = [item for one in mention._.term.concepts for item in self.items[one]]
        own = {name for item in items for name in item.positions}
        if len(own) < 2:
            return []
        kinds, table = mentions_by_token(doc), table_of(doc)
        joined = False
        end = min(mention.end + 10, table.after[mention.start])
        for cue in within(doc, CUES, mention.end, end):
            if cue.label_ in _PARTING:
                end = cue.start
                break
        for index in range(mention.end, end):
            key, span = table.key[index], kinds.get(index)
            if span is not None and span.label_ == TermKind.POSITION:
                said = span._.term.concepts[:1]
                placed = not _PLACING.isdisjoint(table.key[index - 2 : index])
                return list(said) if placed and set(said) <= self.canonical_names(own) else []
            if span is not None and span.label_ == TermKind.COMPONENT:
                if not joined and not span.start == index > mention.end:
                    continue
                if table.key[span.start - 1] not in ("and", ","):
                    return []
                joined = True
            elif key in (",", ";", ":", "but") or (key == "and" and not self._lists(doc, index)):
                return []
        return []

    @staticmethod
    def _opens(doc: Doc, index: int) -> bool:
        """Whether a comma stands behind a position that opens the sentence ("system two, reservoir's wet")."""
        kinds = mentions_by_token(doc)
        first = table_of(doc).first[index]
        spans = [kinds.get(at) for at in range(first, index)]
        return bool(spans) and all(
            span is not None and span.label_ == TermKind.POSITION for span in spans
        )

    @staticmethod
    def _lists(doc: Doc, index: int) -> bool:
        """Whether an "and" joins a component that follows at once."""
        kinds = mentions_by_token(doc)
        follows = [kinds.get(at) for at in (index + 1, index + 2)]
        return any(span is not None and span.label_ == TermKind.COMPONENT for span in follows)

    def canonical_names(self, names: Iterable[str]) -> frozenset[str]:
        """Positions and those that mean the same in this pack."""
        own = self.canonical(names)
        return frozenset({*names, *(name for name in self.axes if self.canonical([name]) & own)})

    def _said_before(self, doc: Doc, mention: Span) -> list[str]:
        kinds = mentions_by_token(doc)
        corrections = {
            index
            for cue in within(doc, CUES, mention.start - 12, mention.start)
            if cue.label_ == CueCategory.CORRECTION
            for index in range(cue.start, cue.end)
        }
        found: list[str] = []
        corrected = False
        index, gap = mention.start - 1, 0
        table = table_of(doc)
        while index >= table.first[mention.start] and gap <= _REACH:
            span, key = kinds.get(index), table.key[index]
            if span is not None and span.label_ == TermKind.POSITION:
                if not corrected:
                    found = [*span._.term.concepts[:1], *found]
                index, gap = span.start - 1, 0
                continue
            if index in corrections:
                corrected = bool(found)
            elif span is not None and span.label_ == TermKind.COMPONENT:
                if not self._coordinated(doc, span, mention):
                    break
                index, gap = span.start - 1, 0
                continue
            elif key == "," and (
                corrected
                or index - 1 in corrections
                or (not found and self._opens(doc, index))
                or (is_position(doc, index - 1) and is_position(doc, index + 1))
            ):
                if table.key[index - 1] == "right" and index - 1 == table.first[index] and found:
                    break  # "Right, left downlock" begins with no side
            elif key not in _BEFORE or (key in ("and", "or") and not found):
                break
            index, gap = index - 1, gap + 1
        return found

    @staticmethod
    def _coordinated(doc: Doc, earlier: Span, later: Span) -> bool:
        """Whether two components share what stands before the first ("left tyre and brake")."""
        between = table_of(doc).key[earlier.end : later.start]
        return 0 < len(between) <= 2 and set(between) <= {"and", ",", "or"}

    def _said_after(self, doc: Doc, mention: Span) -> list[str]:
        kinds = mentions_by_token(doc)
        found: list[str] = []
        index = mention.end + (self.set_off(doc, mention) > 0)
        taken_back = doc._.taken_back or ()
        table = table_of(doc)
        while index < table.after[mention.start]:
            span, key = kinds.get(index), table.key[index]
            if index in taken_back:
                index += 1
                continue
            if span is not None and span.label_ == TermKind.POSITION:
                found += span._.term.concepts[:1]
                index = span.end
            elif (
                key in _AFTER
                or (found and key == "and")
                or (found and key == "," and is_position(doc, index + 1))
            ):
                index += 1
            else:
                break
        follows = kinds.get(index)
        leads_on = follows is not None and follows.label_ == TermKind.COMPONENT
        return [] if leads_on else found

    @staticmethod
    def set_off(doc: Doc, mention: Span) -> int:
        """Where positions end that are set off by a comma behind a name ("pump, left and right, dry"); 0 where
        there are none, or one alone, which may be that of what follows."""
        keys, after = table_of(doc).key, table_of(doc).after[mention.start]
        end = begin = mention.end + 1
        if begin >= after or keys[mention.end] != ",":
            return 0
        while end < after and (is_position(doc, end) or keys[end] == "and"):
            end += 1
        pair = "and" in keys[begin + 1 : end - 1] and is_position(doc, begin)
        return end if pair and (end == after or not table_of(doc).is_word[end]) else 0

    def fits(self, item: SheetItem, said: frozenset[str]) -> bool:
        """Whether an item agrees with positions on every axis that it has."""
        own = self._own[item.id]
        return all(self._agrees(own, name) for name in said)

    def _agrees(self, own: frozenset[str], name: str) -> bool:
        on_axis = {other for other in own if self.axes[other] == self.axes[name]}
        return not on_axis or name in on_axis

    def alternatives(self, said: list[str]) -> list[frozenset[str]]:
        """Positions said, as the combinations they stand for: "left and right" is two."""
        by_axis: dict[str, list[str]] = defaultdict(list)
        for name in self.canonical(said):
            by_axis[self.axes[name]].append(name)
        combinations: list[frozenset[str]] = [frozenset()]
        for names in by_axis.values():
            combinations = [one | {name} for one in combinations for name in sorted(names)]
        return combinations

    def zones_of(self, doc: Doc, mention: Span) -> set[str]:
        """Zones whose lines the mention can mean."""
        wanted = self.alternatives(self.said_with(doc, mention))
        return {
            item.zone
            for component in mention._.term.concepts
            for item in self.items[component]
            if any(self.fits(item, said) for said in wanted)
        }

    def place(self, asked: Asked) -> Placed:
        """The lines meant. One line is chosen by the words, else by the zone, else by what was carried
        along; several only where "both" or "all" is said, or the plural with nothing to narrow it."""
        possible = [item for component in asked.term.concepts for item in self.items[component]]
        chosen: list[SheetItem] = []
        certain = 1.0
        for wanted in self.alternatives(asked.said):
            fitting = [item for item in possible if self.fits(item, wanted)]
            here = [item for item in fitting if item.zone == asked.zone]
            here = [item for item in here if wanted <= self._own[item.id]] or here
            if not here and (asked.generic or len({item.zone for item in fitting}) > 1):
                return Placed((), 0.0)
            candidates = here or fitting
            if len(candidates) > 1 and not asked.every:
                narrowed, sureness = self._narrow(candidates, asked, wanted)
                if len(narrowed) != 1 and not asked.plural:
                    return Placed((), 0.0)
                candidates, certain = narrowed, min(certain, sureness)
            elif not asked.said and len(candidates) == 1 and len(possible) > 1:
                certain = min(certain, 0.95)
            chosen += [item for item in candidates if item not in chosen]
        return Placed(tuple(chosen), certain)

    def _narrow(
        self, candidates: list[SheetItem], asked: Asked, said: frozenset[str]
    ) -> tuple[list[SheetItem], float]:
        """One line where the zone's own position or a carried one leaves one; else all, as they were."""
        spoken_axes = {self.axes[name] for name in said}
        for context, certain in ((self.zone_positions[asked.zone], 0.95), (asked.carried, 0.85)):
            free = frozenset(name for name in context if self.axes[name] not in spoken_axes)
            fitting = [item for item in candidates if free and self.fits(item, free)]
            if len(fitting) == 1:
                return fitting, certain
        return candidates, 0.9
