"""The command at a terminal of its own, where it asks."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

from tests.cli.command import PIPELINE


def typed(folder: Path, arguments: list[str], answers: list[str], after: str = ": ") -> int:
    """Run the command and type each answer when what it says ends with `after`; return its status."""
    main, other = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "spokenfor", *arguments],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(PIPELINE)},
        stdin=other,
        stdout=other,
        stderr=other,
        start_new_session=True,
    ) as process:
        os.close(other)
        for answer in answers:
            shown = b""
            while not shown.endswith(after.encode()):
                shown += os.read(main, 4096)
            os.write(main, f"{answer}\n".encode())
        status = process.wait(60)
    os.close(main)
    return status
