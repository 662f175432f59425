"""Large blocks go back to the system as soon as they are free (glibc, mallopt(3))."""

from __future__ import annotations

import platform
import subprocess
import sys

import pytest

from spokenfor.hearing.memory import give_back_memory

GLIBC = platform.libc_ver()[0] == "glibc"
# glibc keeps what it takes from the heap for a second block of the same size, as a small one lies behind it.
HOLDS = """
import sys
from spokenfor.hearing.memory import give_back_memory

def resident():
    with open("/proc/self/statm") as file:
        return int(file.read().split()[1]) * 4096

if sys.argv[1] == "asked":
    give_back_memory()
first = bytearray(b"x") * 20_000_000
del first
before = resident()
second = bytearray(b"x") * 20_000_000
behind = [bytearray(b"x") * 100_000 for _ in range(3)]
del second
print(resident() - before)
"""


def _held(asked: str) -> int:
    ran = subprocess.run(
        [sys.executable, "-c", HOLDS, asked], capture_output=True, text=True, check=True
    )
    return int(ran.stdout)


@pytest.mark.skipif(not GLIBC, reason="the C library is not glibc")
def test_free_blocks_go_back_once_asked_for() -> None:
    assert give_back_memory()
    assert _held("as it comes") > 15_000_000
    assert _held("asked") < 5_000_000


def test_another_c_library_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(platform, "libc_ver", lambda: ("", ""))
    assert not give_back_memory()
