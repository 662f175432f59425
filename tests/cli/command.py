"""How do the tests run the command as a user does: its own process, no network, no cached weights?"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import wave
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from spokenfor.hearing.decode import RATE, decode
from spokenfor.samples import samples_folder

PIPELINE = Path(__file__).resolve().parents[2] / "pipeline"
NOWHERE = "http://127.0.0.1:9"
"""Port 9 is "discard" (RFC 863): nothing answers there, so every fetch fails at once."""

# Root may read and write everything; without these two capabilities it is as bound by the rights of a
# file as anybody (capabilities(7)).
AS_ANYBODY = ("setpriv", "--bounding-set=-dac_override,-dac_read_search")


@dataclass(frozen=True)
class Run:
    """What one run of the command gave."""

    status: int
    stdout: str
    stderr: str


def spokenfor(
    *arguments: str | Path,
    folder: Path,
    before: Sequence[str] = (),
    environment: Mapping[str, str] | None = None,
) -> Run:
    """Run `spokenfor` in `folder`; `before` is a command that starts it, e.g. with fewer rights."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("HF_")}
    proxies = dict.fromkeys(("HTTP_PROXY", "HTTPS_PROXY", "http_proxy", "https_proxy"), NOWHERE)
    done = subprocess.run(
        [*before, sys.executable, "-m", "spokenfor", *map(str, arguments)],
        cwd=folder,
        env=kept
        | proxies
        | {"HF_HOME": str(folder / ".no-cache"), "PYTHONPATH": str(PIPELINE)}
        | dict(environment or {}),
        capture_output=True,
        encoding="utf-8",
        errors="surrogateescape",
        timeout=300,
        check=False,
    )
    return Run(done.returncode, done.stdout, done.stderr)


def as_anybody() -> Sequence[str]:
    """A command in front that takes root's power over the rights of files away; nothing for others."""
    return AS_ANYBODY if os.geteuid() == 0 else ()


def contents(folder: Path) -> dict[str, tuple[str, int]]:
    """SHA-256 and time of change (ns) of every file below a folder, and each folder's name."""
    found = {}
    for path in sorted(folder.rglob("*")):
        name = os.fsdecode(path.relative_to(folder))
        if path.is_dir():
            found[name] = ("folder", 0)
        else:
            digest = hashlib.sha256(path.read_bytes()).hexdigest()
            found[name] = (digest, path.stat().st_mtime_ns)
    return found


def write_wav(path: Path, samples: np.ndarray) -> Path:
    """16 kHz mono int16 samples as a wav file."""
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(samples.astype("<i2").tobytes())
    return path


def piece(path: Path, sample: str, start: float, end: float) -> Path:
    """Seconds `start` to `end` of a bundled recording as a wav file."""
    samples = decode(samples_folder() / f"{sample}.opus").samples
    return write_wav(path, samples[int(start * RATE) : int(end * RATE)])


def assert_one_line(run: Run, says: str) -> None:
    """Status 2 and one line on stderr that says what is wrong and how to mend it."""
    assert "Traceback" not in run.stdout + run.stderr
    assert run.status == 2, run.stderr
    assert run.stderr.startswith("spokenfor: "), run.stderr
    assert run.stderr.count("\n") == 1 and run.stderr.endswith(".\n"), run.stderr
    assert says in run.stderr
    assert run.stdout == ""
