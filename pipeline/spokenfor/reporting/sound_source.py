"""Where does the page find the sound: inside itself, or in the file it was made from?"""

from __future__ import annotations

import base64
import os
from collections.abc import Sequence
from pathlib import Path
from urllib.parse import quote

from spokenfor.models import Recording

EMBED_AT_MOST = 3_000_000  # bytes of all files together; in the page they grow by a third

SOUND_KINDS = {
    ".wav": "audio/wav",
    ".flac": "audio/flac",
    ".mp3": "audio/mpeg",
    ".m4a": "audio/mp4",
    ".mp4": "audio/mp4",
    ".aac": "audio/aac",
    ".ogg": "audio/ogg",
    ".oga": "audio/ogg",
    ".opus": "audio/ogg",
    ".webm": "audio/webm",
    ".amr": "audio/amr",
    ".3gp": "audio/3gpp",
}
"""Media types of the sound files that are taken, by suffix (registry of IANA, from memory)."""


def sound_files(recordings: Sequence[Recording], sounds: Sequence[Path]) -> dict[int, Path]:
    """Which file holds which recording: in order if there is one for each, else by name."""
    if len(sounds) == len(recordings):
        return dict(enumerate(sounds))
    named = {path.name: path for path in sounds}
    return {
        index: named[recording.file]
        for index, recording in enumerate(recordings)
        if recording.file in named
    }


def embeds(files: Sequence[Path], embed: bool | None) -> bool:
    """Whether to embed: as told, else when all files together are small. Raises OSError."""
    if embed is not None:
        return embed
    return sum(path.stat().st_size for path in files) <= EMBED_AT_MOST


def media_type(path: Path) -> str:
    """What kind of sound a file is by its name (media types of IANA, from memory)."""
    return SOUND_KINDS.get(path.suffix.lower(), "application/octet-stream")


def embedded(path: Path) -> str:
    """The file as a data: address (RFC 2397). Raises OSError."""
    return f"data:{media_type(path)};base64,{base64.b64encode(path.read_bytes()).decode('ascii')}"


def linked(path: Path, out: Path) -> str:
    """The address of the file as seen from a page in `out`; absolute only across drives."""
    try:
        relative = os.path.relpath(path.resolve(), out.resolve())
    except ValueError:
        return path.resolve().as_uri()
    # As bytes: a file name need not be UTF-8.
    return quote(os.fsencode(Path(relative).as_posix()), safe="/")
