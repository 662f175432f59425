"""When are the reviewed page and the forms made anew: after decisions, but not once for each of a quick row?"""

from __future__ import annotations

import logging
from pathlib import Path
from threading import Lock

from spokenfor.errors import InputError
from spokenfor.record.derived import write_derived

_LOG = logging.getLogger(__name__)


class Deriving:
    """Writes derived files in the background. They are no source: what a crash leaves behind is made anew by
    the next decision, by `hand-over` and by the seal."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._wanted: set[Path] = set()
        self._busy: set[Path] = set()

    def write(self, folder: Path) -> None:
        """Write the derived files of an inspection; while that is being done, one more time is enough for any
        number of calls."""
        with self._lock:
            self._wanted.add(folder)
            if folder in self._busy:
                return
            self._busy.add(folder)
        while self._still_wanted(folder):
            try:
                write_derived(folder)
            except InputError as error:
                _LOG.warning("%s", error)

    def _still_wanted(self, folder: Path) -> bool:
        with self._lock:
            wanted = folder in self._wanted
            self._wanted.discard(folder)
            if not wanted:
                self._busy.discard(folder)
            return wanted
