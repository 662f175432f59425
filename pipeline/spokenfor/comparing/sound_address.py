"""At which address is the sound behind a passage?"""

from __future__ import annotations

from collections.abc import Callable

from spokenfor.comparing.walks import Walk
from spokenfor.models import Evidence
from spokenfor.reporting.timeline import PAD

Sound = Callable[[Walk, Evidence], str | None]
"""Gives the address of the sound behind a passage; None where there is none."""


def no_sound(walk: Walk, said: Evidence) -> str | None:
    """For pages without sound."""
    return None


def fragment(address: str, said: Evidence) -> str:
    """The seconds of a passage of the recording at an address (W3C Media Fragments URI 1.0, section 4.2.1)."""
    return f"{address}#t={max(0.0, said.start - PAD):.2f},{said.end + PAD:.2f}"
