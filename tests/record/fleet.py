"""Many inspections of invented machines, written as a check leaves them but without sound or recogniser."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from tests.record.walked import Walked, walked, write_sound
from tests.reporting.spoken_walk import make_result, make_transcript

from spokenfor.models import Result, Transcript, Word
from spokenfor.record.digests import readable, sha256_hex
from spokenfor.record.entries import About, Action, entry_after, line_of
from spokenfor.record.settings import Settings
from spokenfor.reporting.json_form import report_json

FIRST_DAY = datetime(2025, 1, 1, 6, 30, tzinfo=UTC)


def kept(top: Path, name: str, asset: str | None, day: int, findings: tuple[str, ...] = ()) -> Path:
    """An inspection folder `name` below `top`, made `day` days after FIRST_DAY, with only these findings of the
    walk (f1, f2...)."""
    check = one_check(top.parent / "phone" / name.replace("/", "-"), asset, day, findings)
    check.keep(top / name)
    return top / name


def one_check(phone: Path, asset: str | None, day: int, findings: tuple[str, ...]) -> Walked:
    check = walked(phone)
    inspection = check.result.inspection
    inspection.asset = check.asked.asset if asset is None else asset
    if asset is None:
        inspection.asset = None
    inspection.id = sha256_hex(f"{asset} {day} {phone.name}".encode())[:16]
    inspection.started = (FIRST_DAY + timedelta(days=day)).strftime("%Y-%m-%dT%H:%M:%SZ")
    check.result.findings = [one for one in check.result.findings if one.id in findings]
    return check


def generate(top: Path, count: int, machines: int = 40) -> None:
    """`count` inspections of 200 items, every second one with a decision, as report, transcript, settings and
    log alone: what `find` reads, without the sound that it does not."""
    write_sound(top.parent / "noise")
    check = walked(top.parent / "phone")
    check.keep(top.parent / "one")
    settings = Settings.model_validate_json((top.parent / "one" / "settings.json").read_bytes())
    result, transcript = _grown(make_result()), make_transcript()
    for number in range(count):
        folder = top / f"{number % machines:03}" / f"{number:05}"
        folder.mkdir(parents=True)
        _write(folder, number, machines, result, transcript, settings)


def _grown(result: Result) -> Result:
    """200 items."""
    items = result.items
    result.items = [
        items[number % len(items)].model_copy(
            update={"id": f"{items[number % len(items)].id}-{number}"}
            if number >= len(items)
            else {}
        )
        for number in range(200)
    ]
    return result


def _write(
    folder: Path,
    number: int,
    machines: int,
    result: Result,
    transcript: Transcript,
    settings: Settings,
) -> None:
    inspection = result.inspection
    inspection.asset = settings.asset = f"R-{number % machines:03}"
    inspection.id = settings.inspection = sha256_hex(str(number).encode())[:16]
    started = FIRST_DAY + timedelta(hours=number * 7)
    inspection.started = started.strftime("%Y-%m-%dT%H:%M:%SZ")
    spoken = transcript.segments[0]
    spoken.words = [
        *spoken.words[:10],
        Word(text=f"serial{number}.", start=3.0, end=3.5, probability=0.9),
    ]
    report = report_json(result).encode()
    (folder / "report.json").write_bytes(report)
    (folder / "transcript.json").write_bytes(
        readable(transcript.model_dump(mode="json", by_alias=True))
    )
    (folder / "settings.json").write_bytes(readable(settings.model_dump(by_alias=True)))
    about = About(label=inspection.id, key="check", digest=sha256_hex(report))
    entries = [
        entry_after(
            None,
            at=inspection.started,
            by=inspection.software,
            action=Action.CHECK,
            subject="inspection",
            about=about,
        )
    ]
    if number % 2:
        note = {"action": Action.ADD_NOTE, "subject": "inspection", "words": f"Note {number}"}
        entries.append(entry_after(entries[0], at=inspection.started, by="B. Second", **note))
    (folder / "log.jsonl").write_bytes(b"".join(map(line_of, entries)))
