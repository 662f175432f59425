"""Published weights with low-rank changes of their linear maps."""

from __future__ import annotations

import struct

import ctranslate2
import numpy as np
import pytest

from spokenfor.errors import InputError
from spokenfor.hearing.tuning import VERSION, changed, load_changes, places
from spokenfor.hearing.weights import CHANGES, PACKAGED, TUNED, resolve

CHANCE = np.random.default_rng(3)


def _text(text: str) -> bytes:
    return struct.pack("<H", len(text) + 1) + text.encode() + b"\0"


def model(values: dict[str, np.ndarray]) -> bytearray:
    """A binary model as ctranslate2's model_spec.py writes it."""
    kinds = {"float32": 0, "int8": 1, "float16": 4}
    made = struct.pack("<I", VERSION) + _text("WhisperSpec") + struct.pack("<II", 3, len(values))
    for name, value in values.items():
        made += _text(name) + struct.pack("<B", value.ndim)
        made += struct.pack(f"<{value.ndim}I", *value.shape)
        made += struct.pack("<BI", kinds[str(value.dtype)], value.nbytes) + value.tobytes()
    return bytearray(made + struct.pack("<I", 0))


def halves(*shape: int) -> np.ndarray:
    return CHANCE.normal(0, 0.05, shape).astype(np.float16)


def test_a_change_is_added_to_its_map_and_to_nothing_else():
    held = {"a/weight": halves(6, 4), "a/bias": halves(6), "b/weight": halves(4, 4)}
    whole = model({"heads": np.array(8, np.int8), **held})
    rows, columns = halves(6, 2), halves(2, 4)
    changed(whole, {"a": (rows, columns)})
    found = {
        name: np.frombuffer(whole, np.float16, int(np.prod(shape)), at).reshape(shape)
        for name, (at, shape, kind) in places(whole).items()
        if kind == 4
    }
    wanted = held["a/weight"].astype(np.float64) + rows.astype(np.float64) @ columns.astype(
        np.float64
    )
    assert np.array_equal(found["a/weight"], wanted.astype(np.float16))
    assert np.array_equal(found["a/bias"], held["a/bias"])
    assert np.array_equal(found["b/weight"], held["b/weight"])


@pytest.mark.parametrize("spoilt", [b"", b"no model at all", bytes(model({"a": halves(2)}))[:-9]])
def test_what_is_no_model_is_one_line(spoilt):
    with pytest.raises(InputError, match="not a CTranslate2 model"):
        places(spoilt)


@pytest.mark.parametrize("name, rows", [("elsewhere", 6), ("a", 5)])
def test_a_change_that_does_not_fit_is_refused(name, rows):
    with pytest.raises(InputError, match="does not fit"):
        changed(model({"a/weight": halves(6, 4)}), {name: (halves(rows, 2), halves(2, 4))})


@pytest.mark.parametrize("kept", [0, 40, 5000, -40])
def test_a_file_of_changes_that_is_cut_or_no_such_file_is_one_line(tmp_path, kept):
    whole = (CHANGES / "base-encoder.npz").read_bytes()
    cut = tmp_path / "cut.npz"
    cut.write_bytes(whole[:kept])
    for file in (cut, tmp_path / "nowhere.npz"):
        with pytest.raises(InputError, match=f"What {file.name} changes .* cannot be read"):
            load_changes([file])


def test_places_are_those_that_ctranslate2_itself_loads():
    """Against ctranslate2: the whole of a real model is accounted for, and it loads."""
    folder = resolve("tiny.en").folder
    whole = (folder / "model.bin").read_bytes()
    held = places(whole)
    _, shape, _ = held["decoder/embeddings/weight"]
    assert shape == (51864, 384)
    assert held["encoder/position_encodings/encodings"][1] == (1500, 384)
    assert ctranslate2.models.Whisper(str(folder)).n_mels == 80


def test_what_ships_fits_base_and_makes_what_is_recorded(tmp_path, monkeypatch):
    """The same bytes on every machine: the sums are exact."""
    tuned = TUNED["base-trade"]
    changes = load_changes([CHANGES / file for file in tuned.changes])
    assert {name.split("/")[0] for name in changes} == {"encoder", "decoder"}
    assert all((CHANGES / file).stat().st_size < 3_000_000 for file in tuned.changes)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    found = resolve("base-trade")
    assert (found.name, found.sha256) == ("base-trade", tuned.sha256)
    base = (resolve("base").folder / "model.bin").read_bytes()
    mine = (found.folder / "model.bin").read_bytes()
    assert len(base) == len(mine) and base != mine
    (found.folder / "model.bin").write_bytes(mine[:-1])
    with pytest.raises(InputError, match=r"not those of this version.*Delete that folder"):
        resolve("base-trade")
    assert resolve("base").sha256 == PACKAGED["base"].sha256
