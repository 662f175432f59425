"""How long the whole job takes beside plain sequential faster-whisper on the same sound, in the same run.

Bar: at most 0.75 of its wall time (beam 5, word times, no voice filter, two threads, int8). Both are whole
processes, so that start-up and loading count.
"""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

from spokenfor.hearing.weights import resolve
from spokenfor.samples import sample_sounds

PLAIN = """
import sys
from faster_whisper import WhisperModel
model = WhisperModel(sys.argv[1], device="cpu", compute_type="int8", cpu_threads=2, local_files_only=True)
segments, _ = model.transcribe(sys.argv[2], language="en", beam_size=5, word_timestamps=True)
print(sum(len(segment.words) for segment in segments))
"""
ROUNDS = 3


def seconds(command: list[str]) -> float:
    started = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return time.perf_counter() - started


def test_whole_check_beside_plain_transcription(tmp_path: Path) -> None:
    sound = str(sample_sounds("thorough-walk")[0])
    weights = str(resolve().folder)
    ratios = []
    for number in range(ROUNDS):
        plain = seconds([sys.executable, "-c", PLAIN, weights, sound])
        whole = seconds(
            [
                sys.executable,
                "-m",
                "spokenfor",
                "check",
                sound,
                "--out",
                str(tmp_path / str(number)),
            ]
        )
        ratios.append(whole / plain)
        print(f"plain {plain:6.1f} s   whole check {whole:6.1f} s   ratio {whole / plain:.2f}")
    print(f"median ratio {sorted(ratios)[ROUNDS // 2]:.2f} (bar 0.75)")


def test_help() -> None:
    taken = sorted(seconds([sys.executable, "-m", "spokenfor", "--help"]) for _ in range(5))
    print(f"spokenfor --help: median {taken[2]:.2f} s (bar 0.40 s)")
