"""What stands in the folder before a command is typed: sound, captions, packs and weights, whole or spoilt."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import av
import numpy as np
from tests.cli.command import write_wav

from spokenfor.hearing.weights import resolve
from spokenfor.packs.load import vocabulary_root
from spokenfor.samples import samples_folder

PACK = "helicopter-light-twin"
CAPTIONS = "WEBVTT\n\n00:00:01.000 --> 00:00:04.000\nStarting at the nose. Nose cone is secure.\n"


def nothing(folder: Path) -> None:
    """The folder as it is."""


def holds(name: str, content: bytes | str) -> Callable[[Path], object]:
    data = content.encode() if isinstance(content, str) else content

    def prepare(folder: Path) -> None:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)

    return prepare


def silent_wav(name: str) -> Callable[[Path], object]:
    return lambda folder: write_wav(folder / name, np.zeros(16_000))


def header_only(folder: Path) -> None:
    write_wav(folder / "walk.wav", np.zeros(0))


def first_bytes_of_a_sample(count: int) -> bytes:
    with (samples_folder() / "two-parts-1.opus").open("rb") as file:
        return file.read(count)


def picture(folder: Path) -> None:
    with av.open(str(folder / "walk.mp4"), "w") as file:
        stream = file.add_stream("mpeg4", rate=25)
        stream.width = stream.height = 32
        file.mux(stream.encode(av.VideoFrame(32, 32, "yuv420p")))
        file.mux(stream.encode(None))


def pack_with(file: str, content: str | None) -> Callable[[Path], object]:
    """A copy of the pack with one file replaced or left out, and captions to read."""

    def prepare(folder: Path) -> None:
        shutil.copytree(vocabulary_root() / PACK, folder / "mine")
        holds("walk.vtt", CAPTIONS)(folder)
        if content is None:
            (folder / "mine" / file).unlink()
        else:
            (folder / "mine" / file).write_text(content, encoding="utf-8")

    return prepare


def pack_head_and(line: str) -> Callable[[Path], object]:
    head = (vocabulary_root() / PACK / "pack.yaml").read_text(encoding="utf-8")
    return pack_with("pack.yaml", f"{head}\n{line}\n")


def weights_with(file: str, content: bytes) -> Callable[[Path], object]:
    """The installed weights with one file spoilt; the others are links."""

    def prepare(folder: Path) -> None:
        silent_wav("walk.wav")(folder)
        (folder / "weights").mkdir()
        for path in resolve().folder.iterdir():
            (folder / "weights" / path.name).symlink_to(path)
        (folder / "weights" / file).unlink()
        (folder / "weights" / file).write_bytes(content)

    return prepare


def recording_called_as_a_report(folder: Path) -> None:
    holds("walk.vtt", CAPTIONS)(folder)
    (folder / "out").mkdir()
    write_wav(folder / "out" / "report.json", np.zeros(16_000 * 5))
