"""Learns changes of base's linear maps from what was spoken for tuning, and writes what ships.

    python -m tests.bench.hearing.tune.learn WORK [--steps 420] [--write]

WORK/changes.npz is written every thirty steps; `--write` puts a share of the changes into the package, in two
files (`TUNED` of weights.py then wants the SHA-256 of what they make). Needs jax and optax (not in the lock file).
Two cores take about 7 s for a step of four windows.
"""

from __future__ import annotations

import multiprocessing
import time
from importlib.util import find_spec
from pathlib import Path
from typing import Annotated, Any

import numpy as np
import typer

from spokenfor.hearing.tuning import load_changes
from spokenfor.hearing.weights import CHANGES, resolve

RANK = 16
BATCH = 4
RATE = 1e-3
FURTHER_RATE = 8e-4
KEPT = 0.97
"""What is written is a running mean of the changes, of which each step keeps so much."""
POOL = 36
"""Windows of several recordings from which batches are drawn."""


SHARES = {"encoder": 0.6, "decoder": 0.8}
"""How much of the changes ships: more of either made human speech a little worse (docs/benchmarks.md).
That a share of what was learned keeps what was known before: Wortsman et al. 2022 (arXiv 2109.01903), from memory."""


def _produce(queue: Any, work: Path, seed: int) -> None:
    import random

    from tests.bench.hearing.tune.windows import Windows, batch

    windows, chance = Windows(work, seed), random.Random(seed)
    pool: list[Any] = []
    while True:
        while len(pool) < POOL:
            pool += windows.of_one_recording()
        chance.shuffle(pool)
        for _ in range(3):
            queue.put(batch(pool[:BATCH], windows.end))
            pool = pool[BATCH:]


def _save(file: Path, changes: dict[str, Any]) -> None:
    held = {
        f"{name}.{part}": np.asarray(value, np.float16)
        for name, parts in changes.items()
        for part, value in parts.items()
    }
    np.savez(file, **held)


def shipped() -> dict[str, Any]:
    """The whole of the changes of which a share ships."""
    held = load_changes([CHANGES / f"base-{half}.npz" for half in SHARES])
    return {
        name: {
            "a": columns.astype(np.float32),
            "b": rows.astype(np.float32) / SHARES[name.split("/")[0]],
        }
        for name, (rows, columns) in held.items()
    }


def learn(work: Path, steps: int, seed: int, further: bool) -> None:
    """Adam with a cosine that ends at a twentieth (optax), from changes that change nothing, or `further` from
    what ships; the running mean of the changes is written."""
    import jax
    import optax
    from tests.bench.hearing.tune.network import fresh, load, loss

    context = multiprocessing.get_context("spawn")
    queue: Any = context.Queue(4)
    context.Process(target=_produce, args=(queue, work, seed), daemon=True).start()
    weights = load(resolve("base").folder)
    changes = shipped() if further else fresh(weights, RANK)
    most = FURTHER_RATE if further else RATE
    rate = optax.warmup_cosine_decay_schedule(most / 20, most, 15, steps, most / 20)
    rule = optax.chain(
        optax.clip_by_global_norm(1.0), optax.adamw(rate, b2=0.98, weight_decay=0.01)
    )
    state = rule.init(changes)

    @jax.jit
    def step(changes: Any, state: Any, mean: Any, weights: Any, made: Any) -> Any:
        value, slope = jax.value_and_grad(loss)(changes, weights, *made)
        moves, state = rule.update(slope, state, changes)
        changes = optax.apply_updates(changes, moves)
        mean = jax.tree.map(lambda old, new: KEPT * old + (1 - KEPT) * new, mean, changes)
        return changes, state, mean, value

    mean, began, values = changes, time.monotonic(), []
    for number in range(1, steps + 1):
        changes, state, mean, value = step(changes, state, mean, weights, queue.get())
        values.append(float(value))
        if number % 10 == 0:
            spent = time.monotonic() - began
            print(f"{number} steps, loss {np.mean(values[-10:]):.3f}, {spent:.0f} s", flush=True)
        if number % 30 == 0 or number == steps:
            _save(work / "changes.npz", mean)


def write(work: Path) -> None:
    """Puts its share of what was learned into the package: one file for the encoder, one for the decoder."""
    CHANGES.mkdir(exist_ok=True)
    with np.load(work / "changes.npz") as held:
        for half, share in SHARES.items():
            part = {
                key: (held[key].astype(np.float32) * (share if key.endswith(".b") else 1)).astype(
                    np.float16
                )
                for key in held.files
                if key.startswith(half)
            }
            np.savez(CHANGES / f"base-{half}.npz", **part)


def main(
    work: Annotated[Path, typer.Argument(help="Folder of texts.py and speak.py")],
    steps: Annotated[int, typer.Option(help="Steps of four windows; 0 learns nothing")] = 420,
    seed: Annotated[int, typer.Option(help="Which windows are made")] = 1,
    further: Annotated[bool, typer.Option("--further", help="Go on from what ships")] = False,
    put: Annotated[bool, typer.Option("--write", help="Put them into the package")] = False,
) -> None:
    if steps and not all(map(find_spec, ("jax", "optax"))):
        raise SystemExit(
            "Learning needs packages that are not in the lock file: pip install jax optax"
        )
    if steps:
        learn(work, steps, seed, further)
    if put:
        write(work)


if __name__ == "__main__":
    typer.run(main)
