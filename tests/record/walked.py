"""The walk of tests/reporting as an inspection folder: real files and a real pack, no recogniser."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from tests.reporting.spoken_walk import make_result, make_transcript

from spokenfor.models import (
    Evidence,
    PackIdentity,
    Recording,
    Result,
    Statement,
    Transcript,
    Verdict,
)
from spokenfor.packs.load import load_pack
from spokenfor.record.keep import keep
from spokenfor.record.review import Decision, decide

PACK = "helicopter-light-twin"
BY = "A. Engineer"


@dataclass(frozen=True)
class Asked:
    """What was asked of a check, as check.Request says it."""

    sounds: list[Path]
    pack: str = PACK
    asset: str | None = "R-07"
    by: str | None = "Sample voice"
    model: str | None = None
    captions: Path | None = None
    photos: Sequence[Path] = ()


@dataclass
class Walked:
    """A check that was made: what was asked, and what came of it."""

    asked: Asked
    result: Result
    transcript: Transcript = field(default_factory=make_transcript)

    def keep(self, out: Path) -> Path:
        return keep(out, self.asked, self.result, self.transcript, embed=False)


def walked(folder: Path, names: tuple[str, str] = ("left side.wav", "right side.wav")) -> Walked:
    """A check of two recordings made in `folder`."""
    sounds = [write_sound(folder / name, seed) for seed, name in enumerate(names)]
    result = make_result()
    transcript = make_transcript()
    for recording, path in zip(result.recordings, sounds, strict=True):
        recording.file, recording.sha256 = path.name, sha256(path)
    transcript.recordings = result.recordings
    for finding in result.findings:
        finding.item = finding.item or "baggage-net"
    pack = load_pack(PACK)
    result.inspection.pack = PackIdentity(
        name=pack.head.name, title=pack.head.title, version=pack.head.version, sha256=pack.sha256
    )
    result.inspection.asset, result.inspection.by = "R-07", "Sample voice"
    return Walked(Asked(sounds), result, transcript)


def with_more(before: Walked, sound: Path, said: str, item: str, verdict: Verdict) -> Walked:
    """The same check with a recording added in which one thing is said of one item."""
    result, transcript = (
        before.result.model_copy(deep=True),
        before.transcript.model_copy(deep=True),
    )
    last = result.recordings[-1]
    result.recordings.append(
        Recording(
            file=sound.name,
            sha256=sha256(sound),
            duration=9.0,
            sample_rate=last.sample_rate,
            channels=1,
            quality=last.quality,
        )
    )
    transcript.recordings = result.recordings
    evidence = Evidence(recording=len(result.recordings) - 1, start=1, end=4, heard=said, text=said)
    line = next(one for one in result.items if one.id == item)
    statement = Statement(
        id=f"s{len(result.statements) + 1}",
        item=item,
        component=line.component,
        position=line.position,
        zone=line.zone,
        verdict=verdict,
        evidence=evidence,
        confidence=0.9,
    )
    result.statements.append(statement)
    line.evidence.append(evidence)
    line.statements.append(statement.id)
    line.status = type(line.status)(verdict.value)
    return Walked(Asked([*before.asked.sounds, sound]), result, transcript)


def write_sound(path: Path, seed: int = 0, size: int = 3000) -> Path:
    """A file that stands for a recording; nothing here decodes it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    blocks = range(-(-size // 32))
    noise = b"".join(hashlib.sha256(f"{seed} {block}".encode()).digest() for block in blocks)
    path.write_bytes(b"RIFF" + noise[:size])
    return path


def sha256(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder but the lock, which is empty and means nothing at rest."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != ".lock"
    }


def accept_all(folder: Path, by: str = BY) -> None:
    """Accept whatever is still open."""
    from spokenfor.record.entries import Action
    from spokenfor.record.folder import open_inspection
    from spokenfor.record.reviewed import reviewed

    inspection = open_inspection(folder)
    for point in reviewed(inspection.result, inspection.log.entries).open:
        decide(folder, Decision(Action.ACCEPT, point.subject, by))
