"""Fits what words say how a thing is where no cue phrase lists them, on the clauses beside this file.

    python -m tests.bench.clauses.fit [--good 0.9] [--bad 0.9] [--write]

Each line of a *.txt is `label | clause`, ITEM standing for a name: g it is all right, b it is not, n no result,
m cannot be told without the name (counted with n). Prints, with each tenth of the clauses judged by a model that
has not seen it, how many are taken and how many of them rightly; `--write` puts the weights into the package.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any

import numpy as np
import typer
from numpy.typing import NDArray
from scipy.sparse import csr_matrix
from sklearn.feature_extraction import DictVectorizer
from sklearn.linear_model import LogisticRegression
from sklearn.model_selection import StratifiedKFold, cross_val_predict

from spokenfor.reading.clause_weights import Weights, clause_words, features

HERE = Path(__file__).resolve().parent
WEIGHTS = HERE.parents[2] / "pipeline/spokenfor/reading/clause_weights.json"
LABELS = ("g", "b", "n")
THRESHOLDS = (0.5, 0.6, 0.7, 0.8, 0.9, 0.95)
# How strongly large weights are held back: the inverse of sklearn's C.
HELD_BACK = 2.0


def clauses() -> list[tuple[str, str]]:
    """Label and text of every clause written down, each text once."""
    found: dict[str, str] = {}
    for path in sorted(HERE.glob("*.txt")):
        for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1):
            if not line.strip() or line.startswith("#"):
                continue
            label, _, text = line.partition("|")
            label = label.strip()
            if label not in ("g", "b", "n", "m") or not text.strip():
                raise SystemExit(f"{path.name} line {number}: write `label | clause`")
            found.setdefault(" ".join(clause_words(text)), "n" if label == "m" else label)
    return [(label, text) for text, label in found.items()]


def model() -> LogisticRegression:
    return LogisticRegression(C=1 / HELD_BACK, max_iter=4000)


def as_weights(
    fitted: Any, names: list[str], good: float, bad: float, least: float = 0.1, places: int = 2
) -> Weights:
    """A fitted model in the form that ships: log odds against no result, to so many places; features that say
    next to nothing (less than `least`) left out."""
    at = [list(fitted.classes_).index(label) for label in LABELS]
    rows = fitted.coef_[at[:2]] - fitted.coef_[at[2]]
    bias = fitted.intercept_[at[:2]] - fitted.intercept_[at[2]]
    of = {
        name: (round(float(rows[0, column]), places), round(float(rows[1, column]), places))
        for column, name in enumerate(names)
        if np.abs(rows[:, column]).max() >= least
    }
    first, second = (round(float(one), places + 1) for one in bias)
    return Weights((first, second), of, good, bad)


def table(shares: NDArray[np.float64], labels: NDArray[np.str_], classes: list[str]) -> None:
    """Prints how much is taken, and how much of it rightly, at each threshold."""
    for label in LABELS[:2]:
        share = shares[:, classes.index(label)]
        for needed in THRESHOLDS:
            taken = share >= needed
            right = taken & (labels == label)
            worst = taken & (labels == ("b" if label == "g" else "g"))
            print(
                f"{label} from {needed:4.2f}: {taken.sum():5} taken, precision "
                f"{right.sum() / max(1, taken.sum()):.3f}, the contrary {worst.sum():3}, "
                f"recall {right.sum() / (labels == label).sum():.3f}"
            )


def main(
    good: Annotated[float, typer.Option(help="How probable a good result must be")] = 0.9,
    bad: Annotated[float, typer.Option(help="How probable a bad result must be")] = 0.9,
    write: Annotated[bool, typer.Option(help="Put the weights into the package")] = False,
    show: Annotated[bool, typer.Option(help="Show what is taken wrongly")] = False,
) -> None:
    written = clauses()
    labels = np.array([label for label, _ in written])
    vectors = DictVectorizer()
    values: csr_matrix = vectors.fit_transform(
        [dict.fromkeys(features(text.split()), 1.0) for _, text in written]
    )
    folds = StratifiedKFold(10, shuffle=True, random_state=0)
    shares = cross_val_predict(model(), values, labels, cv=folds, method="predict_proba")
    counts = ", ".join(f"{(labels == label).sum()} {label}" for label in LABELS)
    print(f"{len(written)} clauses: {counts}; {values.shape[1]} features")
    classes = sorted(LABELS)
    table(shares, labels, classes)
    if show:
        for label, needed in (("g", good), ("b", bad)):
            share = shares[:, classes.index(label)]
            for at in np.argsort(-share):
                if share[at] >= needed and labels[at] != label:
                    print(f"{share[at]:.2f} as {label}: {labels[at]} | {written[at][1]}")
    if write:
        fitted = model().fit(values, labels)
        made = as_weights(fitted, list(vectors.get_feature_names_out()), good, bad)
        held = {
            "bias": made.bias,
            "needed_good": made.needed_good,
            "needed_bad": made.needed_bad,
            "of": made.of,
        }
        WEIGHTS.write_text(json.dumps(held, separators=(",", ":"), sort_keys=True) + "\n")
        print(f"written: {WEIGHTS.name}, {len(made.of)} features")


if __name__ == "__main__":
    typer.run(main)
