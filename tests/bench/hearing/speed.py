"""How long does hearing take beside plain sequential faster-whisper on the same sound, in the same run, and how
much of it is second hearing?

    python tests/bench/hearing/speed.py audio_samples/*.opus
    python tests/bench/hearing/speed.py --minutes 60 audio_samples/*.opus   # looped, for memory

Each is run in a process of its own, so that peak memory is its own too, and in turn, so that other work
on the machine hits all alike. `first` is our hearing without a pack: the first pass alone. The bars are in design
section 8.
"""

from __future__ import annotations

import argparse
import json
import resource
import subprocess
import sys
import tempfile
import time
import wave
from dataclasses import asdict, dataclass
from pathlib import Path

RATE = 16_000
PACK = "helicopter-light-twin"


@dataclass(frozen=True)
class Timing:
    """Wall and processor seconds for `sound` seconds of sound, loading included; peak memory in MiB."""

    sound: float
    wall: float
    processor: float
    peak: float
    words: int


def ours(path: Path) -> tuple[float, int]:
    """Seconds of sound and number of words, by spokenfor's hearing stage as `check` runs it."""
    return _hearing(path, PACK)


def first(path: Path) -> tuple[float, int]:
    """The same without second and primed hearing."""
    return _hearing(path, None)


def _hearing(path: Path, pack: str | None) -> tuple[float, int]:
    from spokenfor.hearing.listen import hear
    from spokenfor.packs.load import load_pack

    transcript = hear([path], pack=load_pack(pack) if pack is not None else None)
    return transcript.recordings[0].duration, sum(len(s.words) for s in transcript.segments)


def plain(path: Path) -> tuple[float, int]:
    """The same by faster-whisper as it comes: sequential, beam 5, word times, the same weights."""
    from faster_whisper import WhisperModel

    from spokenfor.hearing.weights import resolve

    model = WhisperModel(
        str(resolve().folder),
        device="cpu",
        compute_type="int8",
        cpu_threads=2,
        local_files_only=True,
    )
    segments, info = model.transcribe(str(path), language="en", beam_size=5, word_timestamps=True)
    return info.duration, sum(len(segment.words or []) for segment in segments)


WAYS = {"ours": ours, "first": first, "plain": plain}


def timed(way: str, path: Path) -> Timing:
    """Run one way in a fresh process."""
    command = [sys.executable, __file__, "--way", way, str(path)]
    return Timing(**json.loads(subprocess.run(command, capture_output=True, check=True).stdout))


def run_here(way: str, path: Path) -> Timing:
    """Run one way in this process and measure it."""
    started, used = time.perf_counter(), time.process_time()
    sound, words = WAYS[way](path)
    wall, processor = time.perf_counter() - started, time.process_time() - used
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return Timing(sound, wall, processor, peak, words)


def looped(paths: list[Path], minutes: float, folder: Path) -> Path:
    """One wav of so many minutes made of the given sounds over and over."""
    from spokenfor.hearing.decode import decode

    sounds = [decode(path).samples.tobytes() for path in paths]
    made, wanted, turn = folder / "looped.wav", int(minutes * 60 * RATE * 2), 0
    with wave.open(str(made), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        while wanted > 0:
            part = sounds[turn % len(sounds)][:wanted]
            file.writeframes(part)
            wanted, turn = wanted - len(part), turn + 1
    return made


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("sound", nargs="+", type=Path)
    parser.add_argument("--minutes", type=float, help="loop the sounds to this length; ours only")
    parser.add_argument("--way", choices=WAYS, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.way:
        print(json.dumps(asdict(run_here(asked.way, asked.sound[0]))))
        return
    if asked.minutes:
        with tempfile.TemporaryDirectory() as folder:
            timing = timed("ours", looped(asked.sound, asked.minutes, Path(folder)))
        print(f"{timing.sound:.0f} s of sound: {timing.wall:.1f} s, peak {timing.peak:.0f} MiB")
        return
    heads = ("seconds", "ours", "first", "plain", "second", "wall", "cpu", "MiB")
    print(f"{'sound':32}" + "".join(f" {head:>7}" for head in heads))
    for path in asked.sound:
        mine, alone, theirs = (timed(way, path) for way in WAYS)
        print(
            f"{path.name:32} {mine.sound:7.1f} {mine.wall:7.2f} {alone.wall:7.2f} {theirs.wall:7.2f} "
            f"{mine.wall / alone.wall - 1:7.2f} {mine.wall / theirs.wall:7.2f} "
            f"{mine.processor / theirs.processor:7.2f} {mine.peak:7.0f}"
        )


if __name__ == "__main__":
    main()
