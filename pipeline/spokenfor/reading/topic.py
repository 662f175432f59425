"""What is being spoken of: the components named last, where they belong, and the positions carried along."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise

from spacy.tokens import Doc, Span

from spokenfor.packs.schema import CueCategory
from spokenfor.packs.terms import TermKind
from spokenfor.packs.wording import words_of
from spokenfor.reading.contractions import spoken_words
from spokenfor.reading.document import CUES, MENTIONS, mentioned, table_of, tokens_of, within
from spokenfor.reading.joining import only_names
from spokenfor.reading.only_some import only_some
from spokenfor.reading.places import Asked, Placed, Places
from spokenfor.reading.targets import SentenceReading
from spokenfor.reading.unit import Unit

# How long what was named stays what is being spoken of, when nothing else is named (common practice).
TOPIC_SENTENCES = 3
TOPIC_SECONDS = 25.0
_BESIDE = frozenset("to by near below behind beside under underneath above beneath over".split())
_IT = {"it", "them"}
_SAID_OF_IT = frozenset("there here i we you it its their trouble problem snag".split())
_EVERY = {"both", "all", "each", "every", "neither", "either"}


@dataclass
class Topic:
    """What is being spoken of: the components, where they were placed, the sentence and its time;
    `returned` where the speaker said they came back to it; `waiting` was named and has no result yet."""

    components: list[Span]
    placed: list[Placed]
    sentence: int
    recording: int
    end: float
    zone: int
    returned: bool = False
    waiting: list[tuple[Span, Placed]] = field(default_factory=list)

    @property
    def spoken_of(self) -> list[tuple[Span, Placed]]:
        return list(zip(self.components, self.placed, strict=True))


class Attention:
    """Follows the speaker through a Doc: `topic`, and within one stay in a zone the positions `carried` from
    one component to the next and those `announced` for all that follows ("number two system")."""

    def __init__(self, doc: Doc, places: Places, zones: list[str]) -> None:
        self.doc, self.places, self.zones = doc, places, zones
        self.topic: Topic | None = None
        self.before: Topic | None = None
        self.carried: frozenset[str] = frozenset()
        self.announced: frozenset[str] = frozenset()
        self._just_announced: frozenset[str] = frozenset()
        self._zone: int | None = None

    def enter(self, reading: SentenceReading, zone: int) -> None:
        """Takes note of the zone of a sentence and of a position that it only announces ("number two
        system")."""
        if zone != self._zone:
            # What the last sentence announced is of what follows, which may be the first to tell the zone.
            self._zone = zone
            self.carried = self.announced = self._just_announced
        self._just_announced = frozenset()
        mentions = within(self.doc, MENTIONS, reading.sentence.start, reading.sentence.end)
        kinds = {span.label_ for span in mentions}
        if (
            not reading.targets
            and kinds
            and kinds <= {TermKind.POSITION.value, TermKind.ZONE.value}
        ):
            said = [span for span in mentions if span.label_ == TermKind.POSITION]
            self._carry([span._.term.concepts[0] for span in said])
            self.announced = self._just_announced = self.carried

    def take_up(self, unit: Unit, reading: SentenceReading, number: int, zone: int) -> None:
        """Makes the components of a unit what is being spoken of."""
        waiting = self.topic.waiting if self.topic is not None and self.topic.zone == zone else []
        placed = []
        for mention in unit.components:
            said = self._opposite() if mention._.other else self.places.said_with(self.doc, mention)
            here = self.zones[zone]
            some = not said and only_some(
                self.doc, mention, self.places.lines(mention._.term, here)
            )
            asked = Asked(
                term=mention._.term,
                said=said,
                zone=here,
                carried=self.announced if mention._.plural else self.carried,
                every=self._every(unit, mention) and not some,
                plural=mention._.plural and not some,
            )
            placed.append(self.places.place(asked))
            self._carry(said)
        if self._only_parts(unit, placed, number):
            unit.components = []
            return
        self.before = self.topic
        self.topic = Topic(
            components=list(unit.components),
            placed=placed,
            sentence=number,
            recording=table_of(self.doc).recording[reading.sentence.start],
            end=max(table_of(self.doc).end[reading.sentence.start : reading.sentence.end]),
            zone=zone,
            waiting=[*waiting, *self._left_open(unit, placed)],
        )

    def on_one_line(self, unit: Unit, number: int) -> bool:
        """Whether a fault is of the one line that was spoken of in its sentence or the one before: it is said
        to be there ("Exhaust is a good colour. Where the duct meets the flange, *there is* a crack") or of a
        part ("*its* drain is leaking", "*two of* the bolts have sheared"), not of a thing whose name nobody
        knows ("the wobbler is cracked") or of what lies beside the line ("chafing on the pipe *by it*")."""
        lines = (
            [item for placed in self.topic.placed for item in placed.items] if self.topic else []
        )
        near = self.topic is not None and number - self.topic.sentence <= 1
        first = min(one.span.start for one in unit.targets)
        keys = table_of(self.doc).key[unit.start : unit.end]
        beside = any(one in _BESIDE and two in _IT for one, two in pairwise(keys))
        words = spoken_words(self.doc, unit.start, first)
        words += table_of(self.doc).key[table_of(self.doc).first[unit.start] :][:1]
        some = any(one.isdigit() and two == "of" for one, two in pairwise(words))
        said = some or not _SAID_OF_IT.isdisjoint(words)
        return len(lines) == 1 and near and said and not beside

    def _left_open(self, unit: Unit, placed: list[Placed]) -> list[tuple[Span, Placed]]:
        """What of a unit a later "all good" may still be said of: not what it tells something about in words of
        its own ("the scissors drive the top half round")."""
        says = unit.states_something or unit.purpose
        if not says and not only_names(self.doc, unit.start, unit.end, unit.components):
            return []
        return list(zip(unit.components, placed, strict=True))

    def about(self, unit: Unit, speaks: Callable[[Unit, str], bool]) -> Topic | None:
        """The topic before the present one, where a unit that names nothing cannot be said of what was named
        last, but of what was named before it ("the gearbox is clean, its level's good. There's a seep at the
        seal")."""
        topic, before = self.topic, self.before
        if unit.components or topic is None or before is None or before.zone != topic.zone:
            return None
        if topic.sentence - before.sentence > TOPIC_SENTENCES or not _related(before, topic):
            return None
        now = [name for span in topic.components for name in span._.term.concepts[:1]]
        then = [item.component for placed in before.placed for item in placed.items]
        if any(speaks(unit, name) for name in now) or not any(speaks(unit, name) for name in then):
            return None
        return before

    def holds(self, reading: SentenceReading, number: int, zone: int) -> bool:
        """Whether a sentence that names nothing still speaks of the topic."""
        topic, first = self.topic, reading.sentence[0]
        return (
            topic is not None
            and topic.zone == zone
            and topic.recording == first._.recording
            and number - topic.sentence <= TOPIC_SENTENCES
            and first._.start - topic.end <= TOPIC_SECONDS
        )

    def _only_parts(self, unit: Unit, placed: list[Placed], number: int) -> bool:
        """Whether what a unit names has no line here and is a part of what the sentence speaks of ("nose hatch,
        both catches flush")."""
        if self.topic is None or self.topic.sentence != number or any(one.items for one in placed):
            return False
        return all(
            any(
                cue.label_ == CueCategory.PART
                for cue in within(self.doc, CUES, mention.end - 1, mention.end)
            )
            for mention in unit.components
        )

    def _opposite(self) -> list[str]:
        """Where "the other one" is: across from the one spoken of last."""
        items = (
            [item for placed in self.topic.placed for item in placed.items] if self.topic else []
        )
        if not items:
            return []
        across = [self.places.pack.positions[name].opposite for name in items[-1].positions]
        return [name for name in across if name is not None][:1]

    def _every(self, unit: Unit, mention: Span) -> bool:
        """Whether "both" or "all" is said of this mention."""
        first, after = max(unit.start, mention.start - 4), min(unit.end, mention.end + 4)
        return not _EVERY.isdisjoint(table_of(self.doc).key[first:after])

    def _carry(self, said: list[str]) -> None:
        """Remembers the last position on each axis."""
        axes = self.places.axes
        alternatives = self.places.alternatives(said)
        if said and len(alternatives) == 1:
            new = alternatives[0]
            taken = {axes[one] for one in new}
            kept = {name for name in self.carried if axes[name] not in taken}
            self.carried = frozenset(kept | new)
            self.announced = frozenset(
                name for name in self.announced if axes[name] not in taken or name in new
            )


def _related(before: Topic, topic: Topic) -> bool:
    """Whether two topics are of one thing: their names share a word that says what it is."""
    first, second = (
        {word for span in one.components for name in span._.term.names for word in words_of(name)}
        for one in (before, topic)
    )
    return bool((first & second) - {"main", "left", "right", "oil", "fluid"})


def comes_back(doc: Doc, reading: SentenceReading) -> bool:
    """Whether a sentence says that what was left out can be done now; "now the engine bay" only says where."""
    sentence = reading.sentence
    zones = tokens_of(mentioned(doc, TermKind.ZONE, sentence.start, sentence.end))
    return any(
        cue.label_ == CueCategory.LATER_DONE
        and cue.start not in reading.void
        and zones.isdisjoint(range(cue.start, cue.end))
        for cue in within(doc, CUES, sentence.start, sentence.end)
    )
