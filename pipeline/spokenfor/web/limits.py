"""How much may come in, and how long and how large may its processing become?"""

from __future__ import annotations

from dataclasses import dataclass

MIB = 1 << 20


@dataclass(frozen=True)
class Limits:
    """Bytes, seconds and counts; all are choices of our own, far above what a walk round needs.

    A piece is a few seconds of a recording made in the browser, a file a whole recording. `free` bytes stay
    free on the disk. A check may take `grace` seconds and `per_second` seconds for each second of sound.
    """

    form: int = 64 << 10
    piece: int = 16 * MIB
    file: int = 1024 * MIB
    captions: int = 4 * MIB
    photo: int = 64 * MIB
    sounds: int = 200
    pieces: int = 20_000
    free: int = 256 * MIB
    memory: int = 2048 * MIB
    longest: float = 4 * 3600.0
    decoding: float = 300.0
    grace: float = 300.0
    per_second: float = 3.0
