"""What is wrong on the bundled recordings: the table of docs/accuracy.md.

python -m pytest tests/bench/test_samples.py -q -s -o addopts="--import-mode=importlib"
"""

from __future__ import annotations

from audio_samples.script import load_script
from tests.samples.scoring import load_key, score

from spokenfor.check import Request, check
from spokenfor.samples import sample_sounds, samples_folder


def test_table() -> None:
    rows, wrong = [], []
    for name in sorted(path.stem for path in (samples_folder() / "scripts").glob("*.yaml")):
        script = samples_folder() / "scripts" / f"{name}.yaml"
        result, _ = check(Request(sounds=sample_sounds(name), pack=load_script(script).pack))
        found = score(result, load_key(script))
        said = found.flagged_listed + len(found.flagged_missed)
        rows.append(
            f"| {name} | {found.total - len(found.wrong)} of {found.total} "
            f"({found.item_accuracy:.3f}) | {found.spoken_accuracy:.3f} of {found.spoken} | "
            f"{len(found.invented) + len(found.invented_by_reference)} | "
            f"{len(found.defects.found)} of {len(found.defects.found) + len(found.defects.missed)} | "
            f"{len(found.defects.false)} | {found.flagged_listed} of {said} |"
        )
        for one in found.wrong:
            wrong.append(
                f"| {name} | {one.item} | {one.expected.status.value} | {one.got.status.value} |"
            )
        wrong += [
            f"| {name} | {one.item or 'no line'}: false defect | | {one.evidence.heard} |"
            for one in found.defects.false
        ]
    print(
        "\n| sample | lines right | of those spoken of | invented | defects found | false | "
        "flagged words heard |"
    )
    print("| --- " * 7 + "|")
    print("\n".join(rows))
    print("\n| sample | line | said | shown |")
    print("| --- " * 4 + "|")
    print("\n".join(wrong))
