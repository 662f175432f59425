"""Who signed? Ed25519 (RFC 8032) keys in PEM files (RFC 8410), as other tools read them too."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from spokenfor.errors import InputError
from spokenfor.record.digests import sha256_hex
from spokenfor.record.durable import sync_folder, writing

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import (
        Ed25519PrivateKey,
        Ed25519PublicKey,
    )

SIGNATURE_BYTES = 64
_LARGEST_KEY_FILE = 16_384
_MEND = "Give a file made by: spokenfor key new FILE"


class LockedKeyError(InputError):
    """The key file is protected and no passphrase, or a wrong one, was given."""


def new_key(path: Path, passphrase: str | None = None) -> Path:
    """Make a signing key in `path`, readable by its owner only, and its public half in `path`.pub; return the
    latter. Never overwrites. Raises InputError."""
    from cryptography.hazmat.primitives import serialization
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    key = Ed25519PrivateKey.generate()
    protection: serialization.KeySerializationEncryption = serialization.NoEncryption()
    if passphrase:
        protection = serialization.BestAvailableEncryption(passphrase.encode("utf-8"))
    private = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, protection
    )
    public = path.with_name(path.name + ".pub")
    for taken in (path, public):
        if taken.exists() or taken.is_symlink():
            raise InputError(f"'{taken}' exists already", "Give the key another name")
    with writing("The key", path.parent):
        try:
            _write_new(path, private, 0o600)
            _write_new(public, public_pem(key.public_key()), 0o644)
            sync_folder(path.parent)
        except OSError:
            for made in (path, public):
                with suppress(OSError):
                    made.unlink(missing_ok=True)
            raise
    return public


def _write_new(path: Path, data: bytes, mode: int) -> None:
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, mode)
    with os.fdopen(descriptor, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def private_key(path: Path, passphrase: str | None = None) -> Ed25519PrivateKey:
    """The signing key in a PEM file. Raises LockedKeyError where a passphrase is wanted, else InputError."""
    from cryptography.hazmat.primitives import serialization
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    secret = passphrase.encode("utf-8") if passphrase else None
    data = _key_file(path)
    try:
        key = serialization.load_pem_private_key(data, secret)
    except TypeError as error:
        if passphrase:
            return private_key(path)
        raise LockedKeyError(f"'{path}' is protected", "Give its passphrase") from error
    except Exception as error:
        # A passphrase that does not fit and a file that is none look alike to the library.
        if passphrase:
            raise LockedKeyError(
                f"The passphrase does not open '{path}'", "Type it again"
            ) from error
        raise InputError(f"'{path}' is no signing key", _MEND) from error
    if not isinstance(key, Ed25519PrivateKey):
        raise InputError(f"'{path}' is a key of another kind than Ed25519", _MEND)
    return key


def public_key(data: bytes, name: str) -> Ed25519PublicKey:
    """The public key in the bytes of a PEM file called `name`. Raises InputError."""
    from cryptography.hazmat.primitives import serialization
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    try:
        key = serialization.load_pem_public_key(data)
    except Exception as error:
        raise InputError(
            f"'{name}' is no public key", "Give the .pub file that key new made"
        ) from error
    if not isinstance(key, Ed25519PublicKey):
        raise InputError(f"'{name}' is a key of another kind than Ed25519", _MEND)
    return key


def public_key_file(path: Path) -> Ed25519PublicKey:
    """The public key in a PEM file. Raises InputError."""
    return public_key(_key_file(path), str(path))


def public_pem(key: Ed25519PublicKey) -> bytes:
    """A public key as PEM (SubjectPublicKeyInfo, RFC 8410)."""
    from cryptography.hazmat.primitives import serialization

    return key.public_bytes(
        serialization.Encoding.PEM, serialization.PublicFormat.SubjectPublicKeyInfo
    )


def fingerprint(key: Ed25519PublicKey) -> str:
    """What two people read to each other to compare keys: the first 32 hexadecimal digits of the SHA-256 of
    the 32 raw bytes of the key, in groups of four."""
    from cryptography.hazmat.primitives import serialization

    raw = key.public_bytes(serialization.Encoding.Raw, serialization.PublicFormat.Raw)
    digits = sha256_hex(raw)[:32]
    return " ".join(digits[at : at + 4] for at in range(0, 32, 4))


def sign(key: Ed25519PrivateKey, message: bytes) -> bytes:
    """The signature of a message, 64 bytes."""
    return key.sign(message)


def is_signed(key: Ed25519PublicKey, message: bytes, signature: bytes) -> bool:
    """Whether a signature is that of the key over the message."""
    from cryptography.exceptions import InvalidSignature

    try:
        key.verify(signature, message)
    except InvalidSignature:
        return False
    return True


def _key_file(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(_LARGEST_KEY_FILE)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise InputError(f"{path} cannot be read: {reason}", _MEND) from error
