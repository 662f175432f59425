"""What does one line of the review log hold, and does it follow from the line before?"""

from __future__ import annotations

import json
from collections.abc import Sequence
from enum import StrEnum
from typing import Any

from pydantic import Field, ValidationError

from spokenfor.models import Model, Seconds
from spokenfor.record.digests import canonical, sha256_hex

NOTHING = "0" * 64
"""What the first entry gives as the SHA-256 of the one before."""


class Action(StrEnum):
    """What was done. `check`, `seal` and `set_aside` are written by the commands of that name and by the log
    itself; the others are decisions of a person."""

    CHECK = "check"
    ACCEPT = "accept"
    CHANGE_STATUS = "change_status"
    PLACE_FINDING = "place_finding"
    CORRECT_WORDS = "correct_words"
    CORRECT_TIME = "correct_time"
    ADD_NOTE = "add_note"
    SHIFT_PHOTOS = "shift_photos"
    PLACE_PHOTO = "place_photo"
    REOPEN = "reopen"
    SEAL = "seal"
    SET_ASIDE = "set_aside"


class About(Model):
    """What a decision was about, as the person saw it: so that it is found again, or known to be overtaken,
    after more recordings have been heard. `recording` is the SHA-256 of the file, times are seconds in it;
    `key` finds the subject in another result, `digest` is the SHA-256 of the proposal."""

    label: str
    stood: str | None = None
    recording: str | None = None
    start: Seconds | None = None
    end: Seconds | None = None
    heard: str | None = None
    key: str
    digest: str


class Entry(Model):
    """One line of log.jsonl: who (`by`), when (`at`, UTC, ISO 8601), why, and what.

    `subject` is the id of an item, finding or statement, a passage, or `inspection`. `status` belongs to
    change_status (of a finding: a verdict), `item` to place_finding, `words` to correct_words, `start` and
    `end` (seconds) to correct_time, `seconds` to shift_photos (all of them, against the clock), `recording`
    (SHA-256) and `start` to place_photo, `licence` and `left_open` (subjects left undecided) to seal.
    `previous` is the `sha256` of the entry before; `sha256` that of this entry's canonical JSON without it.
    """

    number: int = Field(ge=1)
    at: str
    by: str
    action: Action
    subject: str
    why: str | None = None
    status: str | None = None
    item: str | None = None
    words: str | None = None
    start: Seconds | None = None
    end: Seconds | None = None
    seconds: Seconds | None = None
    recording: str | None = None
    licence: str | None = None
    left_open: list[str] | None = None
    about: About | None = None
    previous: str
    sha256: str = ""

    def digest(self) -> str:
        """The SHA-256 that `sha256` must give."""
        return sha256_hex(canonical(_tree(self, exclude={"sha256"})))


def entry_after(last: Entry | None, **fields: Any) -> Entry:
    """The entry that follows `last`, complete with number and hashes. Raises ValueError for text that is not
    Unicode."""
    number, previous = (last.number + 1, last.sha256) if last else (1, NOTHING)
    entry = Entry(number=number, previous=previous, **fields)
    return entry.model_copy(update={"sha256": entry.digest()})


def line_of(entry: Entry) -> bytes:
    """The entry as its line: canonical JSON and a line feed."""
    return canonical(_tree(entry)) + b"\n"


def entry_of(line: bytes) -> Entry:
    """The entry of one line without its line feed. Raises ValueError, in words, for a line that is not
    byte for byte what was written."""
    try:
        entry = Entry.model_validate(json.loads(line.decode("utf-8")))
        own = line_of(entry)
    except (ValueError, RecursionError) as error:
        kind = "an entry" if isinstance(error, ValidationError) else "JSON"
        raise ValueError(f"is not {kind}") from error
    if entry.digest() != entry.sha256:
        raise ValueError("was changed: its SHA-256 is another")
    if own != line + b"\n":
        raise ValueError("was rewritten: it is not in canonical form")
    return entry


def faults(lines: Sequence[bytes]) -> list[str]:
    """What is wrong with a log, entry by entry: changed, missing, out of order, added. Empty if nothing."""
    found: list[str] = []
    read: list[tuple[int, Entry | None]] = []
    for at, line in enumerate(lines, start=1):
        try:
            read.append((at, entry_of(line)))
        except ValueError as error:
            found.append(f"entry {at} {error}")
            read.append((at, None))
    whole = [entry.number for _, entry in read if entry is not None]
    broken = {at for at, entry in read if entry is None}
    highest = max(whole, default=0)
    found += [
        f"entry {number} is missing"
        for number in range(1, highest)
        if number not in whole and number not in broken
    ]
    before: Entry | None = None
    seen: set[int] = set()
    for at, entry in read:
        if entry is None:
            before = None
            continue
        if entry.number in seen:
            found.append(f"line {at} is a second entry {entry.number}: one of the two was added")
        elif before is not None and entry.number < before.number:
            found.append(f"entry {entry.number} is out of order, on line {at}")
        elif not _follows(before, entry, at):
            found.append(
                f"entry {entry.number} does not follow from the line before: one was changed"
            )
        seen.add(entry.number)
        before = entry
    return found


def _follows(before: Entry | None, entry: Entry, at: int) -> bool:
    """Whether the link holds; where the one before is broken or missing that is said there."""
    if before is None:
        return at > 1 or entry.number > 1 or entry.previous == NOTHING
    return entry.number > before.number + 1 or entry.previous == before.sha256


def _tree(entry: Entry, **options: Any) -> Any:
    return entry.model_dump(mode="json", exclude_none=True, **options)
