"""How does what the search found become rows of a page, each leading to its second of sound?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from spokenfor.record.search import Answer
from spokenfor.record.search_hits import CLOSE, OPEN, Hit, Place
from spokenfor.record.search_repeats import Repeat
from spokenfor.reporting.wording import clock, day_and_time
from spokenfor.web.library import place_id


@dataclass(frozen=True)
class HitRow:
    """A hit: `parts` of its words, each with whether it was looked for; `address` of its moment, if any."""

    kind: str
    parts: list[tuple[str, bool]]
    line: str | None
    state: str | None
    moment: str | None
    address: str | None


@dataclass(frozen=True)
class FoundRow:
    """An inspection or bag with its hits; `address` is None where it lies deeper than pages reach."""

    asset: str
    about: str
    address: str | None
    hits: list[HitRow]


@dataclass(frozen=True)
class RepeatRow:
    """A finding that came back: in how many of how many inspections, and each time."""

    label: str
    times: list[tuple[str, str, str, str | None]]
    inspections: int


def found_rows(answer: Answer) -> Iterator[FoundRow]:
    """The rows of an answer, newest inspection first."""
    for place, hits in answer.found:
        about = day_and_time(place.started) + (f", by {place.by}" if place.by else "")
        yield FoundRow(
            asset=place.asset or place.path,
            about=about + (", sealed" if place.sealed else ""),
            address=_address(place),
            hits=[_hit(place, one) for one in hits],
        )


def repeat_rows(repeats: list[Repeat]) -> Iterator[RepeatRow]:
    """The rows of findings that came back; each time is (when, verdict, words, address)."""
    for one in repeats:
        times = [
            (
                day_and_time(time.place.started),
                time.verdict + (f", {time.note}" if time.note else ""),
                time.words,
                _moment(time.place, time.recording, time.start),
            )
            for time in one.times
        ]
        yield RepeatRow(one.label, times, one.inspections)


def _hit(place: Place, hit: Hit) -> HitRow:
    first, *rest = hit.words.split(OPEN)
    parts = [(first, False)]
    for one in rest:
        inside, _, after = one.partition(CLOSE)
        parts += [(inside, True), (after, False)]
    said = None
    if hit.start is not None:
        which = f"rec {hit.recording}, " if place.recordings > 1 else ""
        said = which + clock(hit.start)
    address = _moment(place, hit.recording, hit.start)
    return HitRow(hit.kind, parts, hit.line, hit.state, said, address)


def _address(place: Place) -> str | None:
    if "/" in place.path or place.path == ".":
        return None
    return f"/{'bags' if place.sealed else 'inspections'}/{place_id(Path(place.path))}"


def _moment(place: Place, recording: int | None, start: float | None) -> str | None:
    base = _address(place)
    if base is None or recording is None or start is None:
        return base
    at = f"recording={recording - 1}&at={start:.2f}"
    return f"{base}/transcript?{at}#from-{recording - 1}-{start:.2f}"
