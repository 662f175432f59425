"""What stands on the first page of report.pdf: what matters first, cut so that it stays one page?"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from spokenfor.models import Item, ItemStatus, Result, Verdict
from spokenfor.reporting.deciding import deciding_evidence
from spokenfor.reporting.gaps import by_zone, listen_first, not_covered
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.lines import findings_in_order
from spokenfor.reporting.timeline import Timeline
from spokenfor.reporting.wording import REASON_WORDS, duration, status_shape

# Of an A4 page as the template sets it: lines that are free for the groups, characters to a line.
_ROOM = 40
_WIDTH = 74
_LONGEST = 2 * _WIDTH - 4
_LONGEST_NAME = 60


@dataclass
class _Group:
    """A heading, how many it counts, and its lines in order of weight; `shown` of them have room."""

    title: str
    count: int
    lines: list[dict[str, Any]]
    where: str
    nothing: str | None = None
    shown: int = field(default=0)


def first_page(result: Result, undecided: Sequence[tuple[str, str]]) -> list[dict[str, Any]]:
    """Groups of lines {shape, text, time}, weightiest group first; `more` says what had no room and where in
    the report it stands. Groups that hold nothing are left out, but for defects and skipped items."""
    groups = [one for one in _groups(result, undecided) if one.count or one.nothing]
    _share_out(groups)
    return [
        {
            "title": one.title,
            "count": str(one.count),
            "lines": one.lines[: one.shown],
            "more": _more(one),
            "nothing": None if one.count else one.nothing,
        }
        for one in groups
    ]


def _groups(result: Result, undecided: Sequence[tuple[str, str]]) -> list[_Group]:
    gaps = not_covered(result)

    def among(choose: Callable[[Item], bool]) -> list[Item]:
        return [item for item in gaps if choose(item)]

    def of(*statuses: ItemStatus) -> list[Item]:
        return among(lambda item: item.status in statuses and not item.by_reference)

    skipped = of(ItemStatus.NOT_MENTIONED)
    unheard = of(ItemStatus.UNHEARD)
    no_result = of(ItemStatus.NAMED, ItemStatus.LOOKED_FOR)
    said_so = [item for item in gaps if item.status is ItemStatus.NOT_INSPECTED]
    reference = among(lambda item: item.by_reference and item not in said_so)
    optional = [
        one for one in not_covered(result, required=False) if one.status is ItemStatus.NOT_INSPECTED
    ]
    said_so += optional
    sheet = "see the sheet"
    return [
        _findings(result),
        _Group("Skipped", len(skipped), _zones(result, skipped), sheet, "No required item."),
        _Group("Not inspected", len(said_so), _said(result, said_so), sheet),
        _Group("Not heard", len(unheard), _zones(result, unheard), sheet),
        _Group("No result stated", len(no_result), _zones(result, no_result), sheet),
        _Group("By reference only", len(reference), _zones(result, reference), sheet),
        _unheard(result),
        _Group(
            "Listen first",
            len(listen_first(result)),
            _said(result, listen_first(result)),
            sheet,
        ),
        _Group(
            "Undecided",
            len(undecided),
            [_line(None, f"{label} ({why})") for label, why in undecided],
            "see the review",
        ),
    ]


def _findings(result: Result) -> _Group:
    labels, timeline = Labels(result), Timeline(result.recordings, ())
    defects = [one for one in findings_in_order(result) if one.verdict is Verdict.DEFECT]
    lines = [
        _line("defect", labels.finding(one), timeline.passage(one.evidence).begins, one.listen)
        for one in defects
    ]
    nothing = "None was found in the words. Listen where you doubt it."
    return _Group("Defects", len(defects), lines, "see the findings", nothing)


def _zones(result: Result, items: Sequence[Item]) -> list[dict[str, Any]]:
    """One line a zone: its items by name, or that it is the whole zone."""
    totals = {one.zone.id: one.total for one in by_zone(result, items, required=True)}
    lines = []
    for group in by_zone(result, items):
        names = [one.label for one in group.items]
        if len(names) == totals[group.zone.id] and len(names) > 4:
            text = f"{group.zone.name}: all {len(names)} required items"
        else:
            text = f"{group.zone.name}: {_as_many(names, _LONGEST - len(group.zone.name) - 2)}"
        lines.append(_line(status_shape(group.items[0]), text))
    return lines


def _as_many(names: Sequence[str], room: int) -> str:
    """As many names as fit, and how many do not."""
    shown: list[str] = []
    for name in names:
        short = name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}\u2026"
        if shown and len("; ".join([*shown, short])) + len(" and 9999 more") > room:
            return f"{'; '.join(shown)} and {len(names) - len(shown)} more"
        shown.append(short)
    return "; ".join(shown)


def _said(result: Result, items: Iterable[Item]) -> list[dict[str, Any]]:
    """One line an item, with the words that decided it."""
    statements = {one.id: one for one in result.statements}
    timeline = Timeline(result.recordings, ())
    lines = []
    for item in items:
        evidence = deciding_evidence(item, statements)
        text = item.label
        if evidence and evidence.text:
            text += f": \u201c{evidence.text}\u201d"
        begins = timeline.passage(evidence).begins if evidence else None
        lines.append(_line(status_shape(item), text, begins))
    return lines


def _unheard(result: Result) -> _Group:
    labels, timeline = Labels(result), Timeline(result.recordings, ())
    longest = sorted(result.unheard, key=lambda one: one.start - one.end)
    lines = []
    for one in longest:
        where = ", ".join(map(labels.zone, one.zones))
        text = f"{duration(one.end - one.start)} {REASON_WORDS[one.reason]}"
        lines.append(
            _line("unheard", f"{text} ({where})" if where else text, timeline.passage(one).begins)
        )
    return _Group("Unheard sound", len(lines), lines, "see unheard sound")


def _line(
    shape: str | None, text: str, time: str | None = None, listen: bool = False
) -> dict[str, Any]:
    if len(text) > _LONGEST:
        text = f"{text[: _LONGEST - 2]}\u2026" + ("\u201d" if text.endswith("\u201d") else "")
    return {"shape": shape, "text": text, "time": time, "listen": listen}


def _share_out(groups: Sequence[_Group]) -> None:
    """Give the room out line by line, so that no group pushes another off the page; a group that is cut
    needs a line to say so."""
    room = _ROOM - len(groups)
    while room > 0:
        before = room
        for group in groups:
            # Two at a time for the first two: defects and what was skipped weigh most.
            for _ in range(2 if group in groups[:2] else 1):
                if group.shown < len(group.lines):
                    cost = 1 + (len(group.lines[group.shown]["text"]) > _WIDTH)
                    if cost <= room:
                        group.shown += 1
                        room -= cost
        if room == before:
            break


def _more(group: _Group) -> str | None:
    left = len(group.lines) - group.shown
    return f"and {left} more: {group.where}" if left else None
