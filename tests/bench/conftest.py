"""Benchmarks measure the weights that the program takes by itself."""

from __future__ import annotations

import os

import pytest

from spokenfor.hearing.weights import MODEL_SET


@pytest.fixture(autouse=True)
def the_default_weights(monkeypatch: pytest.MonkeyPatch) -> None:
    if MODEL_SET in os.environ:
        monkeypatch.delenv(MODEL_SET)
