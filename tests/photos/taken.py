"""Pictures with and without the tags that a camera writes."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

# Exif 2.32 (CIPA DC-008): tag numbers of the Exif IFD.
IFD, TAKEN, FRACTION, ZONE, TURNED = 0x8769, 0x9003, 0x9291, 0x9011, 0x0112


def picture(
    path: Path,
    taken: str | None = None,
    *,
    fraction: str | None = None,
    zone: str | None = None,
    turned: int | None = None,
    size: tuple[int, int] = (64, 48),
    colour: tuple[int, int, int] = (90, 110, 130),
) -> Path:
    """A plain picture; `taken` as Exif writes it ("2026:05:03 09:12:30")."""
    exif = Image.Exif()
    exif[0x010F] = "Camera"
    for tag, value in ((TAKEN, taken), (FRACTION, fraction), (ZONE, zone)):
        if value is not None:
            exif.get_ifd(IFD)[tag] = value
    if turned is not None:
        exif[TURNED] = turned
    path.parent.mkdir(parents=True, exist_ok=True)
    Image.new("RGB", size, colour).save(path, exif=exif)
    return path
