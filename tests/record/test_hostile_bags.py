"""Bags and archives made to reach out of their folder or to fill the disk are refused, in one line."""

from __future__ import annotations

import io
import os
import random
import shutil
import struct
import tarfile
import tempfile
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.record.sealed import copy_of
from tests.record.walked import BY

from spokenfor.errors import InputError
from spokenfor.record.archive import MOST_MEMBERS, unpack
from spokenfor.record.bag import LARGEST_LIST
from spokenfor.record.seal import Seal, seal
from spokenfor.record.verify import verify

UNSAFE = [
    "../outside",
    "data/../../outside",
    "/etc/hostname",
    "data//report.json",
    "data/./report.json",
    "~/.profile",
    "C:\\windows\\x",
    "c:/windows/x",
    "data\\..\\x",
    "data/" + "n" * 256,
    "data/" + "deep/" * 40 + "x",
    "data/" + "/".join(["n" * 200] * 6),
    "data/a\u202eb",
    "data/a\x1bb",
]


@pytest.fixture(scope="module")
def sealed(kept_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hostile") / "r07"
    shutil.copytree(kept_once, folder)
    return seal(folder, Seal(BY))


@pytest.fixture
def bag(sealed: Path, tmp_path: Path) -> Path:
    return copy_of(sealed, tmp_path)


def refused(error: pytest.ExceptionInfo[InputError]) -> None:
    assert "\n" not in str(error.value)
    assert len(str(error.value)) < 500


@pytest.mark.parametrize("manifest", ["manifest-sha256.txt", "tagmanifest-sha256.txt"])
@pytest.mark.parametrize("path", UNSAFE)
def test_a_manifest_that_names_a_path_elsewhere(path: str, manifest: str, bag: Path) -> None:
    with (bag / manifest).open("a", encoding="utf-8") as file:
        file.write("0" * 64 + f"  {path}\n")
    with pytest.raises(
        InputError, match=rf"{manifest}, line \d+: the path .* is not safe"
    ) as error:
        verify(bag)
    refused(error)


@pytest.mark.parametrize("target", ["/etc/hostname", "report.json", "..", "/dev/zero"])
def test_a_link_in_a_bag(target: str, bag: Path) -> None:
    (bag / "data/extra").symlink_to(target)
    with pytest.raises(InputError, match=r"'data/extra' .* is a link"):
        verify(bag)


def test_a_folder_that_is_a_link(bag: Path, tmp_path: Path) -> None:
    (bag / "data/recordings").rename(tmp_path / "elsewhere")
    (bag / "data/recordings").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(InputError, match="is a link"):
        verify(bag)


def test_a_pipe_that_would_never_end(bag: Path) -> None:
    os.mkfifo(bag / "data/pipe")
    with pytest.raises(InputError, match="is no plain file"):
        verify(bag)


def test_a_manifest_too_large_to_be_one(bag: Path) -> None:
    os.truncate(bag / "manifest-sha256.txt", LARGEST_LIST + 1)
    with pytest.raises(InputError, match=r"'manifest-sha256\.txt' is too large"):
        verify(bag)


def zipped(path: Path, members: list[tuple[str | zipfile.ZipInfo, bytes]]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        for name, data in members:
            file.writestr(name, data)
    return path


def tarred(path: Path, members: list[tarfile.TarInfo], data: bytes = b"") -> Path:
    with tarfile.open(path, "w") as file:
        for member in members:
            file.addfile(member, io.BytesIO(data))
    return path


def tar_member(name: str, kind: bytes = tarfile.REGTYPE, target: str = "") -> tarfile.TarInfo:
    member = tarfile.TarInfo(name)
    member.type, member.linkname = kind, target
    return member


@pytest.mark.parametrize("path", [one for one in UNSAFE if "\\" not in one])
def test_archives_with_unsafe_names(path: str, tmp_path: Path) -> None:
    (tmp_path / "into").mkdir()
    for archive in (
        zipped(tmp_path / "sent.zip", [("bag/bagit.txt", b""), (path, b"x")]),
        tarred(tmp_path / "sent.tar", [tar_member("bag/bagit.txt"), tar_member(path)]),
    ):
        with pytest.raises(InputError, match=r"is not safe") as error:
            unpack(archive, tmp_path / "into")
        refused(error)
        assert list((tmp_path / "into").iterdir()) == []


@pytest.mark.parametrize(
    "kind", [tarfile.SYMTYPE, tarfile.LNKTYPE, tarfile.FIFOTYPE, tarfile.CHRTYPE]
)
def test_links_and_devices_in_a_tar(kind: bytes, tmp_path: Path) -> None:
    archive = tarred(tmp_path / "sent.tar", [tar_member("bag/x", kind, "/etc/hostname")])
    with pytest.raises(InputError, match="link, a device"):
        unpack(archive, tmp_path / "into")


def test_a_link_in_a_zip(tmp_path: Path) -> None:
    link = zipfile.ZipInfo("bag/x")
    link.external_attr = 0o120777 << 16
    archive = zipped(tmp_path / "sent.zip", [(link, b"/etc/hostname")])
    with pytest.raises(InputError, match="is a link, device or encrypted"):
        unpack(archive, tmp_path / "into")


def bomb(path: Path) -> Path:
    return zipped(path, [("bag/bagit.txt", b""), ("bag/data/zeros", bytes(64 << 20))])


def many(path: Path) -> Path:
    return zipped(path, [(f"bag/{number}", b"") for number in range(MOST_MEMBERS + 1)])


def twice(path: Path) -> Path:
    with pytest.warns(UserWarning, match="Duplicate name"):
        return zipped(path, [("bag/bagit.txt", b"one"), ("bag/bagit.txt", b"two")])


def overlapping(path: Path) -> Path:
    """Many names for one and the same packed data, each of which unpacks to 15 MiB."""
    zipped(path, [("bag/0000", bytes(15 << 20))])
    data = path.read_bytes()
    at = data.index(b"PK\x01\x02")
    end = data.index(b"PK\x05\x06")
    entry = data[at:end]
    entries = b"".join(entry.replace(b"bag/0000", b"bag/%04d" % n) for n in range(200))
    tail = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 200, 200, len(entries), at, 0)
    path.write_bytes(data[:at] + entries + tail)
    return path


def lying(path: Path) -> Path:
    """Headers that promise ten bytes where 64 MiB come out."""
    bomb(path)
    data = path.read_bytes()
    path.write_bytes(data.replace(struct.pack("<L", 64 << 20), struct.pack("<L", 10)))
    return path


@pytest.mark.parametrize("make", [bomb, many, twice, overlapping, lying])
def test_zip_bombs(make: Callable[[Path], Path], tmp_path: Path) -> None:
    archive = make(tmp_path / "sent.zip")
    with pytest.raises(InputError, match=r"is not unpacked|is damaged") as error:
        unpack(archive, tmp_path / "into")
    refused(error)
    unpacked = sum(path.stat().st_size for path in (tmp_path / "into").rglob("*") if path.is_file())
    assert unpacked < 17 << 20


def huge_header(path: Path) -> Path:
    """An extended header (read into memory whole) of 32 MiB before a file that is in order."""
    size = 32 << 20
    member = tar_member("pax", tarfile.XHDTYPE)
    member.size = size
    start = f"{size} comment=".encode()
    header = start + b"x" * (size - len(start) - 1) + b"\n"
    file = tar_member("bag/bagit.txt")
    path.write_bytes(member.tobuf() + header + file.tobuf() + bytes(1024))
    return path


def sparse(path: Path) -> Path:
    member = tar_member("bag/sparse", tarfile.GNUTYPE_SPARSE)
    return tarred(path, [member])


def no_size(path: Path) -> Path:
    block = bytearray(tar_member("bag/x").tobuf())
    block[124:136] = b"\x80" + bytes(3) + b"\x7f" * 8
    path.write_bytes(bytes(block) + bytes(1024))
    return path


def promises(path: Path) -> Path:
    """A header that promises 8 GiB in a file of 2 KiB."""
    member = tar_member("bag/x")
    member.size = (8 << 30) - 1
    path.write_bytes(member.tobuf() + bytes(1024))
    return path


def test_names_that_would_move_the_cursor_are_made_visible(tmp_path: Path) -> None:
    link = tarfile.TarInfo("bag/\x1b[2Jx")
    archive = zipped(tmp_path / "sent.zip", [("bag/\x1b[2J" + "x" * 9000, b"")])
    with pytest.raises(InputError) as error:
        unpack(archive, tmp_path / "into")
    refused(error)
    assert str(error.value).isprintable()
    with pytest.raises(InputError) as error:
        unpack(tarred(tmp_path / "sent.tar", [link]), tmp_path / "into")
    assert str(error.value).isprintable()


REFUSED, DAMAGED = "is not unpacked", "is damaged"


@pytest.mark.parametrize(
    ("make", "says"),
    [(huge_header, REFUSED), (sparse, REFUSED), (no_size, REFUSED), (promises, DAMAGED)],
)
def test_tar_tricks(make: Callable[[Path], Path], says: str, tmp_path: Path) -> None:
    archive = make(tmp_path / "sent.tar")
    with pytest.raises(InputError, match=says) as error:
        unpack(archive, tmp_path / "into")
    refused(error)


@pytest.mark.parametrize("name", ["sent.zip", "sent.tar"])
@pytest.mark.parametrize("data", [b"", b"PK", b"no archive at all " * 60, bytes(2048)])
def test_what_is_no_archive(name: str, data: bytes, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(data)
    (tmp_path / "into").mkdir()
    with pytest.raises(InputError, match=r"is damaged|holds no bag|is not unpacked"):
        unpack(tmp_path / name, tmp_path / "into")


@pytest.mark.parametrize("form", ["zip", "tar"])
def test_a_damaged_archive_is_whole_or_told(form: str, tmp_path: Path) -> None:
    """Bits turned and ends cut off anywhere: unpacked, or refused in one line (400 of each kind)."""
    bag = tmp_path / "sent" / "bag"
    bag.mkdir(parents=True)
    (bag / "bagit.txt").write_text("BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n")
    (bag / "x.json").write_text(str(list(range(800))))
    whole = Path(shutil.make_archive(str(tmp_path / "whole"), form, bag.parent, "bag")).read_bytes()
    sent, chance, told = tmp_path / f"sent.{form}", random.Random(form), 0
    for number in range(400):
        data = bytearray(whole[: chance.randrange(len(whole))] if number % 4 == 0 else whole)
        if data:
            data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        sent.write_bytes(data)
        with tempfile.TemporaryDirectory(dir=tmp_path) as into:
            try:
                unpack(sent, Path(into))
            except InputError as error:
                told += "\n" not in str(error)
    assert told >= 100


def test_an_archive_of_something_else(tmp_path: Path) -> None:
    (tmp_path / "into").mkdir()
    with pytest.raises(InputError, match="holds no bag"):
        unpack(zipped(tmp_path / "sent.zip", [("notes.txt", b"x")]), tmp_path / "into")
