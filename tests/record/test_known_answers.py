"""The hashes and signatures of the standards themselves, through the functions that the record uses."""

from __future__ import annotations

import stat
import subprocess
from pathlib import Path

import pytest
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.asymmetric.x25519 import X25519PrivateKey

from spokenfor.errors import InputError
from spokenfor.record.digests import canonical, sha256_hex, sha256_of_file
from spokenfor.record.durable import copy_synced
from spokenfor.record.keys import (
    LockedKeyError,
    fingerprint,
    is_signed,
    new_key,
    private_key,
    public_key,
    public_key_file,
    public_pem,
    sign,
)

# RFC 8032 section 7.1, TEST 1 to 3: secret key, public key, message, signature.
RFC_8032 = [
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46b"
        "d25bf5f0595bbe24655141438e7a100b",
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c"
        "387b2eaeb4302aeeb00d291612bb0c00",
    ),
    (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc659"
        "4a7c15e9716ed28dc027beceea1ec40a",
    ),
]
# FIPS 180-4, NIST's examples for SHA-256: one block, two blocks; and the empty message (NIST CAVP).
FIPS_180_4 = [
    (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    (
        b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ),
    (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
]


@pytest.mark.parametrize(("secret", "public", "message", "signature"), RFC_8032)
def test_signatures_of_rfc_8032(
    secret: str, public: str, message: str, signature: str, tmp_path: Path
) -> None:
    """From a PEM file, as `seal` reads the key, and with the public half as PEM, as `verify` reads it."""
    seed = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(secret))
    path = tmp_path / "key"
    path.write_bytes(
        seed.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )
    )
    key = private_key(path)
    known = public_key(public_pem(key.public_key()), "key")
    assert known.public_bytes_raw().hex() == public
    text = bytes.fromhex(message)
    assert sign(key, text).hex() == signature
    assert is_signed(known, text, bytes.fromhex(signature))
    assert not is_signed(known, text + b"\0", bytes.fromhex(signature))
    spoilt = bytearray(bytes.fromhex(signature))
    spoilt[7] ^= 1
    assert not is_signed(known, text, bytes(spoilt))


@pytest.mark.parametrize(("message", "digest"), FIPS_180_4)
def test_hashes_of_fips_180_4(message: bytes, digest: str, tmp_path: Path) -> None:
    path = tmp_path / "message"
    path.write_bytes(message)
    assert sha256_hex(message) == digest
    assert sha256_of_file(path) == digest
    assert copy_synced(path, tmp_path / "copy") == digest


def test_canonical_json_of_rfc_8785() -> None:
    """Sorting, escapes and numbers as section 3.2 shows them, for the kinds of value that a log holds."""
    tree = {"b": [56.0, 4.5, 2e-3, None, True], "a": {"z": "\u20ac$\x0f\nA'B\"\\/", "c": "é"}}
    text = '{"a":{"c":"é","z":"€$\\u000f\\nA\'B\\"\\\\/"},"b":[56,4.5,0.002,null,true]}'
    assert canonical(tree) == text.encode()
    for wrong in ({"a": float("nan")}, {"a": "\ud800"}):
        with pytest.raises(ValueError):
            canonical(wrong)


def test_a_new_key_is_its_owners_alone_and_overwrites_nothing(tmp_path: Path) -> None:
    path = tmp_path / "mine"
    public = new_key(path)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert fingerprint(public_key_file(public)) == fingerprint(private_key(path).public_key())
    before = path.read_bytes()
    for name in ("mine", "other"):
        (tmp_path / "other.pub").touch()
        with pytest.raises(InputError, match="exists already"):
            new_key(tmp_path / name)
    assert path.read_bytes() == before
    assert not (tmp_path / "other").exists()


def test_a_protected_key_opens_with_its_passphrase_only(tmp_path: Path) -> None:
    new_key(tmp_path / "mine", "tail skid")
    assert sign(private_key(tmp_path / "mine", "tail skid"), b"")
    for wrong in (None, "tail boom"):
        with pytest.raises(LockedKeyError):
            private_key(tmp_path / "mine", wrong)


def test_what_is_no_signing_key_is_refused(tmp_path: Path) -> None:
    other = X25519PrivateKey.generate().private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    for name, data in {"text": b"not a key", "other": other, "nothing": b""}.items():
        (tmp_path / name).write_bytes(data)
        with pytest.raises(InputError, match=r"signing key|another kind"):
            private_key(tmp_path / name)
    with pytest.raises(InputError, match="cannot be read: no such file"):
        private_key(tmp_path / "absent")


def test_openssl_reads_the_keys(tmp_path: Path) -> None:
    public = new_key(tmp_path / "mine")
    done = subprocess.run(
        ["openssl", "pkey", "-in", str(tmp_path / "mine"), "-pubout"],
        capture_output=True,
        check=True,
    )
    assert done.stdout == public.read_bytes()
