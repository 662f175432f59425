"""A sealed bag to damage, and what `verify` says of it."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.record.walked import BY, accept_all

from spokenfor.record.bag import (
    MANIFEST,
    SIGNATURE,
    TAG_MANIFEST,
    manifest_bytes,
    read_manifest,
)
from spokenfor.record.digests import sha256_hex, sha256_of_file
from spokenfor.record.keys import new_key, private_key, sign
from spokenfor.record.seal import Seal, seal
from spokenfor.record.verify import verify


def seal_signed(folder: Path, key: Path) -> Path:
    """Accept what is open, seal and sign."""
    if not key.exists():
        new_key(key)
    accept_all(folder)
    return seal(folder, Seal(BY, "L-2207", private_key(key)))


def faults_of(bag: Path) -> list[str]:
    return verify(bag).faults


def flip(path: Path, offset: int, bit: int) -> None:
    data = bytearray(path.read_bytes())
    data[offset] ^= 1 << bit
    path.write_bytes(data)


def copy_of(bag: Path, into: Path) -> Path:
    return Path(shutil.copytree(bag, into / "bag"))


def as_if_sealed(bag: Path, key: Path | None = None) -> None:
    """Make manifests (and signature) fit whatever the bag holds now, as a forger who knows the form would."""
    payload = {
        path.relative_to(bag).as_posix(): sha256_of_file(path)
        for path in (bag / "data").rglob("*")
        if path.is_file()
    }
    (bag / MANIFEST).write_bytes(manifest_bytes(payload))
    tags = read_manifest((bag / TAG_MANIFEST).read_bytes(), TAG_MANIFEST).hashes
    listed = manifest_bytes({name: sha256_hex((bag / name).read_bytes()) for name in tags})
    (bag / TAG_MANIFEST).write_bytes(listed)
    if key is not None:
        (bag / SIGNATURE).write_bytes(sign(private_key(key), listed))
