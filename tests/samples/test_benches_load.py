"""Benches run apart from the suite; what they take from the program must still be there."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

import pytest

BENCH = Path(__file__).parents[1] / "bench"
MODULES = sorted(
    ".".join(path.relative_to(BENCH.parents[1]).with_suffix("").parts)
    for path in BENCH.rglob("*.py")
    if path.name != "__init__.py"
)


@pytest.mark.parametrize("module", MODULES)
def test_a_bench_can_be_loaded(module: str) -> None:
    assert import_module(module)
