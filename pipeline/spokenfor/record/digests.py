"""Which bytes exactly is a hash taken of?"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any


def canonical(tree: Any) -> bytes:
    """A JSON tree as the one byte string that RFC 8785 gives it: sorted keys, no spaces, UTF-8.

    Holds for what is written here: ASCII keys, whole numbers, and times with two decimals (no exponents).
    Raises ValueError for a number that is not finite or text that is not Unicode.
    """
    text = json.dumps(
        _plain(tree), sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
    )
    return text.encode("utf-8")


def readable(tree: Any) -> bytes:
    """A JSON tree in the form of report.json: sorted keys, two-space indent, one line feed at the end."""
    text = json.dumps(tree, sort_keys=True, indent=2, ensure_ascii=False, allow_nan=False)
    return f"{text}\n".encode()


def sha256_hex(data: bytes) -> str:
    """SHA-256 (FIPS 180-4) in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def sha256_of_file(path: Path) -> str:
    """SHA-256 (FIPS 180-4) of a file's bytes in hexadecimal. Raises OSError."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _plain(tree: Any) -> Any:
    """RFC 8785 writes 3.0 as 3."""
    if isinstance(tree, float) and tree.is_integer():
        return int(tree)
    if isinstance(tree, dict):
        return {key: _plain(value) for key, value in tree.items()}
    if isinstance(tree, list | tuple):
        return [_plain(value) for value in tree]
    return tree
