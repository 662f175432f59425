"""Where the bundled recordings are."""

from __future__ import annotations

from pathlib import Path

from spokenfor.errors import InputError


def samples_folder() -> Path:
    """The folder of bundled recordings: beside the package in a wheel, at the top of a checkout."""
    shipped = Path(__file__).resolve().parent / "audio_samples"
    return shipped if shipped.is_dir() else Path(__file__).resolve().parents[2] / "audio_samples"


def sample_sounds(name: str) -> list[Path]:
    """The recordings of one sample, in order. Raises InputError where there is none of that name."""
    folder = samples_folder()
    found = sorted(folder.glob(f"{name}.opus")) or sorted(folder.glob(f"{name}-[0-9].opus"))
    if not found:
        names = sorted({path.stem for path in folder.glob("*.opus")})
        raise InputError(
            f"There is no bundled recording called '{name}'",
            f"Use one of: {', '.join(names) or '(none is installed)'}",
        )
    return found
