"""What a word for several takes in of what was named before it: "all good", "the rest are all good"."""

from __future__ import annotations

from dataclasses import replace

from spacy.tokens import Doc, Span

from spokenfor.models import Statement, Verdict
from spokenfor.reading.contractions import spoken
from spokenfor.reading.places import Placed
from spokenfor.reading.topic import Topic
from spokenfor.reading.unit import Unit

_REST = frozenset("rest remainder".split())
_GOOD = (Verdict.NAMED, Verdict.LOOKED_FOR, Verdict.SATISFACTORY)


def faults_one(unit: Unit, topic: Topic) -> bool:
    """Whether a unit tells a fault of one of the things that were listed and wait for a result."""
    named = {one for span in unit.components for one in span._.term.concepts}
    waits = {one for span, _ in topic.waiting for one in span._.term.concepts}
    return unit.tells_fault and not named.isdisjoint(waits)


def gathered(
    doc: Doc, unit: Unit, topic: Topic, standing: dict[str, list[Statement]]
) -> list[tuple[Span, Placed]]:
    """What a unit that names nothing is said of: what waits for a result, and what is spoken of. "The rest" is
    what waits, less the lines that something bad was said of ("tail lights, stop lights. Nearside stop light's
    dead, *rest all good*"); nobody knows what it is where nothing waits."""
    if _REST.isdisjoint(spoken(doc[unit.start : unit.end])):
        own = topic.spoken_of
        return [pair for pair in topic.waiting if pair not in own] + own
    pairs = []
    for mention, placed in topic.waiting:
        kept = tuple(
            item
            for item in placed.items
            if all(one.verdict in _GOOD for one in standing.get(item.id, []))
        )
        if kept:
            pairs.append((mention, replace(placed, items=kept)))
    return pairs
