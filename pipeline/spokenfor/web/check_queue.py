"""In which order are waiting drafts checked, and what does a restart go on with?

The state is in the drafts' job.json alone; what is in memory (progress, listeners) may be lost. One check
runs at a time, in a child process of its own.
"""

from __future__ import annotations

import asyncio
import logging
import time
from collections.abc import AsyncIterator, Callable
from dataclasses import dataclass, replace
from typing import Any

from spokenfor.errors import InputError
from spokenfor.web.drafts import Drafts, Job
from spokenfor.web.library import Library, NotThereError
from spokenfor.web.limits import Limits
from spokenfor.web.list_rows import row_from
from spokenfor.web.listing import Listing
from spokenfor.web.opened import Shelf
from spokenfor.web.run_child import run_child

_LOG = logging.getLogger(__name__)
_STILL_THERE = 15.0
"""Seconds after which a listener is told that nothing happened, so that a broken line is noticed."""


@dataclass(frozen=True)
class Progress:
    """How far a check is: a stage in words, seconds of sound done of all (0 of 0: not known), and the sheet
    as far as it has filled (see filling.py)."""

    stage: str
    done: float = 0.0
    total: float = 0.0
    sheet: dict[str, Any] | None = None


class Queue:
    """The checks that wait, first come first served."""

    def __init__(
        self, library: Library, drafts: Drafts, limits: Limits, listing: Listing, shelf: Shelf
    ) -> None:
        self._library = library
        self._drafts = drafts
        self._limits = limits
        self._listing = listing
        self._shelf = shelf
        self.one_at_a_time = asyncio.Lock()
        self._changed = asyncio.Condition()
        self._progress: dict[str, Progress] = {}
        self._version = 0

    async def start_check(self, draft: str) -> None:
        """Put a draft into the queue. Raises InputError where it has no recording or waits already."""
        job = self._drafts.job(draft)
        if job.state in ("waiting", "working"):
            return
        if not self._drafts.sounds(draft):
            raise InputError("No recording is there yet", "Record one, or drop a file")
        await asyncio.to_thread(
            self._drafts.set_job, draft, Job(state="waiting", queued=time.time_ns())
        )
        await self._tell()

    def waiting(self) -> list[str]:
        """Ids of the drafts that wait or are at work, in the order they will be checked."""
        rows = []
        for draft in self._drafts.ids():
            try:
                job = self._drafts.job(draft)
            except (NotThereError, FileNotFoundError):
                continue  # finished between the two looks
            if job.state in ("waiting", "working"):
                rows.append((job.state != "working", job.queued, draft))
        return [draft for _, _, draft in sorted(rows)]

    def progress(self, draft: str) -> Progress | None:
        return self._progress.get(draft)

    async def run(self) -> None:
        """Check one draft after the other, for ever. What was at work when the server ended goes first."""
        while True:
            rows = await asyncio.to_thread(self.waiting)
            if not rows:
                version = self._version
                async with self._changed:
                    await self._changed.wait_for(self._moved_on(version))
                continue
            try:
                await self._check(rows[0])
            except Exception:
                _LOG.exception("The check of %s could not be run", rows[0])
                await self._end(rows[0], InputError("The check could not be run", "Try again"))

    async def changes(self) -> AsyncIterator[bool]:
        """True at once and after each change of any draft, False when nothing has changed for a while."""
        seen = -1
        while True:
            try:
                async with asyncio.timeout(_STILL_THERE), self._changed:
                    await self._changed.wait_for(self._moved_on(seen))
            except TimeoutError:
                yield False
            else:
                seen = self._version
                yield True

    def _moved_on(self, seen: int) -> Callable[[], bool]:
        return lambda: self._version != seen

    async def _check(self, draft: str) -> None:
        job = await asyncio.to_thread(self._drafts.job, draft)
        await asyncio.to_thread(
            self._drafts.set_job, draft, job.model_copy(update={"state": "working"})
        )
        await asyncio.to_thread(self._drafts.join_unended, draft)
        now = Progress("Starting")
        await self._tell(draft, now)
        asked = await asyncio.to_thread(self._request, draft)

        async def tell(stage: str, done: float, total: float) -> None:
            nonlocal now
            now = replace(now, stage=stage, done=done, total=total)
            await self._tell(draft, now)

        async def tell_sheet(sheet: dict[str, Any]) -> None:
            nonlocal now
            now = replace(now, sheet=sheet)
            await self._tell(draft, now)

        async with self.one_at_a_time:
            outcome = await run_child(asked, self._limits, tell, tell_sheet)
        if outcome.result is not None:
            self._listing.remember(row_from(one) for one in outcome.result["rows"])
            await asyncio.to_thread(self._shelf.prepare, draft)
        await self._end(draft, outcome.failure)

    def _request(self, draft: str) -> dict[str, object]:
        asked = self._drafts.asked(draft)
        sounds = [one for one in self._drafts.sounds(draft) if one.file is not None]
        return {
            "job": "check",
            "draft": draft,
            "out": str(self._library.target(draft)),
            "cache": str(self._library.sound),
            "sounds": [(str(one.file), one.began) for one in sounds if one.kind == "sound"],
            "captions": [str(one.file) for one in sounds if one.kind == "captions"],
            "photos": [str(one.file) for one in sounds if one.kind == "photo"],
            "asset": asked.asset,
            "pack": asked.pack,
            "by": asked.by,
        }

    async def _end(self, draft: str, failure: InputError | None) -> None:
        if failure is None:
            await asyncio.to_thread(self._drafts.drop, draft)
        else:
            failed = Job(state="failed", wrong=failure.wrong, mend=failure.mend)
            await asyncio.to_thread(self._drafts.set_job, draft, failed)
        self._progress.pop(draft, None)
        await self._tell()

    async def _tell(self, draft: str | None = None, progress: Progress | None = None) -> None:
        if draft is not None and progress is not None:
            self._progress[draft] = progress
        async with self._changed:
            self._version += 1
            self._changed.notify_all()
