"""How is what was found shown: as lines for a terminal, as JSON for a program?"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from spokenfor.record.search import Answer
from spokenfor.record.search_hits import CLOSE, OPEN, Hit, Place
from spokenfor.record.search_repeats import Repeat
from spokenfor.reporting.wording import clock, counted, day_and_time

_ORDINALS = "first second third fourth fifth sixth seventh eighth ninth tenth".split()
_NUMBERS = "one two three four five six seven eight nine ten".split()


def answer_lines(answer: Answer) -> Iterator[str]:
    """A heading for each inspection and a line for each hit, the words found in square brackets."""
    shown = sum(len(hits) for _, hits in answer.found)
    for place, hits in answer.found:
        yield _heading(place)
        for hit in hits:
            yield f"  {_moment(place, hit.recording, hit.start):<14} {_hit(hit)}"
    if not answer.found:
        yield "Nothing found"
        return
    line = f"{counted(shown, 'place')} in {counted(len(answer.found), 'inspection')}"
    more = "; there are more: see --limit, --asset, --since" if answer.left_out else ""
    yield line + more


def repeat_lines(repeats: Sequence[Repeat]) -> Iterator[str]:
    """A heading for each finding that came back, and a line for each time."""
    for one in repeats:
        nth = _in_words(len(one.times), _ORDINALS, f"{len(one.times)}th")
        among = _in_words(one.inspections, _NUMBERS, str(one.inspections))
        yield f"{one.asset}  {one.label}: {nth} time in {among} inspections"
        for time in one.times:
            put_right = f", {time.note}" if time.note else ""
            at = _moment(time.place, time.recording, time.start)
            yield (
                f"  {time.place.started[:10]}  {at:<14} {time.verdict}{put_right}"
                f"  \u201c{time.words}\u201d  {time.place.path}"
            )
    if not repeats:
        yield "No finding came back"


def answer_json(answer: Answer) -> str:
    """{"hits": [...], "left_out", "not_searched"}; each hit names its inspection and the words `found`."""
    hits = [
        {
            "inspection": _place(place),
            "kind": hit.kind,
            "words": hit.words.replace(OPEN, "").replace(CLOSE, ""),
            "found": _marked(hit.words),
            "line": hit.line,
            "state": hit.state,
            "recording": hit.recording,
            "start": hit.start,
            "end": hit.end,
        }
        for place, hits in answer.found
        for hit in hits
    ]
    return _json({"hits": hits, "left_out": answer.left_out, "not_searched": answer.notes})


def repeats_json(repeats: Sequence[Repeat], notes: Sequence[str]) -> str:
    """{"repeats": [...], "not_searched"}; each names its asset and every time, oldest first."""
    rows = []
    for one in repeats:
        row = asdict(one)
        for time, told in zip(one.times, row["times"], strict=True):
            told["inspection"] = _place(time.place)
            del told["place"]
        rows.append(row)
    return _json({"repeats": rows, "not_searched": list(notes)})


def _heading(place: Place) -> str:
    by = f", by {place.by}" if place.by else ""
    sealed = ", sealed" if place.sealed else ""
    asset = place.asset or "asset not stated"
    return f"{asset}  {day_and_time(place.started)}{by}  ({place.path}{sealed})"


def _hit(hit: Hit) -> str:
    words = hit.words.replace(OPEN, "[").replace(CLOSE, "]")
    if hit.kind == "decision":
        return f"decision by {hit.line}, {hit.state}: {words}"
    if hit.kind == "inspection":
        return f"inspection: {words}"
    line = f"{hit.line}: {hit.state}" if hit.line else "on no line of the sheet"
    if hit.kind == "item":
        return f"item {words}"
    return (
        f"{hit.kind} \u201c{words}\u201d  {line}" if hit.kind == "said" else f"{hit.kind} {words}"
    )


def _moment(place: Place, recording: int | None, start: float | None) -> str:
    if start is None:
        return ""
    which = f"rec {recording}, " if place.recordings > 1 else ""
    return which + clock(start)


def _place(place: Place) -> dict[str, Any]:
    return asdict(place)


def _marked(words: str) -> list[str]:
    return [part.partition(CLOSE)[0] for part in words.split(OPEN)[1:]]


def _in_words(number: int, words: Sequence[str], other: str) -> str:
    return words[number - 1] if 0 < number <= len(words) else other


def _json(tree: dict[str, Any]) -> str:
    return json.dumps(tree, ensure_ascii=False, indent=2, sort_keys=True)
