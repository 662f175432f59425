"""An inspection folder, fresh for each test, and the process bound as anybody is."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tests.cli.prepared import CAPTIONS
from tests.record.walked import PACK, Walked, walked

from spokenfor.check import Request
from spokenfor.check import check as check_sounds
from spokenfor.record.keep import keep


@pytest.fixture
def check(tmp_path: Path) -> Walked:
    """A check that was made and is not kept yet."""
    return walked(tmp_path / "phone")


@pytest.fixture(scope="session")
def kept_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An inspection folder as a check leaves it."""
    top = tmp_path_factory.mktemp("once")
    walked(top / "phone").keep(top / "r07")
    return top / "r07"


@pytest.fixture
def folder(kept_once: Path, tmp_path: Path) -> Path:
    """A copy of that folder, for one test."""
    shutil.copytree(kept_once, tmp_path / "r07")
    return tmp_path / "r07"


@pytest.fixture(scope="session")
def captions_check(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The whole job, on captions made elsewhere, as `check --transcript` does it."""
    top = tmp_path_factory.mktemp("captions")
    captions = top / "walk.vtt"
    captions.write_text(CAPTIONS, encoding="utf-8")
    request = Request([], PACK, asset="R-07", by="Sample voice", captions=captions)
    result, transcript = check_sounds(request)
    keep(top / "r07", request, result, transcript)
    return top / "r07"


@pytest.fixture
def captions_folder(captions_check: Path, tmp_path: Path) -> Path:
    """A copy of that inspection."""
    shutil.copytree(captions_check, tmp_path / "heard")
    return tmp_path / "heard"
