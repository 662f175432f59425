"""Where the bundled recordings are."""

from __future__ import annotations

from pathlib import Path
from typing import TypedDict

from spokenfor.errors import InputError


class About(TypedDict):
    """What a sample was spoken about."""

    pack: str
    asset: str


SHIPPED = About(pack="helicopter-light-twin", asset="R-07")
"""What the sample in the wheel is about, which comes without its script."""


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


def sample_about(name: str) -> About:
    """The pack and the asset of a sample, as its script says."""
    import yaml

    script = samples_folder() / "scripts" / f"{name}.yaml"
    if not script.is_file():
        return SHIPPED
    data = yaml.safe_load(script.read_text(encoding="utf-8"))
    return About(pack=data["pack"], asset=data["asset"])
