"""What is served where a person reviews one inspection: its folder, and the bags sealed from it."""

from __future__ import annotations

import re
from pathlib import Path

from spokenfor.record.folder import holds_inspection
from spokenfor.web.library import Library, place_id


class OneInspection(Library):
    """One inspection. What the workbench needs of its own lies hidden in its folder, so no bag takes it in."""

    def __init__(self, folder: Path) -> None:
        """Raises InputError where `folder` holds no inspection, or may only be read."""
        holds_inspection(folder)
        self.folder = folder.resolve()
        self.root = self.folder.parent
        self.one = place_id(self.folder)
        name = re.escape(self.folder.name)
        self._mine = re.compile(rf"{name}|{name}-sealed(-\d+)?(\.zip|\.tar)?")
        self._make_own(self.folder)

    def _shown(self, name: str) -> bool:
        return self._mine.fullmatch(name) is not None
