"""Is a sealed bag byte for byte what was sealed, by whom, and which file or entry is not?"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from pydantic import ValidationError

from spokenfor.errors import InputError
from spokenfor.models import Result
from spokenfor.packs.load import pack_files, pack_sha256
from spokenfor.record.archive import is_archive, unpack
from spokenfor.record.bag import (
    BAG_INFO,
    BAGIT,
    DECLARATION,
    MANIFEST,
    PAYLOAD,
    PUBLIC_KEY,
    SIGNATURE,
    TAG_MANIFEST,
    files_below,
    read_info,
    read_manifest,
    read_small,
    refuse_unsafe,
)
from spokenfor.record.digests import sha256_of_file
from spokenfor.record.durable import writing
from spokenfor.record.entries import Action, Entry, entry_of, faults
from spokenfor.record.folder import REPORT_FILE
from spokenfor.record.keys import fingerprint, is_signed, public_key
from spokenfor.record.log import LOG_FILE, split
from spokenfor.record.settings import SETTINGS_FILE, Settings
from spokenfor.reporting.wording import counted

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey


@dataclass
class Verification:
    """What was found: `facts` hold, `faults` each name a file or an entry that is not as sealed, `doubts`
    are what this bag alone cannot show."""

    facts: list[str] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


@contextmanager
def opened(bag: Path) -> Iterator[Path]:
    """The folder of a bag; a .zip or .tar is unpacked for as long as it is needed. Raises InputError."""
    if bag.is_dir():
        if not (bag / BAGIT).exists() and not (bag / MANIFEST).exists():
            raise InputError(f"'{bag}' is no sealed bag", "Give the folder that seal made")
        yield bag
        return
    if not bag.exists():
        raise InputError(f"There is no '{bag}'", "Give the folder that seal made")
    if not bag.is_file() or not is_archive(bag):
        raise InputError(
            f"'{bag}' is no bag", "Give the folder that seal made, or it as .zip or .tar"
        )
    with TemporaryDirectory(prefix="spokenfor-") as folder:
        with writing("The unpacked bag", Path(folder)):
            inner = unpack(bag, Path(folder))
        yield inner


def verify(bag: Path, expected: Ed25519PublicKey | None = None) -> Verification:
    """Check the folder of a bag: manifests, signature, log, pack, recordings; nothing of it is changed.

    `expected` is the public key that the auditor knows the signer by. Raises InputError for a bag whose
    paths lead elsewhere, with links in it, or that cannot be read.
    """
    found = Verification()
    try:
        files = files_below(bag)
        info = _tag_files(bag, files, found)
        _signature(files, info, expected, found)
        if PAYLOAD + "/" + LOG_FILE in files:
            _log(files[PAYLOAD + "/" + LOG_FILE], info, found)
        if not found.faults:
            _inside(bag, found)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        name = os.fsdecode(error.filename or bag)
        raise InputError(f"'{name}' cannot be read: {reason}", "Check who may read it") from error
    return found


def _tag_files(bag: Path, files: Mapping[str, Path], found: Verification) -> dict[str, str]:
    """Hold every file against the manifest that lists it; return the rows of bag-info.txt."""
    for name in (BAGIT, BAG_INFO, MANIFEST, TAG_MANIFEST):
        if name not in files:
            found.faults.append(f"{name} is missing")
    unlisted = {TAG_MANIFEST, SIGNATURE}
    whole = 0
    for manifest in (TAG_MANIFEST, MANIFEST):
        if manifest not in files:
            continue
        listed = read_manifest(read_small(files[manifest]), manifest)
        found.faults += listed.faults
        tags = manifest == TAG_MANIFEST
        for name, sha256 in listed.hashes.items():
            if tags == name.startswith(f"{PAYLOAD}/"):
                found.faults.append(f"{manifest} lists {name}, which does not belong there")
            elif name not in files:
                found.faults.append(f"{name} is missing; {manifest} lists it")
            elif sha256_of_file(files[name]) != sha256:
                found.faults.append(f"{name} was changed, or its line in {manifest} was")
            else:
                whole += 1
        there = {one for one in files if one.startswith(f"{PAYLOAD}/") != tags}
        extra = sorted(there - unlisted - set(listed.hashes))
        found.faults += [f"{name} was added; {manifest} does not list it" for name in extra]
    if BAGIT in files and read_small(files[BAGIT]) != DECLARATION:
        found.faults.append(f"{BAGIT} was changed")
    if not found.faults:
        found.facts.append(f"{whole} files are byte for byte as they were sealed")
    return read_info(read_small(files[BAG_INFO])) if BAG_INFO in files else {}


def _signature(
    files: Mapping[str, Path],
    info: Mapping[str, str],
    expected: Ed25519PublicKey | None,
    found: Verification,
) -> None:
    who = f"{info.get('Sealed-By', 'nobody named')}, licence {info.get('Licence', 'not given')}"
    when = info.get("Sealed-At", "at no time given")
    signed = {SIGNATURE, PUBLIC_KEY} & set(files) or info.get("Signature", "none") != "none"
    if not signed:
        text = f"sealed by {who}, {when}; not signed: damage would show, a forgery would not"
        found.doubts.append(text)
        if expected is not None:
            found.faults.append(f"{SIGNATURE} is missing; the bag is not signed with the key given")
        return
    missing = [one for one in (SIGNATURE, PUBLIC_KEY, TAG_MANIFEST) if one not in files]
    if missing:
        found.faults += [f"{one} is missing; the signature cannot be checked" for one in missing]
        return
    try:
        key = public_key(read_small(files[PUBLIC_KEY]), PUBLIC_KEY)
    except InputError:
        found.faults.append(f"{PUBLIC_KEY} was changed: it is no key")
        return
    signature = read_small(files[SIGNATURE])
    if not is_signed(expected or key, read_small(files[TAG_MANIFEST]), signature):
        whose = "the key given" if expected else f"the key in {PUBLIC_KEY}"
        found.faults.append(f"{SIGNATURE} is not that of {whose} over {TAG_MANIFEST}")
        return
    found.facts.append(f"signed with Ed25519 by {who}, {when}, key {fingerprint(key)}")
    if expected is None:
        text = "the key is the one in the bag: compare its digits with those the signer gave you"
        found.doubts.append(f"{text}, or give it with --key")


def _log(path: Path, info: Mapping[str, str], found: Verification) -> None:
    """Name each entry that was changed, removed, reordered or added, also at the end."""
    lines, torn = split(read_small(path))
    wrong = [f"{LOG_FILE}, {one}" for one in faults(lines)]
    if torn:
        wrong.append(f"{LOG_FILE}, its last line is cut off")
    entries = list(_readable(lines))
    sealed = info.get("Log-Entries", "")
    if sealed.isdecimal() and sealed.isascii() and len(sealed) < 10:
        count = int(sealed)
        last = max((one.number for one in entries), default=0)
        if last > count:
            wrong += [f"{LOG_FILE}, entry {n} was added" for n in range(count + 1, last + 1)][:20]
        elif len(lines) < count:
            wrong += [f"{LOG_FILE}, entry {n} is missing" for n in range(last + 1, count + 1)][:20]
    if not wrong and entries and entries[-1].sha256 != info.get("Log-Head"):
        wrong.append(f"{LOG_FILE}, entry {entries[-1].number} is another than the one sealed")
    if not wrong and not (entries and entries[-1].action is Action.SEAL):
        wrong.append(f"{LOG_FILE} does not end with the seal")
    found.faults += wrong
    if not wrong:
        number = counted(len(entries), "entry", "entries")
        found.facts.append(f"the log is whole: {number}, each follows from the one before")


def _readable(lines: list[bytes]) -> Iterator[Entry]:
    for line in lines:
        try:
            yield entry_of(line)
        except ValueError:
            continue


def _inside(bag: Path, found: Verification) -> None:
    """Report, settings, recordings and pack must speak of each other."""
    data = bag / PAYLOAD
    try:
        settings = Settings.model_validate_json((data / SETTINGS_FILE).read_bytes())
        result = Result.model_validate_json((data / REPORT_FILE).read_bytes())
    except (FileNotFoundError, ValidationError, json.JSONDecodeError) as error:
        found.faults.append(f"{SETTINGS_FILE} or {REPORT_FILE}: not what a check writes ({error})")
        return
    lines, _ = split(read_small(data / LOG_FILE))
    checks = [one.about for one in _readable(lines) if one.action is Action.CHECK and one.about]
    if not checks or checks[-1].digest != sha256_of_file(data / REPORT_FILE):
        found.faults.append(f"{PAYLOAD}/{REPORT_FILE} is not the one that the log says was made")
    refuse_unsafe(settings.pack_path, SETTINGS_FILE)
    for one, recording in zip(settings.files(), result.recordings, strict=False):
        refuse_unsafe(one.path, SETTINGS_FILE)
        path = data / one.path
        if not path.is_file() or not (one.sha256 == recording.sha256 == sha256_of_file(path)):
            found.faults.append(f"{PAYLOAD}/{one.path} is not the recording that was checked")
    pictures = [one.sha256 for one in result.photos]
    for one in settings.photos:
        refuse_unsafe(one.path, SETTINGS_FILE)
        path = data / one.path
        if not path.is_file() or one.sha256 not in pictures or sha256_of_file(path) != one.sha256:
            found.faults.append(f"{PAYLOAD}/{one.path} is not a picture of the report")
    if len(settings.photos) != len(pictures):
        found.faults.append(f"{SETTINGS_FILE} and {REPORT_FILE} do not name the same pictures")
    own = data / settings.pack_path
    try:
        sha256 = pack_sha256(pack_files(own, own.parent / "common"))
    except (InputError, OSError):
        sha256 = ""
    if not sha256 == settings.pack.sha256 == result.inspection.pack.sha256:
        found.faults.append(f"{PAYLOAD}/{settings.pack_path} is not the pack that was used")
    if not found.faults:
        pack = settings.pack
        found.facts.append(f"{counted(len(result.recordings), 'recording')} as checked")
        if pictures:
            found.facts.append(f"{counted(len(pictures), 'photo')} as checked")
        found.facts.append(f"pack {pack.name} {pack.version} is the one that was used")
