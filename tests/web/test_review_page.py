"""`spokenfor review DIR`: the list at the terminal, then the page of that one inspection."""

from __future__ import annotations

import os
import pty
import re
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import httpx
import pytest
from playwright.sync_api import Page, expect
from tests.cli.at_terminal import typed
from tests.cli.command import PIPELINE, assert_one_line, spokenfor
from tests.web.walks import kept
from tests.web.workbench import PAGE, Workbench

BY = "A. Engineer"


@pytest.fixture
def one(root: Path) -> Iterator[Workbench]:
    """The page of r07; another inspection lies beside it."""
    kept(root, "r08", asset="R-08")
    bench = Workbench(root, "review", str(root / "r07"), "page")
    yield bench
    bench.stop()
    assert "Traceback" not in bench.errors(), bench.errors()


def test_at_a_terminal_the_list_comes_first_then_the_page(root: Path):
    main, other = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "spokenfor", "review", "r07"],
        cwd=root,
        env=os.environ | {"PYTHONPATH": str(PIPELINE)},
        stdin=other,
        stdout=other,
        stderr=other,
    ) as process:
        os.close(other)
        shown = ""
        while "Stop with Ctrl-C" not in shown:
            shown += os.read(main, 4096).decode()
        process.send_signal(signal.SIGINT)
        assert process.wait(20) == 130
    os.close(main)
    told, address = shown.split("Review of ")
    assert told.startswith("To be decided: ") and "Log: 1 entry" in told
    assert re.search(r"Open http://127\.0\.0\.1:\d+/\?token=[\w-]{40,}", address)


def test_elsewhere_it_is_the_list_alone(root: Path):
    piped, asked = (spokenfor("review", "r07", *more, folder=root) for more in ((), ("list",)))
    assert piped.status == asked.status == 0
    assert piped.stdout == asked.stdout and piped.stdout.startswith("To be decided: ")
    assert not (root / "r07/.workbench").exists()


def test_one_inspection_is_reviewed_sealed_and_verified(visit: Callable[..., Page], one: Workbench):
    page = visit(one)
    expect(page.get_by_role("heading", name="Review")).to_be_visible()
    page.get_by_label("Deciding as").fill(BY)
    page.keyboard.press("Enter")
    page.keyboard.press("a")
    expect(page.locator("#said")).to_contain_text("accept. Entry 2")
    assert page.get_by_role("link", name="This asset").count() == 0
    page.get_by_role("link", name="Seal", exact=True).click()
    page.get_by_label("Your name").fill(BY)
    page.get_by_role("button", name="Seal", exact=True).click()
    expect(page.get_by_text("Sealed bag, read only")).to_be_visible()
    bag = one.root / "r07-sealed"
    assert (bag / "data/report.json").is_file() and not (bag / "data/.workbench").exists()
    page.get_by_role("link", name="Sealed", exact=True).click()
    page.get_by_role("link", name="Verify r07-sealed").click()
    expect(page.locator(".verdict").first).to_have_text("As it was sealed")


def test_nothing_else_is_served(one: Workbench, narration: Path):
    for path in ("inspections/r08", "inspections/r08/review", "new", "search?q=leak", "compare"):
        assert one.client.get(f"/{path}", headers=PAGE).status_code == 404, path
    form = {"asset": "R-9", "pack": "helicopter-light-twin", "by": BY}
    assert one.post("/inspections", data=form).status_code == 404
    assert one.send("r08", "walk.wav", narration.read_bytes()).status_code == 404
    # As in the workbench: no cookie, no page; no CSRF token, no decision.
    assert httpx.get(f"{one.base}/inspections/r07/review").status_code == 403
    decision = {"action": "accept", "subject": "f1", "by": BY}
    assert one.client.post("/inspections/r07/decisions", data=decision).status_code == 403
    # What is added waits inside the inspection.
    assert one.send("r07", "walk.wav", narration.read_bytes()).status_code == 200
    assert list((one.root / "r07/.workbench/drafts/r07/sounds").iterdir())
    assert not (one.root / ".workbench").exists()


def test_a_second_server_of_the_same_is_refused(one: Workbench, bench: Workbench):
    for command in (("review", "r07", "page"), ("serve", ".", "--port", "0")):
        run = spokenfor(*command, folder=one.root)
        assert_one_line(run, "is being served already")
    assert typed(one.root, ["review", "r07"], []) == 0  # the list is there all the same


def test_a_folder_without_an_inspection_is_said(tmp_path: Path):
    run = spokenfor("review", ".", "page", folder=tmp_path)
    assert_one_line(run, "holds no inspection")
