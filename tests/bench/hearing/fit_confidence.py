"""Fits the probability that a line's status is right, on the development half only.

    python -m tests.bench.hearing.fit_confidence CACHE [--write]

CACHE is the folder of fit.py. Prints the expected calibration error, each narration judged by a model that
has not seen it. `--write` puts the weights into the package.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import numpy as np
import typer
from numpy.typing import NDArray
from tests.bench.hearing.fit import Matrix, heard
from tests.bench.hearing.material import Case, cases
from tests.samples.answer_key import key_of
from tests.samples.scoring import NO_RESULT_SAID

from spokenfor.coverage.assemble import assemble, deciding_statements
from spokenfor.coverage.confidence import Heard, features, within
from spokenfor.hearing.weights import DEFAULT_MODEL
from spokenfor.models import ItemStatus, Transcript
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import build, read

WEIGHTS = Path(__file__).parents[3] / "pipeline/spokenfor/coverage/confidence.json"
BINS = 10
RIDGE = 3.0
UNTUNED = "base"
"""The default weights were tuned on the voices of this half and are surer of them than of any other: what these
hear stands in for voices that they never heard."""


@dataclass(frozen=True)
class Line:
    """A line of the sheet of one narration: what the model sees, its probability as shipped, the truth;
    `repaired`: a repair stands in what decided it."""

    name: str
    status: ItemStatus
    found: dict[str, float]
    shown: float
    listen: bool
    right: bool
    turned: bool
    repaired: bool


def lines(case: Case, transcript: Transcript) -> list[Line]:
    """Every line of a case but those that are unheard: they claim nothing."""
    pack = load_pack(case.script.pack)
    reading = read(transcript, case.script.pack, build(case.script.pack))
    result = assemble(transcript, reading, pack)
    key = key_of(case.script).items
    sound = Heard.of(transcript)
    walked = {stay.zone for stay in reading.walk}
    made = []
    for item in result.items:
        if item.status is ItemStatus.UNHEARD:
            continue
        truth = key[item.id]
        deciding = deciding_statements(item, reading.statements)
        fault, good = ItemStatus.DEFECT, ItemStatus.SATISFACTORY
        made.append(
            Line(
                name=case.name,
                status=item.status,
                found=features(item.status, deciding, sound, item.zone in walked),
                shown=item.confidence,
                listen=item.listen,
                right=item.status is truth.status and item.by_reference == truth.by_reference,
                turned=(item.status, truth.status) in ((fault, good), (good, fault))
                or (item.status is good and truth.status in NO_RESULT_SAID),
                repaired=any(
                    within(repair.evidence, one.evidence)
                    for one in deciding
                    for repair in reading.repairs
                ),
            )
        )
    return made


def calibration_error(shown: Matrix, right: Matrix) -> float:
    """Expected calibration error over ten bins of equal width (Guo et al. 2017, from memory)."""
    place = np.minimum((shown * BINS).astype(int), BINS - 1)
    return float(
        sum(
            abs(shown[place == one].mean() - right[place == one].mean()) * (place == one).mean()
            for one in range(BINS)
            if (place == one).any()
        )
    )


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


def matrix(found: list[Line], names: list[str]) -> Matrix:
    """One row a line; the first column is the constant that `fitted` does not shrink (zero here)."""
    return np.array([[0.0, *(line.found.get(name, 0.0) for name in names)] for line in found])


def main(
    cache: Path,
    write: Annotated[bool, typer.Option(help="Put the weights into the package")] = False,
) -> None:
    found: list[Line] = []
    for case in cases("dev", ("quiet", "10 dB", "3 dB")):
        for model in (DEFAULT_MODEL, UNTUNED):
            found += lines(case, heard(case, cache, model))
    names = sorted({name for line in found for name in line.found})
    values, right = matrix(found, names), np.array([line.right for line in found], float)
    unseen = np.zeros(len(found))
    for name in sorted({line.name for line in found}):
        inside = np.array([line.name == name for line in found])
        unseen[inside] = 1 / (
            1 + np.exp(-values[inside] @ fitted(values[~inside], right[~inside] > 0.5))
        )
    said = np.array([line.status is not ItemStatus.NOT_MENTIONED for line in found])
    print(f"{len(found)} lines, {right.mean():.3f} right")
    print(
        f"calibration error {calibration_error(unseen, right):.3f}, "
        f"of lines spoken of {calibration_error(unseen[said], right[said]):.3f}"
    )
    if write:
        weights = fitted(values, right > 0.5)[1:]
        rounded = {n: round(float(w), 4) for n, w in zip(names, weights, strict=True)}
        WEIGHTS.write_text(json.dumps({"weights": rounded}, indent=2) + "\n")
        print(f"written: {WEIGHTS.name}")


if __name__ == "__main__":
    typer.run(main)
