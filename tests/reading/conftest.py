"""One built pipeline for all tests of reading."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from tests.spoken import PACK, spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.models import Result
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import build, read


@pytest.fixture(scope="session")
def heard() -> Callable[[str], Result]:
    """What becomes of a narration in words."""
    nlp = build(PACK)
    pack = load_pack(PACK)

    def result(text: str) -> Result:
        transcript = spoken(text)
        return assemble(transcript, read(transcript, PACK, nlp), pack)

    return result
