"""How long do 1,000 inspections take to index, and a question to be answered?"""

from __future__ import annotations

import statistics
import time
from pathlib import Path

import pytest
from tests.record.fleet import generate

from spokenfor.record.search import Answer, find
from spokenfor.record.search_hits import Scope
from spokenfor.record.search_index import index_file
from spokenfor.record.search_repeats import repeats

INSPECTIONS = 1000
INDEX_AT_MOST, ANSWER_AT_MOST = 60.0, 0.050
QUESTIONS = {
    "a rare word": (["serial734"], Scope()),
    "two words": (["brake", "leak"], Scope()),
    "a word of every item": (["satisfactory"], Scope()),
    "an ending": (["hydr*"], Scope()),
    "asset and word": (["R-007", "chafe"], Scope()),
    "one asset": (["leak"], Scope(asset="R-007")),
    "nothing there": (["elephant"], Scope()),
}


def test_search(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    root = tmp_path / "fleet"
    generate(root, INSPECTIONS)
    begin, before = time.perf_counter(), time.process_time()
    assert len(find(root, ["serial1"]).found) == 1
    indexed, busy = time.perf_counter() - begin, time.process_time() - before
    size = index_file(root).stat().st_size
    print(f"\n{INSPECTIONS} inspections of 200 items: indexed in {indexed:.1f} s")
    print(f"  of which this process was busy {busy:.1f} s; the index takes {size >> 20} MiB")
    slowest = 0.0
    for name, (words, scope) in QUESTIONS.items():
        seconds, total = timed(lambda words=words, scope=scope: rows(find(root, words, scope)))
        slowest = max(slowest, seconds)
        print(f"  {name:<22} {seconds * 1000:6.1f} ms, {total} rows or more")
    seconds, number = timed(lambda: len(repeats(root, Scope(asset="R-007"))[0]))
    slowest = max(slowest, seconds)
    print(f"  {'repeats of one asset':<22} {seconds * 1000:6.1f} ms, {number} findings")
    seconds, number = timed(lambda: len(repeats(root)[0]))
    print(f"  {'repeats of all':<22} {seconds * 1000:6.1f} ms, {number} findings, 6,000 times")
    assert indexed < INDEX_AT_MOST
    assert slowest < ANSWER_AT_MOST


def rows(answer: Answer) -> int:
    return answer.left_out + sum(len(hits) for _, hits in answer.found)


def timed(ask) -> tuple[float, int]:  # type: ignore[no-untyped-def]
    """Median of five, with the look whether any folder changed."""
    seconds = []
    for _ in range(5):
        begin = time.perf_counter()
        answer = ask()
        seconds.append(time.perf_counter() - begin)
    return statistics.median(seconds), answer
