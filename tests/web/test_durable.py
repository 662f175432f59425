"""A flat battery at any moment: what was acknowledged is there after a restart, and the work goes on."""

from __future__ import annotations

import io
import json
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import httpx
import pytest
from PIL import Image
from tests.web.workbench import CAPTIONS, PAGE, Workbench

from spokenfor.record.digests import sha256_of_file
from spokenfor.samples import sample_sounds


def captions(number: int) -> bytes:
    return CAPTIONS.replace("secure", f"secure, number {number}").encode()


def test_pieces_survive_a_kill_and_are_joined(bench: Workbench, narration: Path):
    name, sound = bench.new(), narration.read_bytes()
    number = bench.post(f"/inspections/{name}/recordings", data={"kind": "audio/webm"}).json()[
        "number"
    ]
    place = f"/inspections/{name}/recordings/{number}/pieces"
    parts = [sound[at : at + 50_000] for at in range(0, len(sound), 50_000)]
    for piece, part in enumerate(parts[:4], start=1):
        assert bench.put(f"{place}/{piece}", part).json() == {"stored": piece}
    bench.kill()
    bench.start()
    assert (
        "4 pieces, not ended" in bench.client.get(f"/inspections/{name}/record", headers=PAGE).text
    )
    for piece, part in enumerate(parts, start=1):  # the browser sends again what it is not sure of
        assert bench.put(f"{place}/{piece}", part).status_code == 200
    assert bench.put(f"{place}/2", b"another").status_code == 409
    early = bench.post(
        f"/inspections/{name}/recordings/{number}/end", data={"pieces": len(parts) + 1}
    )
    assert early.status_code == 409 and f"Piece {len(parts) + 1}" in early.json()["wrong"]
    for _ in range(2):  # the answer may be lost, so it may be asked twice
        ended = bench.post(
            f"/inspections/{name}/recordings/{number}/end", data={"pieces": len(parts)}
        )
        assert ended.json()["size"] == len(sound)
    stored = bench.root / f".workbench/drafts/{name}/sounds/01/recorded-01.webm"
    assert stored.read_bytes() == sound


def test_an_upload_cut_off_leaves_nothing_and_can_be_sent_again(bench: Workbench, narration: Path):
    name = bench.new()

    def half():
        yield narration.read_bytes()[:100_000]
        bench.kill()
        raise RuntimeError

    with pytest.raises((RuntimeError, httpx.TransportError)):
        bench.send(name, "walk.wav", half())  # type: ignore[arg-type]
    bench.start()
    bench.until(lambda: not list((bench.root / ".workbench/arriving").iterdir()))
    assert not list((bench.root / f".workbench/drafts/{name}/sounds").iterdir())
    for _ in range(2):
        assert bench.send(name, "walk.wav", narration.read_bytes()).json()["number"] == 1
    stored = bench.root / f".workbench/drafts/{name}/sounds/01/walk.wav"
    assert sha256_of_file(stored) == sha256_of_file(narration)


def test_a_check_killed_at_work_goes_on_by_itself(bench: Workbench):
    name = bench.new()
    assert bench.send(name, "walk.vtt", captions(0)).status_code == 200
    assert bench.post(f"/inspections/{name}/check").status_code == 303
    bench.until(lambda: bench.status(name)["state"] == "working")
    time.sleep(0.3)
    bench.kill()
    bench.start()
    assert bench.wait(name)["state"] == "done"
    report = json.loads((bench.root / name / "report.json").read_text())
    assert report["inspection"]["asset"] == "R-07"
    assert [one["status"] for one in report["items"] if one["label"] == "nose cone"] == [
        "satisfactory"
    ]
    assert not (bench.root / f".workbench/drafts/{name}").exists()


def test_a_decision_acknowledged_is_in_the_log_after_a_kill(bench: Workbench):
    decision = {"action": "accept", "subject": "f1", "by": "A. Engineer"}
    answer = bench.post("/inspections/r07/decisions", data=decision)
    bench.kill()
    assert answer.json()["entry"] == 2
    bench.start()
    log = (bench.root / "r07/log.jsonl").read_text().splitlines()
    assert json.loads(log[1])["subject"] == "f1"
    assert "accept by A. Engineer" in bench.client.get("/inspections/r07/review", headers=PAGE).text


def test_many_uploads_at_once_are_all_kept_and_pages_answer(bench: Workbench):
    many = 12
    names = [bench.new(f"R-{number}") for number in range(many)]

    def send(number: int) -> None:
        own = httpx.Client(base_url=bench.base, timeout=60, cookies=bench.client.cookies)
        address = f"/inspections/{names[number]}/files"
        content = captions(number) + b"\n" * 200_000
        sent = own.post(
            address, params={"name": "w.vtt"}, content=content, headers={"X-CSRF": bench.csrf}
        )
        assert sent.status_code == 200, sent.text

    with ThreadPoolExecutor(many) as pool:
        sending = [pool.submit(send, number) for number in range(many)]
        slowest = 0.0
        while not all(one.done() for one in sending):
            began = time.monotonic()
            assert bench.client.get("/", headers=PAGE).status_code == 200
            slowest = max(slowest, time.monotonic() - began)
        for one in sending:
            one.result()
    # Three hundred milliseconds are measured alone (tests/bench); here other programs share the machine.
    assert slowest < 3
    for number, name in enumerate(names):
        kept = (bench.root / f".workbench/drafts/{name}/sounds/01/w.vtt").read_bytes()
        assert kept.startswith(captions(number))
    for name in names[:2]:
        bench.post(f"/inspections/{name}/check")
    for name in names[:2]:
        assert bench.wait(name)["state"] == "done"


def test_a_child_that_takes_too_much_is_stopped_and_said_so(tmp_path: Path, narration: Path):
    import asyncio
    from dataclasses import replace

    from spokenfor.web.limits import Limits
    from spokenfor.web.run_child import run_child

    asked = {"job": "sound", "sounds": [str(narration)], "cache": str(tmp_path)}
    for limits, says in (
        (replace(Limits(), longest=5.0), "more than is taken at once"),
        (replace(Limits(), decoding=0.05), "took too long"),
        (replace(Limits(), memory=24 << 20), ""),
    ):
        with ThreadPoolExecutor(1) as apart:  # the browser's loop runs in this thread
            failure = apart.submit(asyncio.run, run_child(asked, limits)).result().failure
        assert failure is not None and says in failure.wrong
    assert not list(tmp_path.glob("*.json"))


CUT = {
    "cut.ogg": lambda: sample_sounds("skipped-zone")[0].read_bytes()[:300],
    "cut.m4a": lambda: b"\0\0\0\x18ftypM4A \0\0\0\0M4A mp42" + bytes(500),
    "cut.webm": lambda: b"\x1aE\xdf\xa3" + bytes(300),
    "cut.flac": lambda: b"fLaC" + bytes(60),
}


def test_cut_media_is_kept_and_explained(bench: Workbench):
    for file, content in CUT.items():
        name = bench.new()
        assert bench.send(name, file, content()).status_code == 200
        told = bench.check(name)
        assert told["state"] == "failed" and file in told["wrong"] and told["mend"], told
        kept = bench.root / f".workbench/drafts/{name}/sounds/01/{file}"
        assert kept.read_bytes() == content()
        assert not (bench.root / name).exists()


def test_a_picture_that_would_fill_the_memory_is_not_opened(bench: Workbench):
    bomb = io.BytesIO()
    Image.new("1", (30_000, 30_000)).save(bomb, "PNG")
    name = bench.new()
    assert bench.send(name, "bomb.png", bomb.getvalue()).status_code == 200
    assert bench.send(name, "walk.vtt", captions(0)).status_code == 200
    assert bench.check(name)["state"] == "done"
    report = json.loads((bench.root / name / "report.json").read_text())
    assert [one["file"] for one in report["photos"]] == ["bomb.png"]
