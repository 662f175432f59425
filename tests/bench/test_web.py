"""The workbench under load: fifty uploads at once, a thousand inspections, an hour of transcript.

python -m pytest tests/bench/test_web.py -q -s -o addopts="--import-mode=importlib"
"""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import pairwise
from pathlib import Path

import httpx
import pytest
from tests.bench.test_reading_speed import narration
from tests.web.test_durable import captions
from tests.web.walks import kept
from tests.web.workbench import PAGE, Workbench

BAR = 0.3
"""Seconds that a page may take."""
PARTS = (
    "",
    "/review",
    "/transcript",
    "/transcript?page=6",
    "/walk",
    "/log",
    "/training",
    "/feedback",
    "/record",
)
UPLOADS = int(os.environ.get("UPLOADS", "50"))
"""How many at once; fewer for a quick look."""


@pytest.fixture(scope="module")
def walk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("kept") / "root"
    root.mkdir()
    return kept(root)


@pytest.fixture
def bench_of() -> Iterator[Callable[[Path], Workbench]]:
    """Serves folders; all are stopped in the end."""
    served: list[Workbench] = []

    def serve(root: Path) -> Workbench:
        root.mkdir(exist_ok=True)
        served.append(Workbench(root))
        return served[-1]

    yield serve
    for one in served:
        one.stop()


def timed(bench: Workbench, path: str) -> float:
    began = time.perf_counter()
    answer = bench.client.get(path, headers=PAGE)
    assert answer.status_code == 200
    return time.perf_counter() - began


def say(what: str, times: list[float]) -> None:
    ordered = sorted(times)
    high = ordered[int(0.95 * (len(ordered) - 1))]
    print(
        f"{what}: median {statistics.median(times) * 1000:.0f} ms, 95 % within {high * 1000:.0f} ms, "
        f"worst {ordered[-1] * 1000:.0f} ms, n={len(times)}"
    )


def test_a_thousand_inspections(bench_of, walk: Path, tmp_path: Path):
    root = tmp_path / "root"
    for number in range(1000):
        folder = root / f"r{number:04}"
        folder.mkdir(parents=True)
        for name in ("report.json", "settings.json", "log.jsonl", "transcript.json"):
            os.link(walk / name, folder / name)
    bench = bench_of(root)
    cold = [timed(bench, "/")]
    reading = time.perf_counter()
    bench.until(lambda: (root / ".workbench/list.json").exists(), 120)
    print(f"\nall 1,000 read in {time.perf_counter() - reading:.1f} s")
    warm = [timed(bench, f"/?page={1 + number % 20}") for number in range(40)]
    bench.kill()
    bench.start()
    again = [timed(bench, "/") for _ in range(5)]
    say("first page, nothing read yet", cold)
    say("pages, all read", warm)
    say("first page after a restart", again)
    assert max(cold + warm + again) < BAR


def test_fifty_uploads_at_once(bench_of, tmp_path: Path):
    bench = bench_of(tmp_path / "root")
    names = [bench.new(f"R-{number}") for number in range(UPLOADS)]

    def send(number: int) -> None:
        own = httpx.Client(base_url=bench.base, timeout=120, cookies=bench.client.cookies)
        content = captions(number) + b"\n" * 1_000_000
        headers = {"X-CSRF": bench.csrf}
        address = f"/inspections/{names[number]}"
        sent = own.post(
            f"{address}/files", params={"name": "w.vtt"}, content=content, headers=headers
        )
        assert sent.status_code == 200, sent.text
        assert own.post(f"{address}/check", headers=headers).status_code == 303

    times: list[float] = []
    began = time.perf_counter()
    with ThreadPoolExecutor(UPLOADS) as pool:
        sending = [pool.submit(send, number) for number in range(UPLOADS)]
        while not all(one.done() for one in sending):
            times.append(timed(bench, "/"))
        for one in sending:
            one.result()
    say(
        f"\npages while {UPLOADS} uploads of 1 MB came in ({time.perf_counter() - began:.1f} s)",
        times,
    )
    during: list[float] = []
    while any(bench.status(name)["state"] in ("waiting", "working") for name in names):
        during.append(timed(bench, "/"))
        time.sleep(0.5)
    say(f"pages while they were checked ({time.perf_counter() - began:.0f} s in all)", during)
    for number, name in enumerate(names):
        heard = (bench.root / name / "transcript.vtt").read_text()
        assert f"number {number}" in heard
    assert max(times + during) < BAR


def steady() -> Iterator[tuple[float, float, str]]:
    """A line every four seconds, always of the same thing, with a second unheard after each."""
    for number in range(900):
        yield number * 4, number * 4 + 3, f"Left brake line number {number} is secure, no leaks."


def walk_after_walk() -> Iterator[tuple[float, float, str]]:
    """The thorough walk over and over, without a pause."""
    segments = narration().segments
    for one, following in pairwise(segments):
        yield one.start, following.start, " ".join(word.text for word in one.words)


@pytest.mark.parametrize("hour", [steady, walk_after_walk])
def test_an_hour_of_transcript(bench_of, tmp_path: Path, hour):
    bench = bench_of(tmp_path / "root")
    name = bench.new()

    def clock(seconds: float) -> str:
        return f"{int(seconds // 3600):02}:{int(seconds // 60 % 60):02}:{seconds % 60:06.3f}"

    cues = [f"{clock(start)} --> {clock(end)}\n{words}\n" for start, end, words in hour()]
    captions = ("WEBVTT\n\n" + "\n".join(cues)).encode()
    assert bench.send(name, "hour.vtt", captions).status_code == 200
    assert bench.check(name, 300)["state"] == "done"
    base = f"/inspections/{name}"
    print(f"\n{hour.__name__}")
    slowest = []
    for part in PARTS:
        first = timed(bench, base + part)
        times = [timed(bench, base + part) for _ in range(5)]
        slowest.append(statistics.median(times))
        size = len(bench.client.get(base + part, headers=PAGE).content) / 1e6
        say(
            f"{part or 'overview'} of an hour, {size:.2f} MB, at first {first * 1000:.0f} ms, then",
            times,
        )
    decision = {
        "action": "add_note",
        "subject": "inspection",
        "words": "a trial",
        "by": "A. Engineer",
    }
    began = time.perf_counter()
    assert bench.post(f"{base}/decisions", data=decision).status_code == 200
    print(f"a decision {(time.perf_counter() - began) * 1000:.0f} ms")
    assert max(slowest) < BAR
