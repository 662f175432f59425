"""Windows of speech in noise as the program hears them, and the tokens that should be written for each."""

from __future__ import annotations

import json
import random
from dataclasses import dataclass
from itertools import cycle
from pathlib import Path

import numpy as np
import tokenizers
from audio_samples.noise import add_noise, reverberant, telephone
from audio_samples.script import NoiseSettings
from faster_whisper.feature_extractor import FeatureExtractor
from numpy.typing import NDArray
from scipy.signal import resample_poly
from tests.bench.hearing.tune.speak import TOGETHER

from spokenfor.hearing.decode import RATE
from spokenfor.hearing.noise import quieter
from spokenfor.hearing.primed import TOLD_TOKENS
from spokenfor.hearing.weights import resolve
from spokenfor.packs.load import load_pack, pack_names

SECONDS = 15
"""Of a window: half of what the model takes, for a third of the attention."""

RECORDING = 70.0
LONGEST_TEXT = 110
TOLD_SHARE = 0.35
"""Of the windows are told names first, as primed hearing does."""

SNR = (30, 20, 15, 12, 10, 8, 6, 5, 4, 3, 2, 1, 0, -1, -2)
LEVEL = 0.06
SIZE = 208
"""Tokens of a window: told names, the head, the text."""


@dataclass(frozen=True)
class Window:
    """Log-mel frames (80, 100 * SECONDS), tokens given, tokens wanted after each, and where they are asked."""

    mel: NDArray[np.float32]
    given: list[int]
    wanted: list[int]
    asked: list[float]


class Windows:
    """Makes windows from what was spoken (speak.py); the same seed makes the same."""

    def __init__(self, work: Path, seed: int) -> None:
        self._texts = json.loads((work / "texts.json").read_text())
        self._dry = work / "dry"
        self._chance = random.Random(seed)
        self._groups = [
            first
            for first in range(0, len(self._texts) - TOGETHER, TOGETHER)
            if any((self._dry / f"{n}.npy").exists() for n in range(first, first + TOGETHER))
        ]
        self._frames = FeatureExtractor()
        self._tokens = tokenizers.Tokenizer.from_file(
            str(resolve("base").folder / "tokenizer.json")
        )
        head = ("startoftranscript", "en", "transcribe", "notimestamps")
        self._head = [self._tokens.token_to_id(f"<|{name}|>") for name in head]
        self._before, self.end = (
            self._tokens.token_to_id(f"<|{name}|>") for name in ("startofprev", "endoftext")
        )
        self._names = {
            (pack, zone.zone): list(
                dict.fromkeys(held.components[line.component].prefLabel for line in zone.lines)
            )
            for pack in pack_names()
            for held in [load_pack(pack)]
            for zone in held.sheet
        }

    def _encoded(self, text: str) -> list[int]:
        return list(self._tokens.encode(text, add_special_tokens=False).ids)

    def _pause(self) -> float:
        chance = self._chance
        kinds = [chance.uniform(0.15, 0.5), chance.uniform(0.4, 1.2), chance.uniform(0.8, 2.5)]
        return chance.choice(kinds)

    def _recording(self) -> tuple[NDArray[np.int16], list[tuple[int, int, int]]]:
        """Some minutes' share of one voice after another in one noise: samples, and where which text is."""
        chance = self._chance
        parts = [np.zeros(int(RATE * chance.uniform(0.5, 2)), np.float32)]
        spans: list[tuple[int, int, int]] = []
        at = len(parts[0])
        while at < RECORDING * RATE:
            first = chance.choice(self._groups)
            for number in range(first, first + TOGETHER):
                file = self._dry / f"{number}.npy"
                if not file.exists():
                    continue
                sound = np.load(file).astype(np.float32) / 32768
                silence = np.zeros(int(RATE * self._pause()), np.float32)
                spans.append((at, at + len(sound), number))
                parts += [sound, silence]
                at += len(sound) + len(silence)
        speech = np.concatenate(parts)
        spoken = np.zeros(len(speech), bool)
        for start, end, _ in spans:
            spoken[start:end] = True
        return self._in_noise(speech, spoken), spans

    def _in_noise(
        self, speech: NDArray[np.float32], spoken: NDArray[np.bool_]
    ) -> NDArray[np.int16]:
        chance = self._chance
        high = resample_poly(speech, 3, 2).astype(np.float32)
        where = spoken[np.minimum(np.arange(len(high)) * 2 // 3, len(speech) - 1)]
        kind = chance.random()
        if kind < 0.3:
            high = reverberant(high, chance.uniform(0.4, 1.5), chance.randrange(10**6))[: len(high)]
        elif kind < 0.5:
            high = telephone(high)
        snr = chance.choice(SNR)
        around = "room" if snr >= 20 else chance.choice(["hangar", "apron"] * 2 + ["room"])
        noise = NoiseSettings(kind=around, snr_db=float(snr), seed=chance.randrange(10**6))
        mixed = resample_poly(add_noise(high, where, noise), 2, 3) * chance.uniform(0.4, 1.0)
        return np.clip(mixed * 32767, -32767, 32767).astype(np.int16)

    def of_one_recording(self) -> list[Window]:
        """The windows of one recording, in order."""
        chance = self._chance
        samples, spans = self._recording()
        found, at, most = [], 0, SECONDS * RATE
        while at < len(spans):
            around = int(RATE * chance.uniform(0.05, 0.35))
            enough = chance.uniform(0.55, 1.0) * most
            stretches: list[tuple[int, int]] = []
            texts: list[int] = []
            length = 0
            while at < len(spans) and length <= enough:
                start, end, number = spans[at]
                start, end = max(0, start - around), min(len(samples), end + around)
                start = max(start, stretches[-1][1]) if stretches else start
                if length + end - start > most:
                    break
                stretches.append((start, end))
                texts.append(number)
                length += end - start
                at += 1
            if not stretches:
                at += 1
                continue
            window = self._window(samples, stretches, texts)
            if window is not None:
                found.append(window)
        return found

    def _window(
        self, samples: NDArray[np.int16], stretches: list[tuple[int, int]], texts: list[int]
    ) -> Window | None:
        said = self._encoded(" " + " ".join(self._texts[one]["text"].strip() for one in texts))
        if len(said) > LONGEST_TEXT:
            return None
        first, after = stretches[0][0], stretches[-1][1]
        sound = quieter(samples, first, after)
        laid = np.concatenate([sound[start - first : end - first] for start, end in stretches])
        level = max(1e-4, float(np.sqrt(np.mean(np.square(laid)))))
        laid = np.clip(laid * (LEVEL / level * self._chance.uniform(0.7, 1.5)), -1, 1)
        laid = np.pad(laid.astype(np.float32), (0, SECONDS * RATE - len(laid)))
        told = self._told(texts) if self._chance.random() < TOLD_SHARE else []
        given = [*told, *self._head, *said]
        asked = [0.0] * (len(told) + len(self._head) - 1) + [1.0] * (len(said) + 1)
        mel = self._frames(laid, padding=0)[:, : 100 * SECONDS]
        return Window(mel, given, [*given[1:], self.end], asked)

    def _told(self, texts: list[int]) -> list[int]:
        """Names of the zones that the texts are of, and of two more where those are few."""
        chance = self._chance
        zones = [(self._texts[n]["pack"], self._texts[n]["zone"]) for n in texts]
        zones = [zone for zone in zones if zone in self._names] or [
            chance.choice(list(self._names))
        ]
        names = [name for zone in dict.fromkeys(zones) for name in self._names[zone]]
        if len(names) < 20:
            same_pack = [zone for zone in self._names if zone[0] == zones[0][0]]
            names += [name for zone in chance.sample(same_pack, 2) for name in self._names[zone]]
        if chance.random() < 0.5:
            chance.shuffle(names)
        tokens: list[int] = []
        for name in cycle(names):
            tokens = [*self._encoded(f" {name},"), *tokens]
            if len(tokens) >= TOLD_TOKENS:
                break
        return [self._before, *tokens[-TOLD_TOKENS:]]


def batch(windows: list[Window], end: int) -> tuple[NDArray[np.float32], ...]:
    """Frames (windows, 80, frames), tokens given and wanted (windows, SIZE), and where they are asked."""
    given = np.full((len(windows), SIZE), end, np.int32)
    wanted, asked = given.copy(), np.zeros(given.shape, np.float32)
    for row, one in enumerate(windows):
        given[row, : len(one.given)] = one.given
        wanted[row, : len(one.wanted)] = one.wanted
        asked[row, : len(one.asked)] = one.asked
    return np.stack([one.mel for one in windows]).astype(np.float32), given, wanted, asked
