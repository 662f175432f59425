"""What was every second of sound? Words, unheard, or no speech, without gap or overlap."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from spokenfor.models import Segment, SoundKind, SoundStretch, UnheardReason, Word

Span = tuple[float, float]
"""Start and end in seconds of the recording."""

BRIDGE = 0.6
"""Seconds between two words that still belong to the words."""

FRINGE = 0.5
"""Seconds of speech without words that soft edges and the model's word times explain."""

EDGE, NO_SPEECH, WORDS = -1, 0, 1
REASONS = list(UnheardReason)


def ledger(
    recording: int,
    duration: float,
    segments: Iterable[Segment],
    speech: Iterable[Span],
    drowned: Iterable[Span] = (),
    clipped: Iterable[Span] = (),
    missing: Iterable[Span] = (),
) -> list[SoundStretch]:
    """Entries that cover a recording of `duration` seconds exactly, on a grid of 10 ms.

    Where several things are true of a moment the later counts: drowned, speech without words, words,
    doubtful words (clipped where the sound is), missing sound.
    """
    segments = list(segments)
    grid = np.full(round(duration * 100), NO_SPEECH, np.int8)
    _paint(grid, drowned, _code(UnheardReason.TOO_NOISY))
    sure = [word for segment in segments if not segment.doubtful for word in segment.words]
    doubted = [word for segment in segments if segment.doubtful for word in segment.words]
    speech = list(speech)
    _paint(grid, speech, EDGE)
    wordless = uncovered(speech, sure + doubted)
    _paint(grid, wordless, _code(UnheardReason.SPEECH_WITHOUT_WORDS))
    _paint(grid, word_spans(sure), WORDS)
    _paint(grid, word_spans(doubted), _code(UnheardReason.DOUBTFUL_WORDS))
    _settle_edges(grid)
    flat = np.zeros(len(grid), np.int8)
    _paint(flat, clipped, 1)
    grid[(flat == 1) & (grid > WORDS)] = _code(UnheardReason.CLIPPED)
    _paint(grid, missing, _code(UnheardReason.MISSING_SOUND))
    return _entries(recording, grid)


def uncovered(speech: Iterable[Span], words: Iterable[Word]) -> list[Span]:
    """The parts of speech that no word explains, in time order.

    That is a stretch with no word at all, and in others what is longer than half a second. A word
    covers no more time than it takes to say: the model stretches words over what it dropped.
    """
    covered = sorted((_said(word) for word in words), key=lambda span: span[0])
    left: list[Span] = []
    for start, end in speech:
        reached = start
        if not any(first < end and last > start for first, last in covered):
            left.append((start, end))
            continue
        for first, last in covered:
            if last <= reached or first >= end:
                continue
            if first - reached > FRINGE:
                left.append((reached, first))
            reached = max(reached, last)
        if end - reached > FRINGE:
            left.append((reached, end))
    return left


def _said(word: Word) -> Span:
    longest = 0.6 + 0.1 * len(word.text)
    return max(word.start, word.end - longest) - 0.1, word.end + 0.1


def word_spans(words: Iterable[Word]) -> list[Span]:
    """Runs of words with the short pauses between them, seconds."""
    runs: list[Span] = []
    for word in sorted(words, key=lambda word: word.start):
        if runs and word.start - runs[-1][1] <= BRIDGE:
            runs[-1] = (runs[-1][0], word.end)
        else:
            runs.append((word.start, max(word.end, word.start + 0.01)))
    return runs


def _code(reason: UnheardReason) -> int:
    return WORDS + 1 + REASONS.index(reason)


def _paint(grid: npt.NDArray[np.int8], spans: Iterable[Span], code: int) -> None:
    for start, end in spans:
        grid[round(start * 100) : round(end * 100)] = code


def _settle_edges(grid: npt.NDArray[np.int8]) -> None:
    """Soft edges of speech go with the words beside them; with the unheard ones where both kinds are."""
    for start, end in _runs(grid):
        if grid[start] == EDGE:
            beside = [
                int(grid[start - 1]) if start else 0,
                int(grid[end]) if end < len(grid) else 0,
            ]
            noisy = _code(UnheardReason.TOO_NOISY)
            grid[start:end] = max((code for code in beside if code != noisy), default=0) or WORDS


def _runs(grid: npt.NDArray[np.int8]) -> list[tuple[int, int]]:
    bounds = [0, *(np.flatnonzero(np.diff(grid)) + 1).tolist(), len(grid)]
    return [(start, end) for start, end in pairwise(bounds) if end > start]


def _entries(recording: int, grid: npt.NDArray[np.int8]) -> list[SoundStretch]:
    entries = []
    for start, end in _runs(grid):
        code = int(grid[start])
        kind = (SoundKind.NO_SPEECH, SoundKind.WORDS)[code] if code <= WORDS else SoundKind.UNHEARD
        reason = REASONS[code - WORDS - 1] if code > WORDS else None
        entries.append(
            SoundStretch(
                recording=recording, start=start / 100, end=end / 100, kind=kind, reason=reason
            )
        )
    return entries
