"""What is read of whole narrations whose full stops nobody set: the table of docs/benchmarks.md.

    python -m tests.bench.sentence_ends.measure [dev|test]

The narrations of the hearing bench as they were written, so that nothing but the marks is amiss: none of them is
among the sentences of fit.py.
"""

from __future__ import annotations

import time
from typing import Annotated

import typer
from audio_samples.script import load_script
from tests.bench.hearing.material import Half, narrations
from tests.retold import WAYS, read_as

from spokenfor.reading.pipeline import build


def main(half: Annotated[str, typer.Argument(help="dev or test")] = "dev") -> None:
    chosen: Half = "test" if half == "test" else "dev"
    scripts = [load_script(path) for path in narrations(chosen)]
    built = {pack: build(pack) for pack in {script.pack for script in scripts}}
    print("| marks | lines right | of those spoken | invented | defects found | false | seconds |")
    print("| --- | --- | --- | --- | --- | --- | --- |")
    for way in WAYS:
        began = time.process_time()
        found = [read_as(script, way, built[script.pack]) for script in scripts]
        spent = time.process_time() - began
        total, spoken = sum(one.total for one in found), sum(one.spoken for one in found)
        right = total - sum(len(one.wrong) for one in found)
        told = sum(one.spoken_right for one in found)
        defects = [one.defects for one in found]
        hit = sum(len(one.found) for one in defects)
        all_said = hit + sum(len(one.missed) for one in defects)
        print(
            f"| {way} | {right} of {total} | {told} of {spoken} | {sum(len(one.invented) for one in found)} "
            f"| {hit} of {all_said} | {sum(len(one.false) for one in defects)} | {spent:.1f} |"
        )


if __name__ == "__main__":
    typer.run(main)
