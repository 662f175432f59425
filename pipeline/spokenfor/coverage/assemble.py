"""The whole Result of an inspection, from what was heard and what was read."""

from __future__ import annotations

import hashlib
from collections import Counter, defaultdict
from collections.abc import Sequence
from datetime import UTC, datetime

from spokenfor import CAUTIONS, __version__
from spokenfor.coverage.confidence import Trust
from spokenfor.coverage.statuses import PUT_RIGHT, Standing, standing
from spokenfor.coverage.walked import unheard_stretches, zone_walks
from spokenfor.models import (
    AspectStated,
    Coverage,
    Finding,
    Inspection,
    Item,
    ItemStatus,
    PackIdentity,
    Reading,
    Result,
    Statement,
    Transcript,
    Verdict,
)
from spokenfor.packs.load import Pack, SheetItem

COVERED = {
    ItemStatus.SATISFACTORY,
    ItemStatus.REMARK,
    ItemStatus.DEFECT,
    ItemStatus.NOT_FITTED,
}


def assemble(
    transcript: Transcript,
    reading: Reading,
    pack: Pack,
    *,
    asset: str | None = None,
    by: str | None = None,
    started: datetime | None = None,
) -> Result:
    """The result of an inspection. Everything but `inspection.started` follows from the arguments."""
    zones = [zone.id for zone in pack.zones]
    unheard = unheard_stretches(transcript.recordings, transcript.ledger, reading.walk, zones)
    hidden = {zone for stretch in unheard for zone in stretch.zones} | set(reading.unsure_zones)
    by_item: dict[str, list[Statement]] = defaultdict(list)
    for statement in reading.statements:
        if statement.item is not None:
            by_item[statement.item].append(statement)
    standings = {item: standing(statements) for item, statements in by_item.items()}
    trust = Trust(transcript, reading)
    items = [
        _item(pack, item, by_item[item.id], standings.get(item.id), item.zone in hidden, trust)
        for item in pack.items
    ]
    settled = {name for one in standings.values() for name in one.settled}
    return Result(
        schema="spokenfor/report/1",
        cautions=[*CAUTIONS, pack.head.caution],
        inspection=_inspection(transcript, pack, asset, by, started or datetime.now(UTC)),
        recordings=transcript.recordings,
        items=items,
        findings=_findings(reading.statements, settled, trust),
        flagged_words=reading.flagged_words,
        statements=reading.statements,
        zones=zone_walks(pack.zones, reading.walk, reading.unsure_zones),
        repairs=reading.repairs,
        unheard=unheard,
        coverage=count_coverage(items),
    )


def _inspection(
    transcript: Transcript, pack: Pack, asset: str | None, by: str | None, started: datetime
) -> Inspection:
    name = " ".join(
        [
            *(recording.sha256 for recording in transcript.recordings),
            pack.sha256,
            transcript.model.sha256,
            asset or "",
        ]
    )
    return Inspection(
        id=hashlib.sha256(name.encode()).hexdigest()[:16],
        asset=asset,
        pack=PackIdentity(
            name=pack.head.name,
            title=pack.head.title,
            version=pack.head.version,
            sha256=pack.sha256,
        ),
        by=by,
        started=started.strftime("%Y-%m-%dT%H:%M:%SZ"),
        software=f"spokenfor {__version__}",
        model=transcript.model,
    )


def _item(
    pack: Pack,
    line: SheetItem,
    statements: list[Statement],
    stands: Standing | None,
    hidden: bool,
    trust: Trust,
) -> Item:
    component = pack.components[line.component]
    status = (
        (ItemStatus.UNHEARD if hidden else ItemStatus.NOT_MENTIONED)
        if stands is None
        else stands.status
    )
    stated = {aspect for statement in statements for aspect in statement.aspects}
    deciding = [one for one in statements if stands and one.id in stands.deciding]
    confidence = trust.confidence(status, deciding, line.zone)
    return Item(
        id=line.id,
        zone=line.zone,
        component=line.component,
        position=line.position,
        label=line.label,
        required=line.required,
        ata=component.ata,
        status=status,
        confidence=confidence,
        listen=trust.listen(confidence, deciding)
        or (stands is not None and stands.note == PUT_RIGHT),
        by_reference=stands.by_reference if stands else False,
        note=stands.note if stands else None,
        aspects=[AspectStated(name=name, stated=name in stated) for name in component.aspects],
        evidence=[statement.evidence for statement in statements],
        statements=[statement.id for statement in statements],
    )


def deciding_statements(item: Item, statements: Sequence[Statement]) -> list[Statement]:
    """The statements that put an item where it stands."""
    own = [one for one in statements if one.id in item.statements]
    decided = standing(own).deciding if own else frozenset()
    return [one for one in own if one.id in decided]


def _findings(statements: list[Statement], settled: set[str], trust: Trust) -> list[Finding]:
    """A finding for each condition of each defect and remark, in time order."""
    findings: list[Finding] = []
    for statement in statements:
        if statement.verdict not in (Verdict.DEFECT, Verdict.REMARK):
            continue
        confidence = trust.confidence(ItemStatus(statement.verdict.value), [statement], None)
        for condition in statement.conditions or [None]:  # type: ignore[list-item]
            findings.append(
                Finding(
                    id=f"f{len(findings) + 1}",
                    verdict=statement.verdict,
                    condition=condition,
                    component=statement.component,
                    position=statement.position,
                    item=statement.item,
                    note=PUT_RIGHT if statement.id in settled else None,
                    quantities=statement.quantities,
                    evidence=statement.evidence,
                    confidence=confidence,
                    listen=trust.listen(confidence, [statement]) or statement.item is None,
                )
            )
    return findings


def count_coverage(items: Sequence[Item]) -> Coverage:
    """The counts over all items of a sheet."""
    counts = Counter({status.value: 0 for status in ItemStatus})
    counts.update(item.status.value for item in items if not item.by_reference)
    required = [item for item in items if item.required]
    return Coverage(
        by_status=dict(counts),
        by_reference=sum(item.by_reference for item in items),
        total=len(items),
        required_total=len(required),
        required_covered=sum(item.status in COVERED and not item.by_reference for item in required),
    )
