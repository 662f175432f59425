"""Results for comparing: small sheets from lines of text, and three whole walks."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Sequence
from pathlib import Path

from tests.reporting.spoken_walk import count_coverage, make_result

from spokenfor.comparing.walks import Walk
from spokenfor.models import (
    AspectStated,
    Evidence,
    Finding,
    Item,
    ItemStatus,
    Result,
    Statement,
    Verdict,
    Visit,
    ZoneWalk,
)
from spokenfor.reporting.json_form import report_json


def learner() -> Result:
    """The walk of walk.yaml, on the 3rd of May."""
    result = make_result()
    result.inspection.by, result.inspection.started = "A. Learner", "2025-05-03T07:41:00+00:00"
    return result


def later() -> Result:
    """A week later: what was only named or looked for has a result; the left side is walked before the nose."""
    result = learner()
    result.inspection.by, result.inspection.started = "a. learner", "2025-05-10T07:41:00+00:00"
    result.inspection.id = "2025-05-10-DEMO-1"
    for item in result.items:
        if item.status in (ItemStatus.NAMED, ItemStatus.LOOKED_FOR):
            item.status = ItemStatus.SATISFACTORY
            for aspect in item.aspects[:1]:
                aspect.stated = True
    nose, left = result.zones[0], result.zones[1]
    nose.visits, left.visits = left.visits, nose.visits
    nose.walked_order, left.walked_order = left.walked_order, nose.walked_order
    nose.seconds, left.seconds = left.seconds, nose.seconds
    result.coverage = count_coverage(result.items)
    return result


def teacher() -> Result:
    """Every line with a result and every aspect stated; one finding that nobody else has."""
    result = learner()
    result.inspection.by, result.inspection.started = "T. Teacher", "2025-05-02T07:41:00+00:00"
    result.inspection.id = "2025-05-02-DEMO-1"
    for item in result.items:
        if item.status is not ItemStatus.DEFECT:
            item.status, item.by_reference = ItemStatus.SATISFACTORY, False
        item.aspects = [AspectStated(name=one.name, stated=True) for one in item.aspects]
    nose = next(one for one in result.items if one.id == "nose-cone")
    nose.status = ItemStatus.DEFECT
    result.findings.append(
        Finding(
            id="f-crack",
            verdict=Verdict.DEFECT,
            condition="crack",
            component="nose-cone",
            position=None,
            item="nose-cone",
            quantities=[],
            evidence=said("There is a crack in the nose cone.", 2, 5),
            confidence=0.9,
        )
    )
    result.coverage = count_coverage(result.items)
    return result


def write_walk(folder: Path, result: Result, sounds: Sequence[Path] = ()) -> Path:
    """The folder of a check: its report.json and, beside it, its sound."""
    folder.mkdir(parents=True)
    for recording, sound in zip(result.recordings, sounds, strict=False):
        recording.sha256 = hashlib.sha256(sound.read_bytes()).hexdigest()
        shutil.copy(sound, folder / recording.file)
    (folder / "report.json").write_text(report_json(result), encoding="utf-8")
    return folder


def walk(name: str, *lines: str, zones: Sequence[tuple[str, float | None]] = ()) -> Walk:
    """A walk of its own small sheet. A line is "zone | item | status | words", with aspects behind the item in
    brackets, stated ones marked +: "nose | cone (condition+ security) | satisfactory | It is clean." """
    result = learner()
    result.inspection.by = name
    result.statements, result.findings, result.items = [], [], []
    for number, line in enumerate(lines):
        zone, thing, status, words = (part.strip() for part in line.split("|"))
        _add_line(result, number, zone, thing, status, words)
    ids = dict.fromkeys(item.zone for item in result.items)
    stays = dict(zones) or dict.fromkeys(ids, None)
    result.zones = [
        ZoneWalk(
            id=one,
            name=one,
            expected_order=place,
            walked_order=None,
            visits=[] if at is None else [Visit(recording=0, start=at, end=at + 5)],
            seconds=0 if at is None else 5,
        )
        for place, (one, at) in enumerate(stays.items(), start=1)
    ]
    result.unheard = []
    return Walk(source=Path(name), result=result)


def _add_line(result: Result, number: int, zone: str, thing: str, status: str, words: str) -> None:
    component, _, asked = thing.partition("(")
    component = component.strip()
    by_reference = status == "by_reference"
    evidence = said(words, 10 * number, 10 * number + 3)
    item = Item(
        id=f"{zone}.{component}",
        zone=zone,
        component=component,
        position=None,
        label=component,
        required=True,
        status=ItemStatus("satisfactory" if by_reference else status),
        confidence=0.9,
        by_reference=by_reference,
        aspects=[
            AspectStated(name=one.rstrip("+"), stated=one.endswith("+"))
            for one in asked.rstrip(")").split()
        ],
        evidence=[evidence] if words else [],
        statements=[f"s{number}"] if words else [],
    )
    result.items.append(item)
    if words:
        result.statements.append(
            Statement(
                id=f"s{number}",
                item=item.id,
                component=component,
                position=None,
                zone=zone,
                verdict=Verdict(item.status.value),
                aspects=[one.name for one in item.aspects if one.stated],
                by_reference=by_reference,
                evidence=evidence,
                confidence=0.9,
            )
        )


def said(words: str, start: float, end: float) -> Evidence:
    return Evidence(recording=0, start=start, end=end, heard=words, text=words)


def finding(condition: str | None, component: str | None, item: str | None = None) -> Finding:
    return Finding(
        id=f"f-{component}-{condition}",
        verdict=Verdict.DEFECT,
        condition=condition,
        component=component,
        position=None,
        item=item,
        quantities=[],
        evidence=said(f"There is a {condition}.", 1, 2),
        confidence=0.9,
    )
