"""Fits the rule that takes or leaves a repair, on the development half only.

    python -m tests.bench.hearing.fit CACHE [--needed LOG_ODDS] [--write]

Hears every development narration that is not in the folder CACHE yet, makes the rows, fits a ridge logistic
regression, and prints for each threshold what would be taken, right and wrong, each narration judged by a
rule that has not seen it in any condition. `--write` puts the rule into the package.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import numpy as np
import typer
from numpy.typing import NDArray
from tests.bench.hearing.material import Case, cases
from tests.bench.hearing.rows import Row, rows

from spokenfor.models import Transcript
from spokenfor.packs.load import load_pack
from spokenfor.reading.sound_rule import features

RULE = Path(__file__).parents[3] / "pipeline/spokenfor/reading/sound_rule.json"
RIDGE = 3.0
THRESHOLDS = (-1.0, 0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
Matrix = NDArray[np.float64]


def heard(case: Case, cache: Path) -> Transcript:
    """The transcript of a case, from the cache or made now."""
    from spokenfor.hearing.listen import hear

    kept = cache / f"{case.id}.json"
    if not kept.exists():
        cache.mkdir(parents=True, exist_ok=True)
        transcript = hear(case.sounds(cache / "sound"), pack=load_pack(case.script.pack))
        kept.write_text(transcript.model_dump_json())
    return Transcript.model_validate_json(kept.read_text())


def fitted(values: Matrix, right: NDArray[np.bool_]) -> Matrix:
    """Weights of a ridge logistic regression by Newton's method; the first column is the constant."""
    weights = np.zeros(values.shape[1])
    ridge = np.full(values.shape[1], RIDGE)
    ridge[0] = 1e-6
    for _ in range(100):
        likely = 1 / (1 + np.exp(-values @ weights))
        slope = values.T @ (likely - right) + ridge * weights
        bend = (values * (likely * (1 - likely))[:, None]).T @ values + np.diag(ridge)
        step = np.linalg.solve(bend, slope)
        weights -= step
        if np.abs(step).max() < 1e-8:
            break
    return weights


def main(
    cache: Path,
    needed: Annotated[float, typer.Option(help="Log odds from which a repair is taken")] = 2.0,
    write: Annotated[bool, typer.Option(help="Put the rule into the package")] = False,
    show: Annotated[bool, typer.Option(help="Show wrong and missed repairs")] = False,
) -> None:
    found: list[Row] = []
    names: list[str] = []
    for case in cases("dev", ("quiet", "10 dB", "3 dB")):
        times = case.times(cache / "sound")
        for row in rows(case.id, case.script, heard(case, cache), times):
            found.append(row)
            names.append(case.name)
    given = [features(row.possible, row.around) for row in found]
    values = np.array([[1.0, *one.values()] for one in given])
    right = np.array([row.right for row in found])
    unseen = np.zeros(len(found))
    for name in sorted(set(names)):
        inside = np.array([one == name for one in names])
        unseen[inside] = values[inside] @ fitted(values[~inside], right[~inside])
    print(f"{len(found)} possible repairs, {right.sum()} right")
    for threshold in THRESHOLDS:
        taken = unseen >= threshold
        share = (taken & right).sum() / max(1, taken.sum())
        print(
            f"from {threshold:4.1f}: {taken.sum():4} taken, precision {share:.3f}, "
            f"recall {(taken & right).sum() / right.sum():.3f}"
        )
    if show:
        for row, odds in sorted(zip(found, unseen, strict=True), key=lambda pair: -pair[1]):
            if (odds >= needed) != row.right:
                print(
                    f"{'MISSED' if row.right else 'WRONG'} {odds:5.1f} {row.case} "
                    f"{row.heard} => {row.possible.term.label} | {row.said[:60]}"
                )
    if write:
        weights = fitted(values, right)
        rule = {
            "constant": round(float(weights[0]), 4),
            "needed": needed,
            "weights": {
                name: round(float(weight), 4)
                for name, weight in zip(given[0], weights[1:], strict=True)
            },
        }
        RULE.write_text(json.dumps(rule, indent=2) + "\n")
        print(f"written: {RULE.name}")


if __name__ == "__main__":
    typer.run(main)
