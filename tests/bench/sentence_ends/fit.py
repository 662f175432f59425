"""Fits where sentences end that no mark shows, on the labelled development sentences.

    python -m tests.bench.sentence_ends.fit [--needed 0.16] [--write]

Prints how many ends are found and how many of them rightly, each fifth of the narrators judged by a model that has
met none of them (measure.py beside it says what that is worth). `--write` puts the weights into the package.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated

import typer
from sklearn.feature_extraction import DictVectorizer
from sklearn.linear_model import LogisticRegression
from tests.reading.labelled_sentences import FOLDER, labelled

from spokenfor.packs.load import load_pack
from spokenfor.packs.wording import normal, split_tokens
from spokenfor.reading.sentence_ends import EndWeights, Piece, Pieces, begins_told, features

HERE = Path(__file__).resolve().parent
WEIGHTS = HERE.parents[2] / "pipeline/spokenfor/reading/sentence_ends.json"
LEAST_COUNT = 3
"""How often a feature must have been met."""

LEAST_WEIGHT = 0.12
FOLDS = 5
ENDS = frozenset(".?!")


def said(file: str) -> dict[str, list[str]]:
    """What a narrator said, by pack, in order."""
    found: dict[str, list[str]] = {}
    for one in labelled(file):
        found.setdefault(one.pack, []).extend([one.before] if one.before else [])
        found[one.pack].append(one.say)
    return found


def unmarked(texts: Sequence[str]) -> tuple[list[str], set[int]]:
    """Words in their normal form, and before which of them a sentence begins."""
    words: list[str] = []
    begins: set[int] = set()
    for text in texts:
        begins.add(len(words))
        for token in split_tokens(text):
            if token[0].isalnum() or token == "#":
                words.append(normal(token))
            elif token in ENDS:
                begins.add(len(words))
    return words, begins


def examples(pieces: list[Piece], begins: set[int]) -> Iterator[tuple[set[str], bool]]:
    """The features of each gap, and whether a sentence ends there."""
    last = 0
    for at in range(1, len(pieces)):
        ends = pieces[at].start in begins
        yield features(pieces, at, last), ends
        last = at if ends else last


def fitted(found: Sequence[tuple[set[str], bool]], needed: float) -> EndWeights:
    """The weights that examples give, features that are rare or say next to nothing left out."""
    counts = Counter(one for features, _ in found for one in features)
    vectors = DictVectorizer()
    kept = [
        dict.fromkeys((one for one in sorted(features) if counts[one] >= LEAST_COUNT), 1.0)
        for features, _ in found
    ]
    model = LogisticRegression(max_iter=2000).fit(
        vectors.fit_transform(kept), [ends for _, ends in found]
    )
    of = {
        name: round(float(weight), 2)
        for name, weight in zip(vectors.get_feature_names_out(), model.coef_[0], strict=True)
        if abs(weight) >= LEAST_WEIGHT
    }
    return EndWeights(round(float(model.intercept_[0]), 3), of, needed)


def main(
    needed: Annotated[float, typer.Option(help="How probable an end must be")] = 0.16,
    write: Annotated[bool, typer.Option(help="Put the weights into the package")] = False,
) -> None:
    files = sorted(path.stem for path in FOLDER.glob("dev-*.yaml"))
    cut = {pack: Pieces(load_pack(pack)) for file in files for pack in said(file)}
    runs: dict[str, list[tuple[list[Piece], set[int]]]] = {}
    for file in files:
        for pack, texts in said(file).items():
            words, begins = unmarked(texts)
            runs.setdefault(file, []).append((cut[pack].of(words), begins))
    made = {file: [one for run in runs[file] for one in examples(*run)] for file in files}
    right = told = true = 0
    for fold in range(FOLDS):
        unseen = files[fold::FOLDS]
        held = fitted([one for file in files if file not in unseen for one in made[file]], needed)
        for pieces, begins in (run for file in unseen for run in runs[file]):
            ends = {pieces[at].start for at in begins_told(pieces, held)}
            starts = {one.start for one in pieces[1:]} & begins
            right, told, true = right + len(ends & starts), told + len(ends), true + len(starts)
    print(f"{true} ends, {told} told, precision {right / told:.3f}, recall {right / true:.3f}")
    held = fitted([one for file in files for one in made[file]], needed)
    print(f"{len(held.of)} features")
    if write:
        written = {"bias": held.bias, "needed": held.needed, "of": dict(held.of)}
        WEIGHTS.write_text(json.dumps(written, separators=(",", ":"), sort_keys=True) + "\n")
        print(f"written: {WEIGHTS.name}, {WEIGHTS.stat().st_size // 1024} KiB")


if __name__ == "__main__":
    typer.run(main)
