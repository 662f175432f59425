"""The walk of walk.yaml as Transcript and Result."""

from __future__ import annotations

import hashlib
from collections import Counter
from pathlib import Path

import yaml

from spokenfor import CAUTIONS
from spokenfor.models import (
    AspectStated,
    Coverage,
    Evidence,
    Finding,
    FlaggedReading,
    FlaggedWord,
    Inspection,
    Item,
    ItemStatus,
    PackIdentity,
    Quality,
    Quantity,
    Recogniser,
    Recording,
    Repair,
    Result,
    Segment,
    SoundKind,
    SoundStretch,
    Statement,
    Transcript,
    Unheard,
    Verdict,
    Visit,
    Word,
    ZoneWalk,
)

RATE = 8000
WALK = yaml.safe_load(Path(__file__).with_name("walk.yaml").read_text(encoding="utf-8"))

_RANK = ["looked_for", "named", "satisfactory", "remark", "not_fitted", "not_inspected", "defect"]


def _sheet() -> list[Item]:
    items = []
    for line in WALK["sheet"].strip().splitlines():
        zone, component, positions, ata, aspects = (part.strip() for part in line.split("|"))
        optional = component.startswith("?")
        component = component.removeprefix("?").strip()
        for position in [part.strip() for part in positions.split(",")]:
            label = f"{position} {component.replace('-', ' ')}".strip()
            items.append(
                Item(
                    id=".".join(filter(None, [component, position])),
                    zone=zone,
                    component=component,
                    position=position or None,
                    label=label[0].upper() + label[1:],
                    required=not optional,
                    ata=ata,
                    status=ItemStatus.NOT_MENTIONED,
                    confidence=0.0,
                    aspects=[AspectStated(name=one, stated=False) for one in aspects.split()],
                    evidence=[],
                )
            )
    return items


def _segment(recording: int, start: float, end: float, heard: str, *, doubtful=False) -> Segment:
    parts = heard.split()
    step = (end - start) / len(parts)
    words = [
        Word(text=part, start=start + step * n, end=start + step * (n + 1), probability=0.9)
        for n, part in enumerate(parts)
    ]
    return Segment(recording=recording, start=start, end=end, words=words, doubtful=doubtful)


def make_recordings() -> list[Recording]:
    return [
        Recording(
            file=one["file"],
            sha256=hashlib.sha256(one["file"].encode()).hexdigest(),
            duration=one["seconds"],
            sample_rate=RATE,
            channels=1,
            quality=Quality(snr_db=17.34, clipped=0.0021, speech_seconds=one["seconds"] * 0.6),
        )
        for one in WALK["recordings"]
    ]


def make_transcript() -> Transcript:
    said = dict.fromkeys(
        (one["rec"], *one["at"], one.get("heard", one["said"])) for one in WALK["said"]
    )
    segments = [_segment(*row) for row in said]
    segments.append(_segment(*WALK["doubtful"].values(), doubtful=True))
    return Transcript(
        recordings=make_recordings(),
        segments=sorted(segments, key=lambda one: (one.recording, one.start)),
        ledger=[
            SoundStretch(kind=SoundKind.UNHEARD, **{k: v for k, v in one.items() if k != "zones"})
            for one in WALK["unheard"]
        ],
        model=Recogniser(name="tiny.en", sha256="1a5a" * 16),
    )


def make_result() -> Result:
    items = {item.id: item for item in _sheet()}
    statements: list[Statement] = []
    findings: list[Finding] = []
    flagged: list[FlaggedWord] = []
    repairs: list[Repair] = []
    for said in WALK["said"]:
        evidence = Evidence(
            recording=said["rec"],
            start=said["at"][0],
            end=said["at"][1],
            heard=said.get("heard", said["said"]),
            text=said["said"],
        )
        for name in [said.get("item"), *filter(None, [said.get("also")])]:
            item = items.get(name)
            statements.append(_statement(len(statements), said, item, evidence))
            if item:
                _say(item, statements[-1], said.get("note"))
            if said["verdict"] in ("defect", "remark"):
                findings.append(_finding(len(findings), statements[-1], said.get("note")))
        flagged += [
            FlaggedWord(
                word=word,
                condition=condition,
                reading=FlaggedReading(reading),
                item=said.get("item"),
                evidence=evidence,
            )
            for word, condition, reading in said.get("flags", [])
        ]
        repairs += _repairs(evidence)
    for name in WALK["unheard_items"]:
        items[name].status = ItemStatus.UNHEARD
    return Result(
        cautions=list(CAUTIONS),
        inspection=Inspection(
            id="2025-05-03-DEMO-1",
            asset="DEMO-1",
            pack=PackIdentity(
                name="helicopter-light-twin",
                title="Light twin helicopter, walk-round",
                version="1.0.0",
                sha256="ab" * 32,
            ),
            by="A. Learner",
            started="2025-05-03T07:41:00+00:00",
            software="0.1.0",
            model=Recogniser(name="tiny.en", sha256="1a5a" * 16),
        ),
        recordings=make_recordings(),
        items=list(items.values()),
        findings=findings,
        flagged_words=flagged,
        statements=statements,
        zones=_zones(),
        repairs=repairs,
        unheard=[Unheard(**one) for one in WALK["unheard"]],
        coverage=count_coverage(list(items.values())),
    )


def _statement(number: int, said: dict, item: Item | None, evidence: Evidence) -> Statement:
    return Statement(
        id=f"s{number + 1}",
        item=item.id if item else None,
        component=item.component if item else said.get("component"),
        position=item.position if item else None,
        zone=item.zone if item else None,
        verdict=Verdict(said["verdict"]),
        conditions=said.get("conditions", "").split(),
        aspects=said.get("aspects", "").split(),
        quantities=[Quantity(**one) for one in filter(None, [said.get("quantity")])],
        by_reference=said.get("by_reference", False),
        clears=said.get("clears", False),
        evidence=evidence,
        confidence=0.87,
    )


def _finding(number: int, statement: Statement, note: str | None) -> Finding:
    return Finding(
        id=f"f{number + 1}",
        verdict=statement.verdict,
        condition=statement.conditions[0],
        component=statement.component,
        position=statement.position,
        item=statement.item,
        note=note,
        quantities=statement.quantities,
        evidence=statement.evidence,
        confidence=statement.confidence,
    )


def _repairs(evidence: Evidence) -> list[Repair]:
    return [
        Repair(
            heard=heard,
            became=became,
            evidence=evidence,
            phonetic_score=0.86,
            spelling_score=0.71,
            sound_score=score,
            why="sounds like a term of the pack, and the sound allows it",
        )
        for heard, became, score in WALK["repairs"]
        if heard in evidence.heard and heard not in evidence.text
    ]


def _say(item: Item, statement: Statement, note: str | None) -> None:
    said = statement.verdict.value
    unsaid = item.status is ItemStatus.NOT_MENTIONED
    if statement.clears and item.status is ItemStatus.NOT_INSPECTED:
        item.status = ItemStatus.SATISFACTORY
    elif unsaid or _RANK.index(said) > _RANK.index(item.status.value):
        item.status = ItemStatus(said)
    item.by_reference = statement.by_reference
    item.note = item.note or note
    item.confidence = statement.confidence
    item.evidence.append(statement.evidence)
    item.statements.append(statement.id)
    for aspect in item.aspects:
        aspect.stated = aspect.stated or aspect.name in statement.aspects


def _zones() -> list[ZoneWalk]:
    visited = sorted((zone["visits"][0], zone["id"]) for zone in WALK["zones"] if zone["visits"])
    order = {zone: place for place, (_, zone) in enumerate(visited, start=1)}
    return [
        ZoneWalk(
            id=zone["id"],
            name=zone["name"],
            expected_order=place,
            walked_order=order.get(zone["id"]),
            visits=[Visit(recording=r, start=s, end=e) for r, s, e in zone["visits"]],
            seconds=sum(end - start for _, start, end in zone["visits"]),
        )
        for place, zone in enumerate(WALK["zones"], start=1)
    ]


def count_coverage(items: list[Item]) -> Coverage:
    counts = Counter(item.status.value for item in items if not item.by_reference)
    covered = {"satisfactory", "remark", "defect", "not_fitted"}
    return Coverage(
        by_status={status.value: counts[status.value] for status in ItemStatus},
        by_reference=sum(item.by_reference for item in items),
        total=len(items),
        required_total=sum(item.required for item in items),
        required_covered=sum(
            item.required and item.status.value in covered and not item.by_reference
            for item in items
        ),
    )
