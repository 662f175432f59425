"""The process that decodes and checks. `python -m spokenfor.web.child`, started by run_child.py only.

It reads one line of JSON from its standard input and writes one a line to its standard output: `seconds`
(of sound in all), `stage` with `done` and `total`, `sheet` (see filling.py), and last `done`, or `wrong` with
`mend`.
"""

from __future__ import annotations

import json
import os
import resource
import sys
import threading
import traceback
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from spokenfor.errors import InputError
from spokenfor.web.limits import Limits

_OUT = os.dup(1)
_POLITE = 10
"""Added to the niceness: pages answer first. At 10 a check gets some 10 % of a core that pages want, and all
of it while they do not (weights of the scheduler of Linux, from memory); enough not to run out of its time
where other programs keep the machine busy."""


def main() -> None:
    """Do one job within its limits."""
    os.dup2(2, 1)  # whatever a library prints is no answer
    given = json.loads(sys.stdin.buffer.readline())
    limits = Limits(**given["limits"])
    threading.Thread(target=_end_with_parent, daemon=True).start()
    _bind(limits)
    try:
        result = _JOBS[given["asked"]["job"]](given["asked"], limits)
    except InputError as error:
        _say(wrong=error.wrong, mend=error.mend)
    except MemoryError:
        _say(
            wrong="There is more sound in it than this machine can hold at once; it is kept",
            mend="Split the recording, or take a damaged file out, then try again",
        )
    except BaseException:
        # Not by way of the interpreter's own end, which waits for the thread that reads.
        traceback.print_exc()
        os._exit(1)
    else:
        _say(done=True, result=result)
    os._exit(0)


def _end_with_parent() -> None:
    sys.stdin.buffer.read()
    os._exit(1)


def _bind(limits: Limits) -> None:
    """Memory of our own (RLIMIT_DATA counts it since Linux 4.7, getrlimit(2)), and no core file."""
    for what, most in ((resource.RLIMIT_DATA, limits.memory), (resource.RLIMIT_CORE, 0)):
        _, hard = resource.getrlimit(what)
        if hard != resource.RLIM_INFINITY:
            most = min(most, hard)
        resource.setrlimit(what, (most, most))
    os.nice(_POLITE)


def _check(asked: Mapping[str, Any], limits: Limits) -> dict[str, Any] | None:
    from spokenfor.check import Request, check
    from spokenfor.record.adding import added
    from spokenfor.record.folder import is_inspection, open_inspection
    from spokenfor.record.keep import keep
    from spokenfor.web.filling import sheet_so_far

    out = Path(asked["out"])
    known: set[str] = set()
    if is_inspection(out):
        settings = open_inspection(out).settings
        known = {one.sha256 for one in [*settings.files(), *settings.photos]}
    given = [(Path(path), began) for path, began in asked["sounds"]]
    # What is kept already comes from a run whose end nobody heard of.
    new = [(path, began) for path, began in given if _sha256(path) not in known]
    photos = [one for one in map(Path, asked["photos"]) if _sha256(one) not in known]
    captions = [one for one in map(Path, asked["captions"]) if _sha256(one) not in known]
    if known and not (new or photos or captions):
        return None
    if len(captions) > 1:
        raise InputError("More than one transcript was given", "Leave one")
    request = Request(
        sounds=[path for path, _ in new],
        pack=asked["pack"],
        asset=asked["asset"],
        by=asked["by"],
        captions=captions[0] if captions else None,
        photos=photos,
        started=[began for _, began in new] if any(began for _, began in new) else (),
    )
    if known:
        request = added(out, request)
    _prepare(request.sounds, Path(asked["cache"]), limits)
    result, transcript = check(request, _progress, lambda one: _say(sheet=sheet_so_far(one)))
    _say(stage="Writing the reports", done=0.0, total=0.0)
    keep(out, request, result, transcript, embed=False)
    return _list({"folders": [(asked["draft"], asked["out"])]}, limits)


def _sound(asked: Mapping[str, Any], limits: Limits) -> None:
    _prepare([Path(one) for one in asked["sounds"]], Path(asked["cache"]), limits)


def _replay(asked: Mapping[str, Any], limits: Limits) -> dict[str, Any]:
    from spokenfor.check import Request, check
    from spokenfor.models import Result, Transcript
    from spokenfor.record.folder import Extended
    from spokenfor.record.replay import replay

    def again(one: Extended) -> tuple[Result, Transcript]:
        _prepare(one.sounds, Path(asked["cache"]), limits)
        fields = (one.sounds, one.pack, one.asset, one.by, one.model, one.captions)
        request = Request(*fields, photos=one.photos, photo_clock=one.photo_clock)
        return check(request, _progress)

    outcome = replay(Path(asked["bag"]), again)
    return {"differences": outcome.differences[:2000], "versions": outcome.versions}


def _list(asked: Mapping[str, Any], limits: Limits) -> dict[str, Any]:
    from spokenfor.web.list_rows import as_json, read_row

    return {"rows": [as_json(*read_row(name, Path(path))) for name, path in asked["folders"]]}


def _prepare(sounds: Sequence[Path], cache: Path, limits: Limits) -> None:
    from spokenfor.web.sound import prepare

    seconds = 0.0
    for path in sounds:
        _say(stage=f"Reading {path.name}", done=0.0, total=0.0)
        seconds += prepare(path, cache, limits.longest)
    _say(seconds=seconds)


def _sha256(path: Path) -> str:
    from spokenfor.record.digests import sha256_of_file

    return sha256_of_file(path)


def _progress(stage: str, done: float, total: float) -> None:
    _say(stage=stage, done=done, total=total)


def _say(**what: object) -> None:
    os.write(_OUT, json.dumps(what).encode() + b"\n")


_JOBS: dict[str, Callable[[Mapping[str, Any], Limits], dict[str, Any] | None]] = {
    "check": _check,
    "sound": _sound,
    "replay": _replay,
    "list": _list,
}

if __name__ == "__main__":
    main()
