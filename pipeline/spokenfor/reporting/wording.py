"""How are statuses, readings, reasons, times and dates said to people?"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, datetime

from spokenfor.models import FlaggedReading, Item, ItemStatus, Quantity, UnheardReason
from spokenfor.packs.wording import counted as counted

STATUS_WORDS = {
    ItemStatus.SATISFACTORY: "satisfactory",
    ItemStatus.REMARK: "remark",
    ItemStatus.DEFECT: "defect",
    ItemStatus.NOT_INSPECTED: "not inspected (said so)",
    ItemStatus.NOT_FITTED: "not fitted",
    ItemStatus.LOOKED_FOR: "looked for, no result stated",
    ItemStatus.NAMED: "named, no result stated",
    ItemStatus.NOT_MENTIONED: "not mentioned",
    ItemStatus.UNHEARD: "unheard",
}

READING_WORDS = {
    FlaggedReading.PRESENT: "present",
    FlaggedReading.ABSENT: "absent",
    FlaggedReading.LOOKED_FOR: "looked for",
    FlaggedReading.SUPPOSED: "supposed",
    FlaggedReading.WITHIN_LIMITS: "within limits",
    FlaggedReading.UNCLEAR: "unclear",
}

REASON_WORDS = {
    UnheardReason.SPEECH_WITHOUT_WORDS: "speech that did not become words",
    UnheardReason.TOO_NOISY: "too noisy",
    UnheardReason.CLIPPED: "clipped",
    UnheardReason.MISSING_SOUND: "missing sound",
    UnheardReason.DOUBTFUL_WORDS: "doubtful words",
    UnheardReason.NO_SOUND_GIVEN: "no sound given",
}

_IDENTIFIER = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def status_words(item: Item) -> str:
    """Say where an item stands; a by-reference item never reads as plainly satisfactory."""
    if not item.by_reference:
        return STATUS_WORDS[item.status]
    if item.status is ItemStatus.SATISFACTORY:
        return "by reference"
    return f"{STATUS_WORDS[item.status]}, by reference"


def status_shape(item: Item) -> str:
    """Name the drawn shape that stands beside the status word."""
    if item.by_reference and item.status is ItemStatus.SATISFACTORY:
        return "by_reference"
    return item.status.value


def plain(name: str) -> str:
    """Say a pack identifier in words ("main-gearbox": "main gearbox"); leave other text alone."""
    return name.replace("-", " ") if _IDENTIFIER.fullmatch(name) else name


def spaced(value: str) -> str:
    """Say a status or verdict as it stands in report.json in words ("not_inspected": "not inspected")."""
    return value.replace("_", " ")


def clock(seconds: float) -> str:
    """Say a time in seconds as m:ss, or h:mm:ss from one hour on."""
    whole = int(seconds + 1e-6)
    hours, minutes = whole // 3600, whole // 60 % 60
    return f"{hours}:{minutes:02}:{whole % 60:02}" if hours else f"{minutes}:{whole % 60:02}"


def duration(seconds: float) -> str:
    """Say a length in seconds as m:ss, rounded up so that a short unheard stretch is never 0:00."""
    return clock(int(-(-round(seconds, 2) // 1)))


def listed(names: Sequence[str]) -> str:
    """Join names as in speech: a, b and c."""
    return " and ".join(filter(None, [", ".join(names[:-1]), *names[-1:]]))


def moment_of(started: str) -> datetime | None:
    """An ISO 8601 moment in UTC, which one without a zone is taken to be in; None where the text is none."""
    try:
        moment = datetime.fromisoformat(started)
        return moment.astimezone(UTC) if moment.tzinfo else moment.replace(tzinfo=UTC)
    except (ValueError, OverflowError):
        return None


def day_and_time(started: str) -> str:
    """Say an ISO 8601 moment as 3 May 2025, 08:59 UTC; text that is no moment is left as it is."""
    moment = moment_of(started)
    return started if moment is None else f"{moment.day} {moment:%B %Y, %H:%M} UTC"


def quantity_words(quantity: Quantity) -> str:
    """Say a number with its unit, the words that gave it and the limit it was held against."""
    said = f"{quantity.value:g} {quantity.unit}".strip()
    if quantity.text.casefold() != said.casefold():
        said += f' ("{quantity.text}")'
    if quantity.limit is None:
        return said
    verdict = {True: ": within it", False: ": beyond it", None: ""}[quantity.within]
    if quantity.on_limit:
        verdict = ": on the limit"
    return f"{said}, against {quantity.limit}{verdict}"
