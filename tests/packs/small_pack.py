"""A pack of a few lines, whole in itself, to be broken in tests."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

FILES = {
    "pack.yaml": """name: hand-truck
title: Hand truck
version: 1.0.0
description: A hand truck.
caution: An example.
""",
    "zones.yaml": """- id: frame
  prefLabel: frame
- id: running-gear
  prefLabel: running gear
  altLabel: [down at the wheels]
""",
    "components/all.yaml": """- id: handle
  prefLabel: handle
  altLabel: [grip, hand rail]
  aspects: [condition, security]
- id: tyre
  prefLabel: tyre
  aspects: [condition, pressure]
  limits:
    - {of: pressure, unit: bar, minimum: 2, maximum: 3}
- id: axle
  prefLabel: axle
  aspects: [security]
""",
    "sheet.yaml": """- zone: frame
  lines:
    - {component: handle}
- zone: running-gear
  lines:
    - {component: tyre, positions: [left, right]}
    - {component: axle}
""",
}


def write_small_pack(folder: Path, changes: Mapping[str, tuple[str, str]] | None = None) -> Path:
    """Writes the pack; `changes` maps a file to (text in it, what stands there instead)."""
    for name, text in FILES.items():
        old, new = (changes or {}).get(name, ("", ""))
        assert old in text
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text.replace(old, new, 1) if old else text, encoding="utf-8")
    return folder
