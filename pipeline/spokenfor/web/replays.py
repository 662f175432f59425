"""Is a sealed bag being checked again, and what came of it?"""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, field

from spokenfor.record.verify import verify
from spokenfor.web.bags import bag_folder
from spokenfor.web.check_queue import Queue
from spokenfor.web.library import Library
from spokenfor.web.limits import Limits
from spokenfor.web.run_child import run_child


@dataclass
class Replaying:
    """One replay: `state` is waiting, working, same, differs or failed. Kept in memory only: it changes
    nothing and can be run again."""

    state: str = "waiting"
    stage: str = ""
    share: float | None = None
    differences: list[str] = field(default_factory=list)
    versions: list[str] = field(default_factory=list)
    wrong: str | None = None
    mend: str | None = None


class Replays:
    """The replays of this start of the server, by the id of the bag."""

    def __init__(self, library: Library, queue: Queue, limits: Limits) -> None:
        self._library = library
        self._queue = queue
        self._limits = limits
        self._known: dict[str, Replaying] = {}
        self._tasks: set[asyncio.Task[None]] = set()

    def of(self, name: str) -> Replaying | None:
        """The last replay of a bag."""
        return self._known.get(name)

    async def start(self, name: str) -> None:
        """Check the sealed sound again, unless that is being done."""
        known = self._known.get(name)
        if known is not None and known.state in ("waiting", "working"):
            return
        self._known[name] = Replaying()
        task = asyncio.create_task(self._run(name, self._known[name]))
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _run(self, name: str, now: Replaying) -> None:
        async def tell(stage: str, done: float, total: float) -> None:
            now.stage, now.share = stage, done / total if total else None

        folder = await asyncio.to_thread(bag_folder, self._library, name)
        if (await asyncio.to_thread(verify, folder)).faults:
            now.state, now.wrong = "failed", "The bag is not as it was sealed"
            now.mend = "See its verification"
            return
        asked = {"job": "replay", "bag": str(folder), "cache": str(self._library.sound)}
        async with self._queue.one_at_a_time:
            now.state = "working"
            outcome = await run_child(asked, self._limits, tell)
        if outcome.failure is not None or outcome.result is None:
            failure = outcome.failure
            now.state = "failed"
            now.wrong = failure.wrong if failure else "It gave nothing"
            now.mend = failure.mend if failure else "Try again"
            return
        now.differences, now.versions = outcome.result["differences"], outcome.result["versions"]
        now.state = "differs" if now.differences else "same"
