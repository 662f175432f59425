"""Fits the rule that takes or leaves a repair, on the development half only.

    python -m tests.bench.hearing.fit CACHE [--needed LOG_ODDS] [--write]

Hears every development narration that is not in the folder CACHE yet, with both models (one rule serves both,
and finds more at the same precision than one fitted on either), makes the rows, grows boosted trees
(scikit-learn), and prints for each threshold what would be taken, right and wrong, each narration judged by a
rule that has not seen it in any condition. `--write` puts the rule into the package.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Any

import numpy as np
import typer
from numpy.typing import NDArray
from sklearn.ensemble import HistGradientBoostingClassifier
from tests.bench.hearing.material import Case, cases
from tests.bench.hearing.rows import Row, rows

from spokenfor.hearing.weights import DEFAULT_MODEL
from spokenfor.models import Transcript
from spokenfor.packs.load import load_pack
from spokenfor.reading.sound_rule import SoundRule, Tree, features

RULE = Path(__file__).parents[3] / "pipeline/spokenfor/reading/sound_rule.json"
# What may only speak for a repair the more there is of it (1), or only against it (-1).
MONOTONE = {
    "score": 1,
    "alike": 1,
    "spelling": 1,
    "change_alike": 1,
    "rival": -1,
    "primed": 1,
    "gainsaid": -1,
}
THRESHOLDS = (-1.0, 0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
Matrix = NDArray[np.float64]


HEARD_BY = ("tiny.en", "base", DEFAULT_MODEL)
"""The rule has to hold for a small model as for the default."""


def kept_transcript(case: Case, cache: Path, model: str = DEFAULT_MODEL) -> Path:
    """Where a cache keeps the transcript that a model makes of a case."""
    return cache / model / f"{case.id}.json"


def heard(case: Case, cache: Path, model: str = DEFAULT_MODEL) -> Transcript:
    """The transcript of a case by a model, from the cache or made now."""
    from spokenfor.hearing.listen import hear

    kept = kept_transcript(case, cache, model)
    if not kept.exists():
        kept.parent.mkdir(parents=True, exist_ok=True)
        sounds = case.sounds(cache / "sound")
        transcript = hear(sounds, model, pack=load_pack(case.script.pack))
        kept.write_text(transcript.model_dump_json())
    return Transcript.model_validate_json(kept.read_text())


def grown(values: Matrix, right: NDArray[np.bool_], names: list[str]) -> Any:
    """Boosted trees over the features named, in that order."""
    trees = HistGradientBoostingClassifier(
        max_iter=200,
        learning_rate=0.04,
        max_leaf_nodes=12,
        min_samples_leaf=20,
        l2_regularization=3.0,
        max_features=0.5,
        monotonic_cst=[MONOTONE.get(name, 0) for name in names],
        early_stopping=False,
        random_state=0,
    )
    return trees.fit(values, right)


def as_rule(trees: Any, names: list[str], needed: float) -> SoundRule:
    """The same trees in the form that ships."""
    made = []
    for (one,) in trees._predictors:
        nodes = one.nodes
        leaf = nodes["is_leaf"].astype(bool)
        made.append(
            Tree(
                feature=[
                    -1 if end else int(n) for end, n in zip(leaf, nodes["feature_idx"], strict=True)
                ],
                at=[
                    0.0 if end else float(n)
                    for end, n in zip(leaf, nodes["num_threshold"], strict=True)
                ],
                low=[int(n) for n in nodes["left"]],
                high=[int(n) for n in nodes["right"]],
                value=[
                    float(n) if end else 0.0 for end, n in zip(leaf, nodes["value"], strict=True)
                ],
            )
        )
    return SoundRule(names, float(np.ravel(trees._baseline_prediction)[0]), made, needed)


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
        for model in HEARD_BY:
            mine = rows(case.id, case.script, heard(case, cache, model), times)
            found += mine
            names += [case.name] * len(mine)
    given = [features(row.possible, row.around) for row in found]
    order = list(given[0])
    values = np.array([[one[name] for name in order] for one in given])
    right = np.array([row.right for row in found])
    unseen = np.zeros(len(found))
    for name in sorted(set(names)):
        inside = np.array([one == name for one in names])
        trees = grown(values[~inside], right[~inside], order)
        unseen[inside] = trees.decision_function(values[inside])
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
        trees = grown(values, right, order)
        rule = as_rule(trees, order, needed)
        given_by = [rule.log_odds(row.possible, row.around) for row in found]
        assert np.allclose(given_by, trees.decision_function(values), atol=1e-6)
        RULE.write_text(json.dumps(asdict(rule), separators=(",", ":")) + "\n")
        print(f"written: {RULE.name}")


if __name__ == "__main__":
    typer.run(main)
