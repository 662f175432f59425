"""How does sound come in: whole, small enough, of a known kind, and on the disk before anything reads it?"""

from __future__ import annotations

import asyncio
import os
import secrets
import shutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.record.settings import plain_name
from spokenfor.reporting.sound_source import SOUND_KINDS
from spokenfor.web.drafts import CAPTION_SUFFIXES, PHOTO_SUFFIXES, Asked, Drafts
from spokenfor.web.library import Library
from spokenfor.web.limits import Limits
from spokenfor.web.opened import Shelf

_BEGINNING = 64
# First bytes of the containers that are taken, at their offset (registrations and specifications of the
# formats, from memory). MPEG audio begins with a frame or an ID3 tag.
_BEGINNINGS = (
    (0, b"RIFF"), (0, b"RF64"), (0, b"fLaC"), (0, b"OggS"), (0, b"ID3"), (0, b"#!AMR"),
    (0, b"\x1aE\xdf\xa3"), (4, b"ftyp"), (0, b"FORM"), (0, b"caff"), (0, b"\xff\xfb"),
    (0, b"\xff\xfa"), (0, b"\xff\xf3"), (0, b"\xff\xf2"), (0, b"\xff\xf1"), (0, b"\xff\xf9"),
)  # fmt: skip
_PICTURES = (
    (0, b"\xff\xd8\xff"), (0, b"\x89PNG"), (8, b"WEBP"), (4, b"ftyp"), (0, b"II*\0"), (0, b"MM\0*"),
)  # fmt: skip
RECORDED = {"audio/webm": ".webm", "video/webm": ".webm", "audio/ogg": ".ogg", "audio/mp4": ".m4a"}
"""What browsers record, and the suffix that it is stored under."""


class TooManyError(InputError):
    """More recordings or bytes than one inspection takes."""


def open_draft(library: Library, drafts: Drafts, shelf: Shelf, name: str) -> None:
    """Make sure that recordings can be put to this inspection: its draft, or a new one beside an inspection
    that was checked already. Raises NotThereError, or InputError while it is being checked or sealed."""
    if drafts.exists(name):
        if drafts.job(name).state in ("waiting", "working"):
            raise InputError("This inspection is being checked", "Wait until that is done")
        return
    opened = shelf.open("inspections", name)
    if opened.review.sealed is not None:
        raise InputError(
            f"This inspection was sealed by {opened.review.sealed.by}", "Reopen it first"
        )
    settings = opened.inspection.settings
    if settings.captions is not None:
        raise InputError(
            "This inspection was made from a transcript", "Start a new one for recordings"
        )
    drafts.create(
        Asked(
            id=name,
            asset=settings.asset or "",
            pack=settings.pack.name,
            by=settings.by or "",
            started=opened.inspection.result.inspection.started,
        )
    )


def stored_name(name: str) -> str:
    """The name that a file is stored under. Raises InputError for a kind that is not taken."""
    plain = plain_name(name.replace("\\", "/").rpartition("/")[2])
    if Path(plain).suffix.lower() not in {*SOUND_KINDS, *CAPTION_SUFFIXES, *PHOTO_SUFFIXES}:
        raise InputError(
            "This kind of file is not taken",
            f"Give sound ({', '.join(sorted(SOUND_KINDS))}), a transcript (.vtt, .srt) or photos",
        )
    return plain.lstrip(".-") if plain.startswith((".", "-")) else plain


def room_for(library: Library, limits: Limits, size: int) -> None:
    """Raises TooManyError where the disk would be left without room."""
    if shutil.disk_usage(library.root).free - size < limits.free:
        raise TooManyError("The disk is nearly full", "Free some space, then send it again")


@asynccontextmanager
async def received(body: AsyncIterator[bytes], library: Library) -> AsyncIterator[Path]:
    """What comes in as a file of its own, on the disk when the block begins; the block moves it to its place,
    or it is taken away. Raises OSError, and whatever ends the body early."""
    path = library.arriving / secrets.token_hex(12)
    try:
        with path.open("xb") as file:
            async for block in body:
                file.write(block)
            file.flush()
            await asyncio.to_thread(os.fsync, file.fileno())
        yield path
    finally:
        path.unlink(missing_ok=True)


def refuse_other_content(path: Path, name: str, limits: Limits) -> None:
    """Raises InputError where its first bytes are not those of a sound file (or of
    text, for a transcript)."""
    with path.open("rb") as file:
        first = file.read(_BEGINNING)
    if Path(name).suffix.lower() in CAPTION_SUFFIXES:
        fits = b"\0" not in first and path.stat().st_size <= limits.captions
    elif Path(name).suffix.lower() in PHOTO_SUFFIXES:
        fits = _begins(first, _PICTURES) and path.stat().st_size <= limits.photo
    else:
        fits = _begins(first, _BEGINNINGS)
    if not first or not fits:
        raise InputError(
            f"{name} is {'empty' if not first else 'not what its name says'}",
            "Give the file itself: sound such as wav, flac, mp3, m4a, ogg, opus, webm or amr",
        )


def _begins(first: bytes, marks: tuple[tuple[int, bytes], ...]) -> bool:
    return any(first[at : at + len(mark)] == mark for at, mark in marks)
