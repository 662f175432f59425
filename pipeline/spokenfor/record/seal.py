"""How does a reviewed inspection become a sealed bag that any standard tool can check?"""

from __future__ import annotations

import logging
import os
import shutil
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from spokenfor import CAUTIONS, __version__
from spokenfor.errors import InputError
from spokenfor.packs.wording import counted
from spokenfor.record.archive_copy import archive_copy
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
    info_bytes,
    manifest_bytes,
)
from spokenfor.record.derived import derived_files
from spokenfor.record.digests import readable, sha256_hex
from spokenfor.record.durable import (
    copy_synced,
    finish,
    sync_folder,
    sync_folders,
    write_synced,
    writing,
)
from spokenfor.record.entries import About, Action, Entry, line_of
from spokenfor.record.folder import Inspection, holds_inspection, read_inspection
from spokenfor.record.keys import fingerprint, public_pem, sign
from spokenfor.record.lock import locked
from spokenfor.record.log import LOG_FILE, append, following, now
from spokenfor.record.outcome import Reviewed
from spokenfor.record.review import one_line
from spokenfor.record.reviewed import reviewed, sealed_by
from spokenfor.record.sign_off import RECORD_ONLY, sign_off_text
from spokenfor.record.subjects import INSPECTION
from spokenfor.reporting.pdf import PDF_FILE

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

SIGN_OFF_FILE = "sign-off.txt"
_LONGEST_REASON = 1000


@dataclass(frozen=True)
class Seal:
    """Who seals: name, licence number, signing key (None: unsigned), and why undecided points may stay."""

    by: str
    licence: str | None = None
    key: Ed25519PrivateKey | None = None
    despite: str | None = None


def seal(folder: Path, wanted: Seal, bag: Path | None = None) -> Path:
    """Seal an inspection; return the folder of the bag, by default beside it with "-sealed" to its name.

    The bag is complete and on the disk, and has been validated by the Library of Congress's `bagit`, before
    the log says that it was sealed. A sealed inspection takes no decision until it is reopened; sealing it
    once more makes the same bag again. Raises InputError where points are undecided and `despite` gives no
    reason, where the folder holds what no bag can hold, or where the disk refuses; nothing is changed then.
    """
    by = one_line(wanted.by, "name")
    licence = one_line(wanted.licence, "licence number") if wanted.licence else None
    despite = one_line(wanted.despite, "reason", _LONGEST_REASON) if wanted.despite else None
    holds_inspection(folder)
    target = _target(folder, bag)
    with writing("The sealed bag", target.parent), locked(folder):
        finish(folder)
        append(folder)
        inspection = read_inspection(folder)
        entry = _standing_seal(inspection, by, licence)
        new = entry is None
        if entry is None:
            entry = _entry(inspection, by, licence, despite)
        entries = [*inspection.log.entries, *([entry] if new else [])]
        review = reviewed(inspection.result, entries)
        aside = target.parent / f".{target.name}.being-sealed"
        if aside.exists():
            shutil.rmtree(aside)
        try:
            _write_bag(aside, inspection, entries, review, entry, wanted.key)
            _second_opinion(aside)
            sync_folders(aside)
        except BaseException:
            shutil.rmtree(aside, ignore_errors=True)
            raise
        if new:
            append(folder, _fields(entry))
        aside.rename(target)
        with suppress(OSError):
            sync_folder(target.parent)
    return target


def _target(folder: Path, bag: Path | None) -> Path:
    if bag is not None:
        if bag.resolve().is_relative_to(folder.resolve()):
            raise InputError(f"'{bag}' is inside the inspection", "Put the bag elsewhere")
        if bag.exists() or bag.is_symlink():
            raise InputError(f"'{bag}' exists already", "Give the bag another name")
        return bag
    whole = folder.resolve()
    number, target = 1, whole.with_name(f"{whole.name}-sealed")
    while target.exists() or target.is_symlink():
        number += 1
        target = whole.with_name(f"{whole.name}-sealed-{number}")
    return target


def _standing_seal(inspection: Inspection, by: str, licence: str | None) -> Entry | None:
    """The seal that the log already holds. Raises InputError where somebody else's does."""
    entry = sealed_by(inspection.log.entries)
    if entry is not None and (entry.by, entry.licence) != (by, licence):
        raise InputError(
            f"The inspection was sealed by {entry.by} on {entry.at[:10]}",
            "Reopen it first, or make that bag again with the same name and licence number",
        )
    return entry


def _entry(inspection: Inspection, by: str, licence: str | None, despite: str | None) -> Entry:
    """The entry that will say that it is sealed. Raises InputError where points are undecided."""
    points = reviewed(inspection.result, inspection.log.entries).open
    if points and despite is None:
        named = ", ".join(f"{one.subject} ({one.why})" for one in points[:3])
        more = f" and {len(points) - 3} more" if len(points) > 3 else ""
        raise InputError(
            f"{counted(len(points), 'point')} undecided: {named}{more}",
            "Decide with spokenfor review DIR, or give a reason with --despite",
        )
    result = inspection.result
    digest = sha256_hex(readable(result.model_dump(mode="json", by_alias=True)))
    return following(
        inspection.log.last,
        at=now(),
        by=by,
        action=Action.SEAL,
        subject=INSPECTION,
        why=despite if points else None,
        licence=licence,
        left_open=[one.subject for one in points] or None,
        about=About(label=result.inspection.id, key=INSPECTION, digest=digest),
    )


def _fields(entry: Entry) -> dict[str, Any]:
    hashes = {"number", "previous", "sha256"}
    return {name: getattr(entry, name) for name in Entry.model_fields if name not in hashes}


def _write_bag(
    bag: Path,
    inspection: Inspection,
    entries: list[Entry],
    review: Reviewed,
    entry: Entry,
    key: Ed25519PrivateKey | None,
) -> None:
    written = {
        LOG_FILE: b"".join(line_of(one) for one in entries),
        **derived_files(inspection, entries),
        SIGN_OFF_FILE: sign_off_text(review, entry).encode("utf-8"),
    }
    if (inspection.folder / PDF_FILE).exists():
        # Made anew, so that it shows the last decisions and the seal.
        written[PDF_FILE] = archive_copy(inspection, entries)
    payload: dict[str, str] = {}
    size = 0
    (bag / PAYLOAD).mkdir(parents=True)
    for name, path in _payload(inspection.folder).items():
        if name not in written:
            place = f"{PAYLOAD}/{name}"
            payload[place] = copy_synced(path, bag / place)
            size += (bag / place).stat().st_size
    for name, data in written.items():
        write_synced(bag / PAYLOAD / name, data)
        payload[f"{PAYLOAD}/{name}"] = sha256_hex(data)
        size += len(data)
    info = _info(inspection, review, entry, f"{size}.{len(payload)}", key)
    tags = {BAGIT: DECLARATION, BAG_INFO: info, MANIFEST: manifest_bytes(payload)}
    if key is not None:
        tags[PUBLIC_KEY] = public_pem(key.public_key())
    listed = manifest_bytes({name: sha256_hex(data) for name, data in tags.items()})
    tags[TAG_MANIFEST] = listed
    if key is not None:
        tags[SIGNATURE] = sign(key, listed)
    for name, data in tags.items():
        write_synced(bag / name, data)


def _payload(folder: Path) -> dict[str, Path]:
    """Everything in the folder but what is hidden. Raises InputError for what no bag can hold."""
    found = {
        name: path
        for name, path in files_below(folder).items()
        if not any(part.startswith(".") for part in name.split("/"))
    }
    for name in found:
        if "%" in name:
            raise InputError(f"'{name}' has a % in its name", "Rename it: older tools trip over it")
    return found


def _info(
    inspection: Inspection,
    review: Reviewed,
    entry: Entry,
    oxum: str,
    key: Ed25519PrivateKey | None,
) -> bytes:
    rows = {
        "Bag-Software-Agent": f"spokenfor {__version__}",
        "Bagging-Date": entry.at[:10],
        "Payload-Oxum": oxum,
        "External-Identifier": inspection.settings.inspection,
        "External-Description": RECORD_ONLY,
        "Caution": " ".join(CAUTIONS),
        "Sealed-By": entry.by,
        "Licence": entry.licence or "not given",
        "Sealed-At": entry.at,
        "Log-Entries": str(review.entries),
        "Log-Head": review.head,
        "Left-Undecided": ", ".join(entry.left_open or []) or "nothing",
        "Sealed-Despite": entry.why or "nothing was left undecided",
        "Signature": f"Ed25519 (RFC 8032) over {TAG_MANIFEST}" if key else "none",
    }
    if key is not None:
        rows["Key-Fingerprint"] = fingerprint(key.public_key())
    return info_bytes(rows)


def _second_opinion(bag: Path) -> None:
    """The Library of Congress's own code must find the bag valid before it counts. Raises InputError."""
    import bagit

    logging.getLogger(bagit.LOGGER.name).disabled = True
    try:
        bagit.Bag(os.fspath(bag)).validate()
    except bagit.BagError as error:
        raise InputError(
            f"The bag did not come out valid ({' '.join(str(error).split())})",
            "Check the disk and the names of the files in the folder",
        ) from error
