"""Which commands cannot be used, and what must be said of each?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from tests.cli.prepared import (
    CAPTIONS,
    PACK,
    first_bytes_of_a_sample,
    header_only,
    holds,
    nothing,
    pack_head_and,
    pack_with,
    picture,
    recording_called_as_a_report,
    silent_wav,
    weights_with,
)


@dataclass(frozen=True)
class Bad:
    """A command that cannot be used: what stands in the folder, what was typed, what must be said."""

    name: str
    prepare: Callable[[Path], object]
    typed: tuple[str, ...]
    says: str


CHECK_MINE = ("check", "--transcript", "walk.vtt", "--pack", "./mine")

BAD = [
    Bad("empty file", holds("walk.wav", b""), ("check", "walk.wav"), "walk.wav is empty"),
    Bad("wav of no length", header_only, ("check", "walk.wav"), "holds no sound"),
    Bad(
        "text called wav",
        holds("walk.wav", "Nose tyre is good.\n" * 50),
        ("check", "walk.wav"),
        "walk.wav cannot be read as sound",
    ),
    Bad(
        "noise of bytes",
        holds("walk.mp3", np.random.default_rng(3).bytes(40_000)),
        ("check", "walk.mp3"),
        "walk.mp3 cannot be read as sound",
    ),
    Bad(
        "opus cut in its header",
        holds("walk.opus", first_bytes_of_a_sample(40)),
        ("check", "walk.opus"),
        "walk.opus cannot be read as sound",
    ),
    Bad(
        "wav cut in its header",
        holds("walk.wav", b"RIFF\x24\x08\x00\x00WAVEfmt "),
        ("check", "walk.wav"),
        "walk.wav cannot be read as sound",
    ),
    Bad("picture without sound", picture, ("check", "walk.mp4"), "walk.mp4 holds no sound"),
    Bad("folder as sound", nothing, ("check", "."), ". is a folder"),
    Bad("no such file", nothing, ("check", "walk.wav"), "There is no file walk.wav"),
    Bad(
        "second recording is not there",
        silent_wav("one.wav"),
        ("check", "one.wav", "two.wav"),
        "There is no file two.wav",
    ),
    Bad(
        "name on two lines",
        nothing,
        ("check", "left\nside.wav"),
        "There is no file",
    ),
    Bad("nothing to check", nothing, ("check",), "No recording was given"),
    Bad("unknown option", nothing, ("check", "--loud"), "--loud"),
    Bad("unknown command", nothing, ("inspect",), "inspect"),
    Bad("option without value", nothing, ("check", "--pack"), "--pack"),
    Bad(
        "unknown pack",
        silent_wav("walk.wav"),
        ("check", "walk.wav", "--pack", "airship"),
        "There is no pack called 'airship'. Use one of: aeroplane-piston-single, goods-vehicle, "
        f"{PACK}",
    ),
    Bad(
        "pack folder without pack.yaml",
        holds("mine/zones.yaml", "[]"),
        ("pack", "show", "./mine"),
        "'./mine' has no pack.yaml",
    ),
    Bad(
        "broken YAML",
        pack_with("zones.yaml", "- id: nose\n  prefLabel: [nose\n"),
        CHECK_MINE,
        "zones.yaml, line 3, column 1: not valid YAML",
    ),
    Bad("pack without zones", pack_with("zones.yaml", None), CHECK_MINE, "zones.yaml: cannot be"),
    Bad("pack file of another form", pack_with("zones.yaml", "- 1\n"), CHECK_MINE, "line 1"),
    Bad(
        "unknown key in a pack",
        pack_head_and("colour: red"),
        CHECK_MINE,
        "column 1: colour: there is no such key",
    ),
    Bad(
        "sheet without a line",
        pack_with("sheet.yaml", "[]\n"),
        CHECK_MINE,
        "sheet.yaml",
    ),
    Bad(
        "date that is none in a pack",
        pack_head_and("made: 2024-13-45"),
        CHECK_MINE,
        "pack.yaml",
    ),
    Bad(
        "YAML that holds itself",
        pack_head_and("more: &a [*a]"),
        CHECK_MINE,
        "pack.yaml",
    ),
    Bad(
        "no such folder of weights",
        silent_wav("walk.wav"),
        ("check", "walk.wav", "--model", "./weights"),
        "There is no folder weights",
    ),
    Bad(
        "no such name of weights",
        silent_wav("walk.wav"),
        ("check", "walk.wav", "--model", "huge"),
        "There are no weights called huge",
    ),
    Bad(
        "weights that are not here",
        silent_wav("walk.wav"),
        ("check", "walk.wav", "--model", "small.en"),
        "The weights small.en are not on this machine",
    ),
    Bad(
        "weights to be fetched, no network",
        silent_wav("walk.wav"),
        ("check", "walk.wav", "--model", "small.en", "--allow-network"),
        "The weights small.en could not be fetched",
    ),
    Bad(
        "folder without weights",
        lambda folder: (silent_wav("walk.wav")(folder), (folder / "weights").mkdir()),
        ("check", "walk.wav", "--model", "./weights"),
        "it lacks model.bin",
    ),
    Bad(
        "weights cut short",
        weights_with("model.bin", b"\x06\x00\x00\x00\x0cWhis"),
        ("check", "walk.wav", "--model", "./weights"),
        "weights cannot be loaded",
    ),
    Bad(
        "weights with a spoilt tokenizer",
        weights_with("tokenizer.json", b"{}"),
        ("check", "walk.wav", "--model", "./weights"),
        "weights cannot be loaded",
    ),
    Bad(
        "captions of no known form",
        holds("walk.txt", "Nose tyre is good.\n"),
        ("check", "--transcript", "walk.txt"),
        "walk.txt is not a caption file",
    ),
    Bad(
        "sound as captions",
        silent_wav("walk.wav"),
        ("check", "--transcript", "walk.wav"),
        "walk.wav is not a caption file",
    ),
    Bad(
        "captions without words",
        holds("walk.vtt", "WEBVTT\n"),
        ("check", "--transcript", "walk.vtt"),
        "walk.vtt holds no words",
    ),
    Bad(
        "captions that last no time",
        holds("walk.vtt", CAPTIONS.replace("04.000", "01.000")),
        ("check", "--transcript", "walk.vtt"),
        "walk.vtt holds no words",
    ),
    Bad(
        "captions of another recording",
        lambda folder: (silent_wav("walk.wav")(folder), holds("walk.vtt", CAPTIONS)(folder)),
        ("check", "walk.wav", "--transcript", "walk.vtt"),
        "walk.vtt has words after the end of walk.wav",
    ),
    Bad(
        "reports into a file",
        lambda folder: (holds("walk.vtt", CAPTIONS)(folder), holds("out", "mine")(folder)),
        ("check", "--transcript", "walk.vtt"),
        "'out' is a file",
    ),
    Bad(
        "reports over a folder of a report's name",
        lambda folder: (
            holds("walk.vtt", CAPTIONS)(folder),
            holds("out/report.json/mine", "kept")(folder),
        ),
        ("check", "--transcript", "walk.vtt"),
        "The report cannot be written to 'out'",
    ),
    Bad(
        "reports over the captions",
        holds("out/transcript.vtt", CAPTIONS),
        ("check", "--transcript", "out/transcript.vtt"),
        "would be overwritten",
    ),
    Bad(
        "reports over the recording",
        recording_called_as_a_report,
        ("check", "out/report.json", "--transcript", "walk.vtt"),
        "would be overwritten",
    ),
    Bad("unknown sample", nothing, ("demo", "--sample", "airship"), "no bundled recording called"),
]
