"""Does the check, run again from the sealed sound and pack, say the same?"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from spokenfor.models import Result, Transcript
from spokenfor.record.bag import PAYLOAD, refuse_unsafe
from spokenfor.record.digests import readable
from spokenfor.record.folder import (
    REPORT_FILE,
    REVIEWED_FILE,
    TRANSCRIPT_FILE,
    Extended,
    read_inspection,
)
from spokenfor.record.keep import transcript_json
from spokenfor.record.reviewed import reviewed
from spokenfor.record.settings import SETTINGS_FILE, Kept, versions

Check = Callable[[Extended], tuple[Result, Transcript]]


@dataclass(frozen=True)
class Replay:
    """`differences` are the lines of a unified diff (sealed against now), empty where all is the same;
    `versions` what is installed in another version than then."""

    differences: list[str]
    versions: list[str]


def replay(bag: Path, check: Check, model: str | None = None) -> Replay:
    """Run the check again from a verified bag and derive the reviewed result again; the date of the run is
    taken from the seal. `check` is the main job; `model` other weights than those then asked for. Raises
    InputError where the sealed request cannot be run here, such as weights that are not at hand."""
    data = bag / PAYLOAD
    sealed = read_inspection(data)
    settings = sealed.settings
    refuse_unsafe(settings.pack_path, SETTINGS_FILE)
    pack = data / settings.pack_path
    with TemporaryDirectory(prefix="spokenfor-") as folder:
        names = Path(folder)
        sounds = [
            _as_named(data, one, names / str(at)) for at, one in enumerate(settings.recordings)
        ]
        captions = settings.captions
        request = Extended(
            sounds=sounds,
            pack=str(pack),
            asset=settings.asset,
            by=settings.by,
            model=model or settings.asked_model,
            captions=_as_named(data, captions, names / "captions") if captions else None,
            photos=[
                _as_named(data, one, names / f"photo-{at}")
                for at, one in enumerate(settings.photos)
            ],
            photo_clock=sealed.result.photo_clock,
        )
        result, transcript = check(request)
    result.inspection.started = sealed.result.inspection.started
    now = {
        REPORT_FILE: readable(result.model_dump(mode="json", by_alias=True)),
        TRANSCRIPT_FILE: transcript_json(transcript),
        REVIEWED_FILE: readable(
            reviewed(sealed.result, sealed.log.entries).model_dump(mode="json", by_alias=True)
        ),
    }
    lines: list[str] = []
    for name, data_now in now.items():
        then = (data / name).read_bytes()
        if then != data_now:
            lines += _difference(name, then, data_now)
    installed = versions()
    other = [
        f"{name} {then} then, {installed.get(name, 'none')} now"
        for name, then in settings.versions.items()
        if installed.get(name) != then
    ]
    return Replay(lines, other)


def _as_named(data: Path, kept: Kept, folder: Path) -> Path:
    """The file under the name it had when it was checked, which the report repeats."""
    refuse_unsafe(kept.path, SETTINGS_FILE)
    refuse_unsafe(kept.file.replace("/", ".."), SETTINGS_FILE)
    path = data / kept.path
    if path.name == kept.file:
        return path
    folder.mkdir()
    link = folder / kept.file
    link.symlink_to(path.resolve())
    return link


def _difference(name: str, then: bytes, now: bytes) -> list[str]:
    return list(
        difflib.unified_diff(
            then.decode("utf-8", "replace").splitlines(),
            now.decode("utf-8", "replace").splitlines(),
            f"{name} as sealed",
            f"{name} now",
            n=1,
            lineterm="",
        )
    )
