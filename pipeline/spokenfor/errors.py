"""The one family of errors a user can cause: what is wrong, and how to mend it."""

from __future__ import annotations


class InputError(Exception):
    """Input or command that cannot be used. Shown as one line on stderr; exit status 2.

    `wrong` says what is wrong, `mend` how to mend it; both are plain sentences without a final stop.
    """

    def __init__(self, wrong: str, mend: str) -> None:
        super().__init__(f"{wrong}. {mend}.")
        self.wrong = wrong
        self.mend = mend
