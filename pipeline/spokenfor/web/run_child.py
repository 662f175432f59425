"""How is sound decoded and checked in a process of its own, that can neither run on for ever nor drag the
server down with it?"""

from __future__ import annotations

import asyncio
import json
import sys
from collections.abc import Awaitable, Callable, Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass
from typing import Any

from spokenfor.errors import InputError
from spokenfor.web.limits import Limits


@dataclass(frozen=True)
class Outcome:
    """What became of a job: `failure` says what is wrong and how to mend it, None when it is done; `result`
    is what it gave, if it gives anything."""

    failure: InputError | None = None
    result: dict[str, Any] | None = None


Tell = Callable[[str, float, float], Awaitable[None]]
TellSheet = Callable[[dict[str, Any]], Awaitable[None]]
_LONGEST_LINE = 16 << 20
_TO_END = 5.0
_TOO_LONG = InputError(
    "It took too long and was stopped; the recordings are kept",
    "Split the recording, or take a damaged file out, then try again",
)
_BROKEN = InputError(
    "The recording could not be processed; it is kept",
    "The file may be damaged: play it in a sound player, convert it to wav or flac, and add that",
)


async def run_child(
    asked: Mapping[str, object],
    limits: Limits,
    tell: Tell | None = None,
    tell_sheet: TellSheet | None = None,
) -> Outcome:
    """Run one job.

    The child reads its request from its standard input, which then stays open: it ends itself when this
    process is gone. Its time is `limits.decoding` until it knows how long the sound is, and in proportion to
    that then.
    """
    child = await asyncio.create_subprocess_exec(
        sys.executable,
        *("-m", "spokenfor.web.child"),
        stdin=asyncio.subprocess.PIPE,
        stdout=asyncio.subprocess.PIPE,
        limit=_LONGEST_LINE,
    )
    assert child.stdin is not None and child.stdout is not None
    loop = asyncio.get_running_loop()
    answered = False
    try:
        request = json.dumps({"asked": dict(asked), "limits": asdict(limits)})
        with suppress(BrokenPipeError, ConnectionResetError):
            child.stdin.write(request.encode() + b"\n")
            await child.stdin.drain()
        async with asyncio.timeout(limits.decoding) as deadline:
            async for line in child.stdout:
                said: dict[str, Any] = json.loads(line)
                if "seconds" in said:
                    allowed = limits.grace + limits.per_second * float(said["seconds"])
                    deadline.reschedule(loop.time() + allowed)
                elif "stage" in said:
                    if tell is not None:
                        await tell(said["stage"], said["done"], said["total"])
                elif "sheet" in said:
                    if tell_sheet is not None:
                        await tell_sheet(said["sheet"])
                elif "wrong" in said:
                    answered = True
                    return Outcome(InputError(said["wrong"], said["mend"]))
                elif "done" in said:
                    answered = True
                    return Outcome(result=said.get("result"))
    except TimeoutError:
        return Outcome(_TOO_LONG)
    finally:
        await _ended(child, answered)
    return Outcome(_BROKEN)


async def _ended(child: asyncio.subprocess.Process, answered: bool) -> None:
    """Wait for the end of a child that has answered; end the others, and those that do not end."""
    if answered:
        with suppress(TimeoutError):
            async with asyncio.timeout(_TO_END):
                await child.wait()
    if child.returncode is None:
        with suppress(ProcessLookupError):
            child.kill()
        await child.wait()
