"""Whisper base in JAX, from its CTranslate2 weights, with low-rank changes of its linear maps that can be learned.

Source: Radford et al. 2022 (the network), Hu et al. 2021 (the changes). Needs jax, which is not in the lock file.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from spokenfor.hearing.tuning import FLOAT16, places

try:
    import jax
    import jax.numpy as jnp
except ModuleNotFoundError:  # learn.py says what to install
    jax: Any = None
    jnp: Any = None

HEADS, LAYERS = 8, 6
ASKED = 112
"""Tokens of a window for which the whole vocabulary is weighed: its text and its end."""

Maps = dict[str, Any]


def load(folder: Path) -> Maps:
    """Weights by name, single precision."""
    model = (folder / "model.bin").read_bytes()
    return {
        name: jnp.asarray(
            np.frombuffer(model, np.float16, int(np.prod(shape)), at).reshape(shape), jnp.float32
        )
        for name, (at, shape, kind) in places(model).items()
        if kind == FLOAT16 and shape
    }


def fresh(weights: Maps, rank: int) -> Maps:
    """Changes that change nothing yet: b (rows, rank) is zero, a (rank, columns) random."""
    chance = np.random.default_rng(0)
    made = {}
    for name, value in weights.items():
        if "/linear_" in name and name.endswith("/weight"):
            rows, columns = value.shape
            a = chance.normal(0, columns**-0.5, (rank, columns))
            made[name.removesuffix("/weight")] = {
                "a": jnp.asarray(a, jnp.float32),
                "b": jnp.zeros((rows, rank), jnp.float32),
            }
    return made


def _linear(weights: Maps, changes: Maps, name: str, x: Any) -> Any:
    # Two dimensions: with three, the gradient of a thin matrix takes twice as long on a processor.
    shape = x.shape
    x = x.reshape(-1, shape[-1])
    y = x @ weights[f"{name}/weight"].T + (x @ changes[name]["a"].T) @ changes[name]["b"].T
    y = y + weights.get(f"{name}/bias", 0.0)
    return y.reshape(*shape[:-1], -1)


def _norm(weights: Maps, name: str, x: Any) -> Any:
    x = x - x.mean(-1, keepdims=True)
    x = x * jax.lax.rsqrt(jnp.square(x).mean(-1, keepdims=True) + 1e-5)
    return x * weights[f"{name}/gamma"] + weights[f"{name}/beta"]


def _gelu(x: Any) -> Any:
    return jax.nn.gelu(x, approximate=False)


def _heads(x: Any) -> Any:
    size, length, width = x.shape
    return x.reshape(size, length, HEADS, width // HEADS).transpose(0, 2, 1, 3)


def _attend(query: Any, key: Any, value: Any, masked: bool = False) -> Any:
    size, heads, length, width = query.shape
    mask = jnp.tril(jnp.ones((length, length), bool)) if masked else None

    def one(parts: Any) -> Any:
        # One head of one window at a time: what stands in the cache is small.
        q, k, v = parts
        scores = (q * width**-0.5) @ k.T
        if mask is not None:
            scores = jnp.where(mask, scores, -1e9)
        weight = jnp.exp(scores - jax.lax.stop_gradient(scores.max(-1, keepdims=True)))
        return (weight @ v) / weight.sum(-1, keepdims=True)

    flat = tuple(x.reshape(size * heads, x.shape[2], width) for x in (query, key, value))
    out = jax.lax.map(one, flat).reshape(size, heads, length, width)
    return out.transpose(0, 2, 1, 3).reshape(size, length, heads * width)


def _feed(weights: Maps, changes: Maps, name: str, x: Any) -> Any:
    inner = _linear(weights, changes, f"{name}/linear_0", _norm(weights, f"{name}/layer_norm", x))
    return x + _linear(weights, changes, f"{name}/linear_1", _gelu(inner))


def _itself(weights: Maps, changes: Maps, name: str, x: Any, masked: bool) -> Any:
    inner = _linear(weights, changes, f"{name}/linear_0", _norm(weights, f"{name}/layer_norm", x))
    parts = [_heads(part) for part in jnp.split(inner, 3, -1)]
    return x + _linear(weights, changes, f"{name}/linear_1", _attend(*parts, masked=masked))


def _convolve(weights: Maps, name: str, x: Any, stride: int) -> Any:
    y = jax.lax.conv_general_dilated(
        x, weights[f"{name}/weight"], (stride,), [(1, 1)], dimension_numbers=("NCH", "OIH", "NCH")
    )
    return _gelu(y + weights[f"{name}/bias"][None, :, None])


def encode(weights: Maps, changes: Maps, mel: Any) -> Any:
    """What the encoder makes of log-mel frames (windows, 80, frames): (windows, frames / 2, width)."""
    x = _convolve(weights, "encoder/conv2", _convolve(weights, "encoder/conv1", mel, 1), 2)
    x = x.transpose(0, 2, 1)
    x = x + weights["encoder/position_encodings/encodings"][: x.shape[1]]
    for layer in range(LAYERS):
        name = f"encoder/layer_{layer}"
        x = _itself(weights, changes, f"{name}/self_attention", x, masked=False)
        x = _feed(weights, changes, f"{name}/ffn", x)
    return _norm(weights, "encoder/layer_norm", x)


def decode(weights: Maps, changes: Maps, encoded: Any, tokens: Any) -> Any:
    """What the decoder makes of tokens (windows, tokens), before the vocabulary is weighed."""
    x = weights["decoder/embeddings/weight"][tokens]
    x = x + weights["decoder/position_encodings/encodings"][: tokens.shape[1]]
    for layer in range(LAYERS):
        name = f"decoder/layer_{layer}"
        x = _itself(weights, changes, f"{name}/self_attention", x, masked=True)
        across = f"{name}/attention"
        query = _linear(
            weights, changes, f"{across}/linear_0", _norm(weights, f"{across}/layer_norm", x)
        )
        key, value = jnp.split(_linear(weights, changes, f"{across}/linear_1", encoded), 2, -1)
        out = _attend(_heads(query), _heads(key), _heads(value))
        x = x + _linear(weights, changes, f"{across}/linear_2", out)
        x = _feed(weights, changes, f"{name}/ffn", x)
    return _norm(weights, "decoder/layer_norm", x)


def loss(changes: Maps, weights: Maps, mel: Any, given: Any, wanted: Any, asked: Any) -> Any:
    """Mean cross entropy (nats) of the tokens wanted, where they are asked."""
    x = decode(weights, changes, encode(weights, changes, mel), given)
    at = jnp.argsort(-asked, axis=1, stable=True)[:, :ASKED]
    x = jnp.take_along_axis(x, at[..., None], 1)
    wanted, asked = (jnp.take_along_axis(one, at, 1) for one in (wanted, asked))
    vocabulary = weights["decoder/embeddings/weight"]
    whole = jax.nn.logsumexp(x @ vocabulary.T, -1)
    right = (x * vocabulary[wanted]).sum(-1)
    return ((whole - right) * asked).sum() / asked.sum()
