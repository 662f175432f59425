"""Where is the folder of a sealed bag, also one that came as .zip or .tar?"""

from __future__ import annotations

import hashlib
import shutil
from pathlib import Path

from spokenfor.record.archive import unpack
from spokenfor.record.durable import writing
from spokenfor.web.library import Library


def bag_folder(library: Library, name: str) -> Path:
    """The folder of a bag; an archive is unpacked once under `.workbench/opened/`, within the limits of
    record.archive. Raises NotThereError, or InputError for an archive that is not safe."""
    path = library.bag(name)
    if path.is_dir():
        return path
    state = path.stat()
    mark = f"{path.name} {state.st_mtime_ns} {state.st_size}"
    place = (
        library.own / "opened" / hashlib.sha256(mark.encode("utf-8", "replace")).hexdigest()[:24]
    )
    whole = place / "whole"
    if not whole.exists():
        aside = place.with_suffix(".part")
        shutil.rmtree(aside, ignore_errors=True)
        with writing("The unpacked bag", library.own):
            aside.mkdir(parents=True)
            try:
                (aside / "bag").mkdir()
                inner = unpack(path, aside / "bag")
            except BaseException:
                shutil.rmtree(aside, ignore_errors=True)
                raise
            (aside / "whole").write_text(str(inner.relative_to(aside)))
            shutil.rmtree(place, ignore_errors=True)
            aside.rename(place)
    return place / whole.read_text()
